import { median } from '../stats/sample.ts';
import type { Stretch } from './local-fit.ts';

/** The receiver's own speed held against its positions. */
export interface SpeedCheck {
  /** Distance between fixes over the integral of the speed between them: 1 when both tell the same. */
  readonly ratio: number;
  /** How much later a change shows in the speed than in the positions, seconds, with one sigma. */
  readonly lagS: number;
  readonly lagSigmaS: number;
  /** Windows used. */
  readonly windows: number;
}

/** Long enough that wandering positions average out, short enough that a turn's chord equals its arc (0.2 % at 6 degrees a second). */
const windowS = 2;
/** Slower than this, frozen and wandering positions tell nothing. */
const slowestMps = 4;
const fewestWindows = 12;

/**
 * Over windows of about two seconds, distance D against the trapezoid I of the speed and its change dv:
 * `D = ratio * I + lag * dv`, because a speed that shows late by `lag` integrates to less while accelerating. The ratio is
 * the median of D / I in steady motion; the lag is a robust (Tukey biweight) regression through the origin.
 */
export function checkSpeed(
  timeS: Float64Array,
  eastM: Float64Array,
  northM: Float64Array,
  speedMps: Float64Array,
  stretches: readonly Stretch[],
): SpeedCheck | undefined {
  const distances: number[] = [];
  const integrals: number[] = [];
  const changes: number[] = [];
  for (const stretch of stretches) {
    let row = stretch.from;
    while (row < stretch.to) {
      let integral = 0;
      let next = row + 1;
      let complete = Number.isFinite(speedMps[row]) && Number.isFinite(eastM[row]);
      let last = row;
      while (complete && next < stretch.to && timeS[last] - timeS[row] < windowS - 1e-6) {
        if (Number.isFinite(speedMps[next]) && Number.isFinite(eastM[next])) {
          const step = timeS[next] - timeS[last];
          if (step > 3 * windowS) complete = false;
          integral += 0.5 * step * (speedMps[last] + speedMps[next]);
          last = next;
        }
        next += 1;
      }
      const lasted = timeS[last] - timeS[row];
      if (complete && lasted >= windowS - 1e-6 && integral > slowestMps * lasted) {
        distances.push(Math.hypot(eastM[last] - eastM[row], northM[last] - northM[row]));
        integrals.push(integral);
        changes.push(speedMps[last] - speedMps[row]);
      }
      row = Math.max(last, row + 1);
    }
  }
  if (distances.length < fewestWindows) return undefined;
  const ratio = median(distances.map((distance, index) => distance / integrals[index]));
  // A scale that is right is exactly one; its estimate must not leak into the lag.
  const scale = Math.abs(ratio - 1) < 0.02 ? 1 : ratio;
  const residuals = distances.map((distance, index) => distance - scale * integrals[index]);
  let lag = 0;
  let sigma = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 12; round += 1) {
    const errors = residuals.map((residual, index) => residual - lag * changes[index]);
    const spread = Math.max(1e-6, 1.4826 * median(errors.map(Math.abs)));
    let top = 0;
    let bottom = 0;
    let noise = 0;
    for (const [index, error] of errors.entries()) {
      const u = error / (4.685 * spread);
      if (Math.abs(u) >= 1) continue;
      const weight = (1 - u * u) ** 2;
      const change = changes[index];
      top += weight * change * residuals[index];
      bottom += weight * change * change;
      noise += weight * weight * change * change;
    }
    if (!(bottom > 0)) return { ratio, lagS: 0, lagSigmaS: Number.POSITIVE_INFINITY, windows: distances.length };
    lag = top / bottom;
    sigma = (spread * Math.sqrt(noise)) / bottom;
  }
  return { ratio, lagS: lag, lagSigmaS: sigma, windows: distances.length };
}
