import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';

/**
 * How much later the receiver's speed shows what the camera's accelerometer felt at once. Changes of the speed over a
 * second against the mean forward force of a second so much earlier, on the ground below the speeds at which noses and tails
 * are raised: the delay at which they go together best, with the probability of the others as its sigma. (An
 * accelerometer has no delay to speak of; a receiver filters, and its fixes reach the film late.)
 */
export interface ForceLag {
  readonly value: number;
  readonly sigma: number;
}

/** Mean of a column between two instants, by its running integral. */
export class RunningIntegral {
  private readonly times: Float64Array;
  private readonly sums: Float64Array;

  constructor(timeS: Float64Array, column: Float64Array, fromRow = 0, toRow = timeS.length) {
    const rows: number[] = [];
    for (let row = fromRow; row < toRow; row += 1) if (Number.isFinite(column[row])) rows.push(row);
    this.times = Float64Array.from(rows, (row) => timeS[row]);
    this.sums = new Float64Array(rows.length);
    for (let index = 1; index < rows.length; index += 1) {
      const step = this.times[index] - this.times[index - 1];
      const middle = 0.5 * (column[rows[index]] + column[rows[index - 1]]);
      this.sums[index] = this.sums[index - 1] + (step > longestStepS ? Number.NaN : step * middle);
    }
  }

  /** `NaN` outside the recording. After a gap all is `NaN`: a column is meant to be cut at its gaps. */
  mean(fromS: number, toS: number): number {
    return (this.at(toS) - this.at(fromS)) / (toS - fromS);
  }

  private at(timeS: number): number {
    const { times, sums } = this;
    const last = times.length - 1;
    if (last < 1 || timeS < times[0] || timeS > times[last]) return Number.NaN;
    const high = Math.max(1, Math.min(last, firstRowAt(times, timeS)));
    const part = (timeS - times[high - 1]) / (times[high] - times[high - 1]);
    return sums[high - 1] + part * (sums[high] - sums[high - 1]);
  }
}

const longestStepS = 0.5;
/** An accelerometer is asked with receivers of this rate and more: its channels have the rows of the receiver. */
const leastRateHz = 4;
const fastestMps = 9;
const spanS = 1;
const fewestSeconds = 10;
const leastS = -0.4;
const mostS = 1.8;
const stepS = 0.05;
/** A filter delays slow and fast changes unequally (0.03 to 0.06 s on simulated filters of 0.35 and 0.4 s): never better than this. */
const leastSigmaS = 0.06;
/** With less certainty than this it is not worth having. */
const mostSigmaS = 0.2;

/**
 * Of the delay so much is taken to be a first-order filter of the receiver's, as everywhere in these finders; the rest shifts.
 */
const filterS = 0.4;

function filtered(timeS: Float64Array, column: Float64Array, from: number, to: number): Float64Array {
  const result = new Float64Array(column.length).fill(Number.NaN);
  let state = Number.NaN;
  let last = from;
  for (let row = from; row < to; row += 1) {
    if (!Number.isFinite(column[row])) continue;
    const keep = Number.isNaN(state) ? 0 : Math.exp(-(timeS[row] - timeS[last]) / filterS);
    // Between rows the force goes straight from one to the other.
    const middle = Number.isNaN(state) ? column[row] : 0.5 * (column[row] + column[last]);
    state = keep === 0 ? middle : keep * state + (1 - keep) * middle;
    result[row] = state;
    last = row;
  }
  return result;
}

export function forceLag(motion: Motion): ForceLag | undefined {
  const { force, timeS, groundSpeedMps } = motion;
  if (force === undefined || motion.speedSource !== 'receiver' || motion.rateHz < leastRateHz) return undefined;
  const samples: { fromS: number; toS: number; change: number; integral: RunningIntegral }[] = [];
  for (const { from, to } of motion.stretches) {
    const integral = new RunningIntegral(timeS, filtered(timeS, force.forwardMps2, from, to), from, to);
    let later = from;
    let last = Number.NEGATIVE_INFINITY;
    for (let row = from; row < to; row += 1) {
      while (later < to && timeS[later] - timeS[row] < spanS - 1e-6) later += 1;
      if (later >= to) break;
      // Twice a second is enough: neighbours repeat each other.
      if (timeS[row] - last < 0.5) continue;
      if (!(groundSpeedMps[row] < fastestMps && groundSpeedMps[later] < fastestMps)) continue;
      last = timeS[row];
      const change = (groundSpeedMps[later] - groundSpeedMps[row]) / (timeS[later] - timeS[row]);
      samples.push({ fromS: timeS[row], toS: timeS[later], change, integral });
    }
  }
  const found: { lagS: number; square: number; count: number }[] = [];
  for (let lagS = leastS; lagS < mostS + 1e-9; lagS += stepS) {
    let [xx, xy, yy, count] = [0, 0, 0, 0];
    for (const { fromS, toS, change, integral } of samples) {
      const x = integral.mean(fromS - lagS + filterS, toS - lagS + filterS);
      if (!Number.isFinite(x)) continue;
      count += 1;
      xx += x * x;
      xy += x * change;
      yy += change * change;
    }
    if (count < 2 * fewestSeconds || !(xy > 0)) continue;
    // The size is known to be one within some per cent.
    const scale = Math.max(0.85, Math.min(1.15, xy / xx));
    found.push({ lagS, square: (yy - 2 * scale * xy + scale * scale * xx) / count, count });
  }
  if (found.length < 5) return undefined;
  const least = Math.min(...found.map((each) => each.square));
  let [total, mean, second] = [0, 0, 0];
  for (const { lagS, square, count } of found) {
    // Samples of a second overlap by half.
    const weight = Math.exp(-0.25 * count * (square / least - 1));
    total += weight;
    mean += weight * lagS;
    second += weight * lagS * lagS;
  }
  mean /= total;
  const sigma = Math.hypot(Math.sqrt(Math.max(0, second / total - mean * mean)), leastSigmaS);
  return sigma > mostSigmaS ? undefined : { value: mean, sigma };
}
