import { equal, ok } from 'node:assert/strict';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { Random } from '../../../synth/random.ts';
import { trackOf } from './track-of.ts';

interface Faults {
  readonly rateHz: number;
  readonly speedLagS?: number;
  readonly speedNoise?: number;
  readonly positionNoise?: number;
  readonly altitudeNoise?: number;
}

const speedAt = (t: number): number => 30 + 12 * Math.sin(t / 9);
const eastAt = (t: number): number => 30 * t - 12 * 9 * Math.cos(t / 9);

/** Speeding up and slowing down over ten minutes, climbing at 3 m/s. */
function manoeuvring(faults: Faults): { t: number; east: number; north: number; up: number; speed: number }[] {
  const random = new Random(JSON.stringify(faults));
  const rows = [];
  for (let index = 0; index < 600 * faults.rateHz; index += 1) {
    const t = index / faults.rateHz;
    rows.push({
      t,
      east: eastAt(t) + random.normal(0, faults.positionNoise ?? 0),
      north: random.normal(0, faults.positionNoise ?? 0),
      up: 200 + 3 * t + random.normal(0, faults.altitudeNoise ?? 0),
      speed: speedAt(t - (faults.speedLagS ?? 0)) + random.normal(0, faults.speedNoise ?? 0),
    });
  }
  return rows;
}

describe('deriveMotion', () => {
  it('estimates the noise of speed, altitude and position from the recording itself', () => {
    for (const rateHz of [1, 5, 18]) {
      const { motion } = deriveMotion(
        trackOf(manoeuvring({ rateHz, speedNoise: 0.2, positionNoise: 0.5, altitudeNoise: 0.8 })),
      );
      ok(Math.abs(motion.speedNoiseMps / 0.2 - 1) < 0.25, `speed ${motion.speedNoiseMps} at ${rateHz} Hz`);
      ok(Math.abs(motion.altitudeNoiseM / 0.8 - 1) < 0.25, `altitude ${motion.altitudeNoiseM} at ${rateHz} Hz`);
      ok(
        Math.abs((motion.positionNoiseM as number) / 0.5 - 1) < 0.25,
        `position ${motion.positionNoiseM} at ${rateHz} Hz`,
      );
    }
  });

  it('never puts the noise under the rounding of the recorder (step / sqrt 12)', () => {
    const rows = manoeuvring({ rateHz: 1 }).map((row) => ({ ...row, up: Math.round(row.up) }));
    const { motion } = deriveMotion(
      trackOf(rows, {
        altitudes: [{ kind: 'msl', resolutionM: 1, valuesM: Float64Array.from(rows, (row) => row.up) }],
      }),
    );
    ok(motion.altitudeNoiseM >= 0.288 && motion.altitudeNoiseM < 0.5, `${motion.altitudeNoiseM}`);
  });

  it('measures how late the recorded speed is, with an honest sigma', () => {
    for (const [rateHz, lag] of [
      [1, 0.4],
      [5, 0.1],
      [5, 0.5],
      [18, 0.25],
      [1, 0],
    ]) {
      const { motion } = deriveMotion(
        trackOf(manoeuvring({ rateHz, speedLagS: lag, speedNoise: 0.1, positionNoise: 0.2 })),
      );
      equal(motion.speedSource, 'receiver');
      const found = motion.speedLagS as { value: number; sigma: number };
      ok(
        Math.abs(found.value - lag) < 4 * found.sigma + 0.01,
        `lag ${found.value} ± ${found.sigma} for ${lag} at ${rateHz} Hz`,
      );
      ok(found.sigma < 0.08);
    }
  });

  it('does not believe a speed in the wrong unit', () => {
    const rows = manoeuvring({ rateHz: 1, positionNoise: 0.2 });
    const { motion, problems } = deriveMotion(trackOf(rows.map((row) => ({ ...row, speed: row.speed * 1.944 }))));
    equal(motion.speedSource, 'differenced');
    equal(problems[0].code, 'speed-disagrees-with-positions');
    const error = rows.map((row, index) => motion.groundSpeedMps[index] - row.speed).slice(5, -5);
    const rms = Math.sqrt(error.reduce((sum, e) => sum + e * e, 0) / error.length);
    ok(rms < 0.2, `differenced speed is off by ${rms}`);
  });

  it('differences positions written to 1/1000 minute at 1 Hz into a usable speed', () => {
    const step = 1.852;
    const rows = manoeuvring({ rateHz: 1, positionNoise: 0.2 }).map((row) => ({
      ...row,
      east: Math.round(row.east / step) * step,
      north: Math.round(row.north / step) * step,
    }));
    const { motion } = deriveMotion(
      trackOf(
        rows.map(({ t, east, north, up }) => ({ t, east, north, up })),
        { positionResolutionM: step },
      ),
    );
    const error = rows.map((row, index) => motion.groundSpeedMps[index] - (30 + 12 * Math.sin(row.t / 9))).slice(5, -5);
    const rms = Math.sqrt(error.reduce((sum, e) => sum + e * e, 0) / error.length);
    // Plain differences would have 1.852 / sqrt 12 * sqrt 2 = 0.76 m/s.
    ok(rms < 0.35, `${rms}`);
    ok((motion.positionNoiseM as number) >= step / Math.sqrt(12) - 1e-9);
  });

  it('gives vertical speed, acceleration, direction and turn rate', () => {
    const omega = 0.1;
    const rows = Array.from({ length: 240 }, (_, t) => ({
      t,
      east: 400 * (1 - Math.cos(omega * t)),
      north: 400 * Math.sin(omega * t),
      up: 100 - 4 * t,
      speed: 40,
    }));
    const { motion } = deriveMotion(trackOf(rows));
    for (const row of [20, 100, 200]) {
      ok(Math.abs(motion.verticalSpeedMps[row] + 4) < 1e-3);
      ok(Math.abs(motion.turnRateRadps[row] - omega) < 1e-3);
      ok(Math.abs(motion.accelerationMps2[row]) < 1e-6);
      const expected = (omega * row) % (2 * Math.PI);
      ok(Math.abs(motion.trackRad[row] - expected) < 0.01, `${motion.trackRad[row]} for ${expected}`);
    }
  });

  it('answers for a track without fixes, or without altitude, in words', () => {
    const { motion, problems } = deriveMotion(trackOf([{ t: 0, east: Number.NaN }]));
    equal(motion.stretches.length, 0);
    ok(problems.some((problem) => problem.code === 'altitude-missing'));
  });

  it('needs under two seconds for 130,000 rows at 18 Hz', () => {
    const rows = Array.from({ length: 130_000 }, (_, index) => ({
      t: index / 18,
      east: 40 * (index / 18),
      up: 500 + 100 * Math.sin(index / 2000),
      speed: 40 + Math.sin(index / 500),
    }));
    const track = trackOf(rows);
    const start = performance.now();
    deriveMotion(track);
    const took = (performance.now() - start) / 1000;
    ok(took < 2, `${took.toFixed(2)} s`);
  });
});
