import type { HeightSeries, TransitionData } from './transition-model.ts';

/** Memory of gusts met at flying speed, seconds (length scales of tens of metres near the ground at 20-30 m/s). */
const gustTimeS = 2;

/**
 * Covariance of the speeds: white noise of the readings, noise of the positions that neighbouring differences share, and
 * gusts as random accelerations with memory (integrated Ornstein-Uhlenbeck process from the start of the window).
 */
export function speedCovariance(data: TransitionData, startS: number, gustMps2: number): Float64Array {
  const size = data.speedMps.length;
  const matrix = new Float64Array(size * size);
  const middle = data.speedFromS.map((from, row) => (from + data.speedToS[row]) / 2 - startS);
  for (let a = 0; a < size; a += 1) {
    for (let b = 0; b <= a; b += 1) {
      let value = integratedGust(middle[a], middle[b], gustMps2);
      if (a === b) value += data.speedWhiteMps ** 2;
      if (data.positionWhiteM > 0) value += differencedNoise(data, a, b);
      matrix[a * size + b] = value;
      matrix[b * size + a] = value;
    }
  }
  return matrix;
}

/** White noise and Gauss-Markov wander. */
export function heightCovariance(series: Pick<HeightSeries, 'timeS' | 'whiteM' | 'wander'>): Float64Array {
  const size = series.timeS.length;
  const matrix = new Float64Array(size * size);
  for (let a = 0; a < size; a += 1) {
    for (let b = 0; b <= a; b += 1) {
      let value = 0;
      for (const wander of series.wander) {
        value += wander.sigmaM ** 2 * Math.exp(-Math.abs(series.timeS[a] - series.timeS[b]) / wander.timeS);
      }
      if (a === b) value += series.whiteM ** 2;
      matrix[a * size + b] = value;
      matrix[b * size + a] = value;
    }
  }
  return matrix;
}

function integratedGust(aS: number, bS: number, sigma: number): number {
  const low = Math.max(0, Math.min(aS, bS));
  const high = Math.max(aS, bS, low);
  const t = gustTimeS;
  const transient = Math.exp(-low / t) + Math.exp(-high / t) - 1 - Math.exp(-(high - low) / t);
  return sigma * sigma * t * (2 * low + t * transient);
}

/** Differences of positions share a position with their neighbours. */
function differencedNoise(data: TransitionData, a: number, b: number): number {
  const square = data.positionWhiteM ** 2;
  const span = (row: number): number => data.speedToS[row] - data.speedFromS[row];
  if (a === b) return (2 * square) / span(a) ** 2;
  return Math.abs(data.speedFromS[a] - data.speedToS[b]) < 1e-6 ? -square / (span(a) * span(b)) : 0;
}
