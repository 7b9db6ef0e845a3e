import type { Motion } from '../track/motion.ts';
import { type Rows, rowsBetween } from './rows.ts';

/**
 * Rising and sinking of the air that a whole climb cannot show, because it lasts as long: 0.12 m/s (24 ft/min), one standard deviation between climbs.
 * Convection of a fair day has 0.3 to 1 m/s with a memory of 10 to 20 s, which leaves 0.1 to 0.3 m/s over four minutes and is seen in the climb
 * itself; waves, slopes and convergence lines are longer (0.1 to 0.2 m/s in ordinary weather away from hills; own judgement).
 */
const unseenMps = 0.12;
/** Distance between the blocks whose means are compared, seconds. */
const blockS = 8;

/**
 * Standard deviation, m/s, of the mean vertical motion of the air over a climb, as far as the climb itself can tell: the scatter of the vertical speed
 * about its straight line, with its memory (Newey and West 1987), and a floor for what is slower than the climb. It is not in the interval of the
 * measured rate; a comparison of climbs adds it to each.
 */
export function climbAirMotionSigmaMps(motion: Motion, startS: number, endS: number): number {
  const rows = rowsBetween(motion.timeS, startS, endS);
  const blocks = blockMeans(motion, rows);
  if (blocks.length < 5) return Math.hypot(unseenMps, 0.3);
  const residuals = detrended(blocks);
  return Math.hypot(unseenMps, Math.sqrt(longRunVariance(residuals) / residuals.length));
}

function blockMeans(motion: Motion, rows: Rows): number[] {
  const { timeS, verticalSpeedMps } = motion;
  const means: number[] = [];
  let sum = 0;
  let count = 0;
  let next = timeS[rows.from] + blockS;
  for (let row = rows.from; row < rows.to; row += 1) {
    if (timeS[row] >= next) {
      if (count > 0) means.push(sum / count);
      sum = 0;
      count = 0;
      next += blockS;
    }
    if (!Number.isFinite(verticalSpeedMps[row])) continue;
    sum += verticalSpeedMps[row];
    count += 1;
  }
  return means;
}

function detrended(values: readonly number[]): number[] {
  const n = values.length;
  const meanX = (n - 1) / 2;
  const meanY = values.reduce((sum, value) => sum + value, 0) / n;
  let xy = 0;
  let xx = 0;
  values.forEach((value, i) => {
    xy += (i - meanX) * (value - meanY);
    xx += (i - meanX) ** 2;
  });
  const slope = xy / xx;
  const correction = Math.sqrt(n / Math.max(1, n - 2));
  return values.map((value, i) => correction * (value - meanY - slope * (i - meanX)));
}

/**
 * Variance of the sum over n: Newey and West's estimate, autocovariances up to a lag of about n^(1/3) + 1 weighted with a falling line. Never less than
 * half of the plain variance: a short series can show a negative memory by chance.
 */
export function longRunVariance(values: readonly number[]): number {
  const n = values.length;
  if (n === 0) return Number.NaN;
  const covariance = (lag: number): number => {
    let sum = 0;
    for (let i = lag; i < n; i += 1) sum += values[i] * values[i - lag];
    return sum / n;
  };
  const lags = Math.min(n - 1, Math.floor(n ** (1 / 3)) + 1);
  const plain = covariance(0);
  let variance = plain;
  for (let lag = 1; lag <= lags; lag += 1) variance += 2 * (1 - lag / (lags + 1)) * covariance(lag);
  return Math.max(variance, plain / 2);
}
