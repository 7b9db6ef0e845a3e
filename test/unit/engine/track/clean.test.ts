import { deepEqual, equal, ok } from 'node:assert/strict';
import { cleanTrack } from '../../../../src/engine/track/clean.ts';
import { trackOf } from './track-of.ts';

const flown = (length: number): { t: number; east: number; up: number; speed: number }[] =>
  Array.from({ length }, (_, t) => ({ t, east: 40 * t, up: 300 + 2 * t, speed: 40 }));

const rejectedRows = (values: Float64Array): number[] => [...values.keys()].filter((row) => Number.isNaN(values[row]));

describe('cleanTrack', () => {
  it('leaves a clean track alone', () => {
    const track = trackOf(flown(60));
    const cleaned = cleanTrack(track);
    deepEqual(cleaned.problems, []);
    deepEqual(cleaned.track.latDeg, track.latDeg);
    deepEqual(cleaned.track.altitudes[0].valuesM, track.altitudes[0].valuesM);
  });

  it('rejects spikes of position, altitude and speed, and counts them', () => {
    const rows = flown(60);
    rows[20].east += 3000;
    rows[30].east -= 90;
    rows[31].east -= 2500;
    rows[40].up = 0;
    rows[45].up += 150;
    rows[50].speed = 95;
    const cleaned = cleanTrack(trackOf(rows));
    deepEqual(rejectedRows(cleaned.track.latDeg), [20, 30, 31]);
    deepEqual(rejectedRows(cleaned.track.altitudes[0].valuesM), [40, 45]);
    deepEqual(rejectedRows(cleaned.track.groundSpeedMps as Float64Array), [50]);
    const counts = Object.fromEntries(cleaned.problems.map((problem) => [problem.code, problem.count]));
    deepEqual(counts, { 'position-spike': 3, 'speed-spike': 1, 'altitude-dropout': 1, 'altitude-spike': 1 });
  });

  it('does not touch the original columns', () => {
    const rows = flown(30);
    rows[10].east += 3000;
    const track = trackOf(rows);
    cleanTrack(track);
    ok(Number.isFinite(track.latDeg[10]));
  });

  it('does not take a hard but flyable manoeuvre for a spike: a 60 degree bank is 17 m/s2 across the track', () => {
    const speed = 45;
    const radius = (speed * speed) / 14;
    const rows = Array.from({ length: 80 }, (_, t) => {
      const angle = (speed * t) / radius;
      return { t, east: radius * Math.sin(angle), north: radius * (1 - Math.cos(angle)), up: 500, speed };
    });
    deepEqual(cleanTrack(trackOf(rows)).problems, []);
  });

  it('keeps both sides of a lasting jump and breaks the track there', () => {
    const rows = flown(120).map((row) => (row.t < 60 ? row : { ...row, east: row.east + 50_000 }));
    const cleaned = cleanTrack(trackOf(rows));
    deepEqual(rejectedRows(cleaned.track.latDeg), []);
    deepEqual(cleaned.track.breaks, [60]);
    equal(cleaned.problems[0].code, 'position-jump');
  });

  it('drops rows that repeat a fix while moving, and keeps a receiver that holds still at a standstill', () => {
    const moving = flown(40).map((row) => (row.t % 2 === 1 ? { ...flown(40)[row.t - 1], t: row.t } : row));
    const cleaned = cleanTrack(trackOf(moving));
    equal(rejectedRows(cleaned.track.latDeg).length, 20);
    equal(cleaned.problems[0].code, 'fix-repeated');
    const standing = Array.from({ length: 40 }, (_, t) => ({ t, east: 0, up: 300, speed: 0 }));
    deepEqual(cleanTrack(trackOf(standing)).problems, []);
    const frozenThenRolling = Array.from({ length: 40 }, (_, t) => ({ t, east: t < 20 ? 0 : (t - 20) ** 2, up: 300 }));
    deepEqual(cleanTrack(trackOf(frozenThenRolling)).problems, []);
  });

  it('drops 0, 0 and fixes that the receiver itself rates useless', () => {
    const rows = flown(30);
    const track = trackOf(rows, { horizontalSigmaM: Float64Array.from(rows, (row) => (row.t < 3 ? 160 : 2)) });
    track.latDeg[12] = 0;
    track.lonDeg[12] = 0;
    const cleaned = cleanTrack(track);
    deepEqual(rejectedRows(cleaned.track.latDeg), [0, 1, 2, 12]);
    deepEqual(
      cleaned.problems.map((problem) => [problem.code, problem.count]),
      [
        ['position-impossible', 1],
        ['position-poor', 3],
      ],
    );
  });
});
