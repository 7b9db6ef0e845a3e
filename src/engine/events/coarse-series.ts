import type { Motion } from '../track/motion.ts';
import { recorderLags } from './recorder-lags.ts';

/**
 * The motion thinned to at most one row a second (means over whole seconds; rows of slower recorders stay as they are):
 * enough to tell phases and to find where an event must lie, and fast for 18 Hz recordings. `NaN` where nothing is known.
 */
export interface CoarseSeries {
  readonly timeS: Float64Array;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly altitudeM: Float64Array;
  readonly speedMps: Float64Array;
  readonly verticalSpeedMps: Float64Array;
  readonly accelerationMps2: Float64Array;
  readonly turnRateRadps: Float64Array;
  /** Which stretch of the motion each row lies in: a change is a gap. */
  readonly stretch: Int32Array;
  /** How late the speeds of the recording are, seconds: to be taken off instants read from these rows. */
  readonly speedLagS: number;
}

export function coarseSeries(motion: Motion): CoarseSeries {
  const columns = [
    motion.timeS,
    motion.eastM,
    motion.northM,
    motion.altitudeM,
    motion.groundSpeedMps,
    motion.verticalSpeedMps,
    motion.accelerationMps2,
    motion.turnRateRadps,
  ];
  const rows: number[][] = columns.map(() => []);
  const stretches: number[] = [];
  const sums = new Float64Array(columns.length);
  const counts = new Int32Array(columns.length);
  for (const [index, stretch] of motion.stretches.entries()) {
    let second = Number.NaN;
    const finish = (): void => {
      if (counts[0] === 0) return;
      for (let column = 0; column < columns.length; column += 1) {
        rows[column].push(counts[column] > 0 ? sums[column] / counts[column] : Number.NaN);
      }
      stretches.push(index);
      sums.fill(0);
      counts.fill(0);
    };
    for (let row = stretch.from; row < stretch.to; row += 1) {
      if (Number.isNaN(motion.eastM[row])) continue;
      const now = Math.floor(motion.timeS[row]);
      if (now !== second) finish();
      second = now;
      for (let column = 0; column < columns.length; column += 1) {
        const value = columns[column][row];
        if (Number.isFinite(value)) {
          sums[column] += value;
          counts[column] += 1;
        }
      }
    }
    finish();
  }
  return {
    timeS: Float64Array.from(rows[0]),
    eastM: Float64Array.from(rows[1]),
    northM: Float64Array.from(rows[2]),
    altitudeM: Float64Array.from(rows[3]),
    speedMps: Float64Array.from(rows[4]),
    verticalSpeedMps: Float64Array.from(rows[5]),
    accelerationMps2: Float64Array.from(rows[6]),
    turnRateRadps: Float64Array.from(rows[7]),
    stretch: Int32Array.from(stretches),
    speedLagS: recorderLags(motion).speedS,
  };
}
