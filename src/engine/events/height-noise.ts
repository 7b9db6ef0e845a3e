import type { Motion } from '../track/motion.ts';
import { fastNoise } from '../track/noise.ts';

/** How good the vertical readings of a recording are; worked out once for all of its events. */
export interface VerticalNoise {
  readonly geometric: ColumnNoise;
  readonly pressure?: ColumnNoise;
  /** Fast noise of the recorded vertical speed, m/s. */
  readonly verticalSpeedMps?: number;
}

export interface ColumnNoise {
  readonly whiteM: number;
  readonly wander: Wander;
}

/**
 * The slow wander of a column of heights as a Gauss-Markov process, from the recording's own stretches of slow motion on
 * the ground: the mean square change over ten seconds, less what fast noise makes. Satellite heights wander by metres
 * with a memory of a minute or more (Gauss-Markov rather than white: several studies of static receivers). Too little
 * standing leaves the usual size, which counts as three independent samples.
 */
export interface Wander {
  readonly sigmaM: number;
  readonly timeS: number;
}

const memoryS = 60;
const lagS = 10;
const usualWeight = 3;
/** Taxiing this slowly, the slope of the ground adds little. */
const slowMps = 1.5;
/** Usual sizes (own choice within published ranges): satellite heights, pressure altitudes. */
const usualHeightWanderM = 2.5;
const usualPressureWanderM = 0.4;

export function verticalNoise(motion: Motion): VerticalNoise {
  const moving = (row: number): boolean => motion.groundSpeedMps[row] > 5;
  const noiseOf = (column: Float64Array, resolution: number, otherwise: number): number => {
    const noise = fastNoise(motion.timeS, column, motion.stretches, moving, resolution);
    return Number.isFinite(noise) ? noise : otherwise;
  };
  const white = Number.isFinite(motion.altitudeNoiseM) ? motion.altitudeNoiseM : 1;
  const usual = motion.altitudeKind === 'pressure' ? usualPressureWanderM : usualHeightWanderM;
  const geometric = { whiteM: white, wander: heightWander(motion, motion.altitudeM, white, usual) };
  const answer: { -readonly [key in keyof VerticalNoise]: VerticalNoise[key] } = { geometric };
  if (motion.pressureAltitudeM !== undefined && motion.altitudeKind !== 'pressure') {
    const pressureWhite = noiseOf(motion.pressureAltitudeM, 0, 0.5);
    const wander = heightWander(motion, motion.pressureAltitudeM, pressureWhite, usualPressureWanderM);
    answer.pressure = { whiteM: pressureWhite, wander };
  }
  if (motion.recordedVerticalSpeedMps !== undefined) {
    answer.verticalSpeedMps = noiseOf(motion.recordedVerticalSpeedMps, 0, 0.3);
  }
  return answer;
}

function heightWander(motion: Motion, heightsM: Float64Array, whiteM: number, usualM: number): Wander {
  let sum = 0;
  let samples = 0;
  let last = Number.NEGATIVE_INFINITY;
  const { timeS, groundSpeedMps } = motion;
  for (const stretch of motion.stretches) {
    let later = stretch.from;
    let fastUntil = stretch.from - 1;
    for (let row = stretch.from; row < stretch.to; row += 1) {
      // `fastUntil` is the last row seen that was too fast: pairs may not reach over one.
      if (later < row) later = row;
      while (later < stretch.to && timeS[later] - timeS[row] < lagS) {
        if (!(groundSpeedMps[later] < slowMps)) fastUntil = later;
        later += 1;
      }
      if (later >= stretch.to) break;
      if (row <= fastUntil || !Number.isFinite(heightsM[row]) || !Number.isFinite(heightsM[later])) continue;
      // One pair a second is enough of them; every ten seconds make one independent sample.
      if (timeS[row] - last < 1) continue;
      last = timeS[row];
      sum += (heightsM[later] - heightsM[row]) ** 2;
      samples += 1;
    }
  }
  const gain = 2 * (1 - Math.exp(-lagS / memoryS));
  const independent = samples / lagS;
  const measured = samples > 0 ? Math.max(0, sum / samples - 2 * whiteM * whiteM) / gain : 0;
  const variance = (independent * measured + usualWeight * usualM * usualM) / (independent + usualWeight);
  return { sigmaM: Math.sqrt(variance), timeS: memoryS };
}
