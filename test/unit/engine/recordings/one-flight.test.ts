import assert from 'node:assert/strict';
import {
  asOneFlight,
  likelyFlights,
  outlineOf,
  type RecordingOutline,
  wrongClocks,
} from '../../../../src/engine/recordings/index.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { trackOf } from '../track/track-of.ts';

/** A circle of 3 km radius at 40 m/s from a second on, begun at a phase, as another aeroplane would fly it. */
function circling(from: number, to: number, phase = 0, rateS = 1): Track {
  const count = Math.floor((to - from) / rateS);
  return trackOf(
    Array.from({ length: count }, (_, k) => {
      const t = from + k * rateS;
      // The pace swells, so that one lap is not like another.
      const angle = phase + (40 * t + 300 * Math.sin(t / 97) + 400 * Math.sin(t / 59)) / 3000;
      const speed = 40 + (300 / 97) * Math.cos(t / 97) + (400 / 59) * Math.cos(t / 59);
      return { t, east: 3000 * Math.cos(angle), north: 3000 * Math.sin(angle), up: 300, speed };
    }),
  );
}

function outline(file: string, track: Track, format = 'gpx'): RecordingOutline {
  const found = outlineOf(file, track, format);
  assert.ok(found);
  return found;
}

describe('recordings that plainly are of one flight', () => {
  const film = [circling(0, 600), circling(600, 1200), circling(1202, 1800)];
  const parts = film.map((track, index) => outline(`film${index + 1}.mp4`, track, 'gpmf'));

  it('are parts that follow each other at once, and recorders at the same places', () => {
    const log = outline('log.csv', circling(-300, 2000), 'csv');
    assert.deepEqual(likelyFlights([parts[2], log, parts[0], parts[1]]), [
      {
        file: 'log.csv',
        continuedIn: [],
        alsoRecordedBy: [{ file: 'film1.mp4', continuedIn: ['film2.mp4', 'film3.mp4'] }],
      },
    ]);
  });

  it('have the faster recorder first where two cover the same', () => {
    const fast = outline('fast.csv', circling(0, 1810, 0, 0.2), 'csv');
    assert.equal(likelyFlights([...parts, fast])[0].file, 'fast.csv');
  });

  it('are not those of another aeroplane at the same time, of the same field later, or of another format', () => {
    const other = outline('other.gpx', circling(0, 1800, 1.2));
    const later = outline('later.mp4', circling(1900, 2500), 'gpmf');
    const stranger = outline('stranger.gpx', circling(600, 1200), 'gpx');
    assert.deepEqual(likelyFlights([parts[0], other]), []);
    assert.deepEqual(likelyFlights([parts[2], later]), []);
    assert.deepEqual(likelyFlights([parts[0], stranger]), []);
  });

  it('prove nothing when both only stand at one field', () => {
    const standing = trackOf(Array.from({ length: 600 }, (_, t) => ({ t, east: 0, north: 0, up: 0, speed: 0 })));
    assert.deepEqual(likelyFlights([outline('a.gpx', standing), outline('b.csv', standing, 'csv')]), []);
  });

  it('are told when one of them keeps local time, once a flight', () => {
    const track = circling(0, 1800);
    const local = outline('local.csv', { ...track, timeS: track.timeS.map((timeS) => timeS + 5.5 * 3600) }, 'csv');
    assert.deepEqual(wrongClocks([...parts, local]), [{ file: 'film1.mp4', other: 'local.csv', offsetS: -5.5 * 3600 }]);
    assert.deepEqual(wrongClocks([...parts, outline('other.csv', circling(3600, 5400, 1), 'csv')]), []);
  });
});

describe('files that a person says are of one flight', () => {
  it('are sorted into recorders, a copy by another clock apart from the parts', () => {
    const track = circling(0, 900);
    const { first, others } = asOneFlight([
      { file: 'b.gpx', format: 'gpx', track: circling(900, 1800) },
      { file: 'a.gpx', format: 'gpx', track },
      { file: 'copy.gpx', format: 'gpx', track: { ...track, timeS: track.timeS.map((timeS) => timeS + 3600) } },
      { file: 'log.csv', format: 'csv', track: circling(0, 1800) },
      { file: 'none.csv', why: 'It cannot be opened.' },
    ]);
    assert.deepEqual([first.named.file, ...first.continued.map(({ file }) => file)], ['b.gpx', 'a.gpx']);
    assert.deepEqual(
      others.map(({ named }) => named.file),
      ['copy.gpx', 'log.csv', 'none.csv'],
    );
  });
});
