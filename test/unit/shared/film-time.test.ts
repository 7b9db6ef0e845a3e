import assert from 'node:assert/strict';
import {
  filmClockSigmaS,
  filmMoment,
  intoFilm,
  meantFilm,
  parseFilmMoment,
  parseFilmTime,
  pictureAfterS,
  pictureBeforeS,
} from '../../../shared/film-time.ts';
import { formatFilmSpan, formatFilmTime } from '../../../shared/format.ts';
import { near } from '../../tools/near.ts';

const films = [{ startS: 1_700_000_000 }];

describe('time into a film', () => {
  it('counts from the first picture, and is none before it or without a film', () => {
    assert.equal(intoFilm(films, 1_700_000_042.5)?.intoS, 42.5);
    assert.equal(intoFilm(films, 1_699_999_999), undefined);
    assert.equal(intoFilm(undefined, 1_700_000_042.5), undefined);
    assert.equal(intoFilm([], 1_700_000_042.5), undefined);
  });

  it('is that into the last file that has begun', () => {
    const parts = [
      { startS: 1000, name: 'b.mp4' },
      { startS: 500, name: 'a.mp4' },
    ];
    assert.deepEqual(intoFilm(parts, 999), { part: parts[1], intoS: 499 });
    assert.equal(filmMoment(parts, { timeS: 1001, sigmaS: 0.1, origin: 'found' })?.name, 'b.mp4');
  });

  it('spans the interval of the event and how late positions are', () => {
    const moment = filmMoment(films, { timeS: 1_700_000_100, sigmaS: 0.5, origin: 'found' });
    assert.ok(moment);
    near(moment.atS, 100, 1e-9);
    near(moment.fromS, 100 - 0.98 - 0.75, 1e-9);
    near(moment.toS, 100 + 0.98 + 0.05, 1e-9);
    const early = filmMoment(films, { timeS: 1_700_000_000.5, sigmaS: 0.5, origin: 'found' });
    assert.equal(early?.fromS, 0, 'nothing lies before the first picture');
    const given = filmMoment(films, { timeS: 1_700_000_100, sigmaS: 0.5, origin: 'pilot' });
    near(given?.fromS ?? 0, 100 - 0.98, 1e-9);
  });

  it('is as uncertain as an error that is anywhere between the limits', () => {
    let sum = 0;
    const steps = 100_000;
    for (let i = 0; i < steps; i++) {
      sum += (-pictureAfterS + ((i + 0.5) / steps) * (pictureBeforeS + pictureAfterS)) ** 2;
    }
    near(filmClockSigmaS, Math.sqrt(sum / steps), 1e-6);
  });

  it('is read as a player shows it', () => {
    assert.equal(parseFilmTime('film 3:05.2'), 185.2);
    assert.equal(parseFilmTime(' 3:05.2 '), 185.2);
    assert.equal(parseFilmTime('Video 1:03:05'), 3785);
    assert.equal(parseFilmTime('75:00'), 4500);
    for (const bad of ['', '185.2', '3:65', '1:75:00', '3:5', '-1:00', '3:05,2', '2024-04-13T10:42:13Z', 'film']) {
      assert.equal(parseFilmTime(bad), undefined, bad);
    }
  });

  it('is written as a player shows it, and read back', () => {
    assert.equal(formatFilmTime(185.2), '3:05.2');
    assert.equal(formatFilmTime(59.96), '1:00.0');
    assert.equal(formatFilmTime(3599.97), '1:00:00.0');
    assert.equal(formatFilmTime(3785.25, 2), '1:03:05.25');
    assert.equal(formatFilmTime(7, 0), '0:07');
    assert.equal(formatFilmTime(Number.NaN), '-');
    for (const intoS of [0, 0.04, 9.99, 60, 599.95, 3599.99, 3600, 12_345.67]) {
      near(parseFilmTime(formatFilmTime(intoS, 2)) ?? Number.NaN, intoS, 0.005001);
    }
  });

  it('rounds a span outwards', () => {
    assert.equal(formatFilmSpan({ fromS: 184.66, toS: 185.91 }), '3:04.6 to 3:06.0');
    assert.equal(formatFilmSpan({ fromS: 184.6, toS: 186 }), '3:04.6 to 3:06.0');
  });

  it('is none behind the end of a film, and in a film of another recorder as uncertain as its clock', () => {
    const ended = [{ startS: 1000, endS: 1600, name: 'a.mp4' }];
    assert.equal(intoFilm(ended, 1601)?.intoS, 601);
    assert.equal(intoFilm(ended, 1610), undefined);
    const other = filmMoment([{ startS: 1000, startSigmaS: 0.4 }], { timeS: 1100, sigmaS: 0.3, origin: 'pilot' });
    near((other?.toS ?? 0) - 100, 1.96 * 0.5, 1e-9);
  });

  it('may name its file, which may have blanks and any quotes', () => {
    assert.deepEqual(parseFilmMoment('film part2.mp4 0:41.3'), { intoS: 41.3, name: 'part2.mp4' });
    assert.deepEqual(parseFilmMoment('video  "my film 2.mp4" 1:03:05'), { intoS: 3785, name: 'my film 2.mp4' });
    assert.deepEqual(parseFilmMoment('film 3:05.2'), { intoS: 185.2 });
    for (const text of ['film', 'film part2.mp4', 'film part2.mp4 41.3', 'part2.mp4 0:41.3', 'film 0:61'])
      assert.equal(parseFilmMoment(text), undefined, text);
  });

  it('means the file that it names, by its path or its name, and asks for it where there are several', () => {
    const parts = [
      { startS: 0, name: 'films/a.mp4' },
      { startS: 600, name: 'films/b.mp4' },
      { startS: 1200, name: 'more/b.mp4' },
    ];
    const meant = (name: string) => meantFilm(parts, { intoS: 1, name });
    const fault = (found: ReturnType<typeof meantFilm>): string => (typeof found === 'string' ? found : 'none');
    assert.equal(meant('A.MP4'), parts[0]);
    assert.equal(meant('more\\b.mp4'), parts[2]);
    assert.equal(meant('../elsewhere/a.mp4'), parts[0]);
    assert.match(fault(meant('b.mp4')), /several of the films/);
    assert.match(fault(meant('c.mp4')), /No film of this flight is named "c\.mp4"/);
    assert.match(fault(meantFilm(parts, { intoS: 1 })), /in 3 files: name the one/);
    assert.equal(meantFilm(films, { intoS: 1 }), films[0]);
    assert.match(fault(meantFilm(undefined, { intoS: 1 })), /the recording is none/);
  });
});
