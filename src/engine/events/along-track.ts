import type { Motion } from '../track/motion.ts';
import { solve } from './linear-gaussian.ts';

/**
 * Distance along the ground as a function of the recording's time: the integral of the speed (trapezoids), and straight
 * distance between positions. Linear between rows; `NaN` across gaps longer than `longestStepS`.
 */
export class AlongTrack {
  private readonly times: Float64Array;
  private readonly path: Float64Array;
  private readonly speeds: Float64Array;
  private readonly motion: Motion;

  constructor(motion: Motion, fromS: number, toS: number, longestStepS = 3.5) {
    this.motion = motion;
    const rows: number[] = [];
    for (let row = firstRowAt(motion.timeS, fromS); row < motion.timeS.length && motion.timeS[row] <= toS; row += 1) {
      if (Number.isFinite(motion.groundSpeedMps[row])) rows.push(row);
    }
    this.times = Float64Array.from(rows, (row) => motion.timeS[row]);
    this.speeds = Float64Array.from(rows, (row) => motion.groundSpeedMps[row]);
    this.path = new Float64Array(rows.length);
    const usual = Math.max(longestStepS, 3.5 / motion.rateHz);
    for (let index = 1; index < rows.length; index += 1) {
      const step = this.times[index] - this.times[index - 1];
      const moved = step > usual ? Number.NaN : 0.5 * step * (this.speeds[index] + this.speeds[index - 1]);
      this.path[index] = this.path[index - 1] + moved;
    }
  }

  /** Integral of the speed between two times; `NaN` outside the window or across a gap. */
  integral(fromS: number, toS: number): number {
    const from = this.place(fromS);
    const to = this.place(toS);
    if (from === undefined || to === undefined) return Number.NaN;
    // The path is NaN from a gap on: only what follows the last gap before `from` may be used.
    const base = this.path[from.low];
    if (Number.isNaN(base)) return this.sum(from, to);
    return this.path[to.low] - base + to.extra - from.extra;
  }

  speedAt(timeS: number): number {
    const at = this.place(timeS);
    return at === undefined ? Number.NaN : at.speed;
  }

  private sum(from: Place, to: Place): number {
    let total = to.extra - from.extra;
    for (let index = from.low + 1; index <= to.low; index += 1) {
      const step = this.times[index] - this.times[index - 1];
      if (step > Math.max(3.5, 3.5 / this.motion.rateHz)) return Number.NaN;
      total += 0.5 * step * (this.speeds[index] + this.speeds[index - 1]);
    }
    return total;
  }

  private place(timeS: number): Place | undefined {
    const { times, speeds } = this;
    const last = times.length - 1;
    if (last < 1 || timeS < times[0] - 1e-6 || timeS > times[last] + 1e-6) return undefined;
    let low = 0;
    let high = last;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (times[middle] <= timeS) low = middle;
      else high = middle;
    }
    const since = timeS - times[low];
    const slope = (speeds[high] - speeds[low]) / (times[high] - times[low]);
    return { low, extra: since * (speeds[low] + 0.5 * slope * since), speed: speeds[low] + slope * since };
  }
}

interface Place {
  readonly low: number;
  readonly extra: number;
  readonly speed: number;
}

/** First row at or after a time. */
export function firstRowAt(timeS: Float64Array, atS: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeS[middle] < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Position at a time from a local quadratic over `halfS` seconds around it (a straight line with three fixes or fewer);
 * undefined with fewer than two fixes there.
 */
export function positionAt(
  motion: Motion,
  timeS: number,
  halfS: number,
): { readonly eastM: number; readonly northM: number; readonly fixes: number } | undefined {
  const away: number[] = [];
  const east: number[] = [];
  const north: number[] = [];
  for (let row = firstRowAt(motion.timeS, timeS - halfS); row < motion.timeS.length; row += 1) {
    if (motion.timeS[row] > timeS + halfS) break;
    if (Number.isNaN(motion.eastM[row])) continue;
    away.push(motion.timeS[row] - timeS);
    east.push(motion.eastM[row]);
    north.push(motion.northM[row]);
  }
  const degree = away.length >= 4 && Math.min(...away) < 0 && Math.max(...away) > 0 ? 2 : 1;
  if (away.length < 2) return undefined;
  const weights = weightsAtZero(away, degree);
  if (weights === undefined) return undefined;
  let eastM = 0;
  let northM = 0;
  for (const [index, weight] of weights.entries()) {
    eastM += weight * east[index];
    northM += weight * north[index];
  }
  return { eastM, northM, fixes: away.length };
}

/** Weights with which samples at these times give the value at zero of the least-squares polynomial. */
function weightsAtZero(times: readonly number[], degree: 1 | 2): number[] | undefined {
  const size = degree + 1;
  const normal = new Float64Array(size * size);
  for (const time of times) {
    for (let a = 0; a < size; a += 1) for (let b = 0; b < size; b += 1) normal[a * size + b] += time ** (a + b);
  }
  const solution = solve({ gram: normal, right: new Float64Array(size), square: 0 }, flat.slice(0, size));
  if (solution === undefined) return undefined;
  return times.map((time) => {
    let sum = 0;
    for (let a = 0; a < size; a += 1) sum += solution.covariance[a] * time ** a;
    return sum;
  });
}

const flat = [0, 1, 2].map(() => ({ mean: 0, sigma: 1e5 }));
