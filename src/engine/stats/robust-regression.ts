import {
  linearRegression,
  type Column,
  type NotDetermined,
  type RegressionFit,
  type RegressionOptions,
} from './linear-regression.ts';
import { madToSigma, median } from './sample.ts';

/** Huber's tuning constant: 95 % efficiency with normal scatter. */
const huberK = 1.345;

export interface RobustFit extends RegressionFit {
  /** Robust standard deviation of the residuals. */
  readonly scale: number;
  /** 1 for an ordinary value, less the further it lies off. */
  readonly robustWeights: readonly number[];
}

/**
 * Robust regression by iterated reweighting with Huber's function (k = 1.345) and the median absolute residual as scale: a value far off
 * pulls no harder than one at 1.345 sigma.
 *
 * What for: to see which runs stand out, not to remove them.
 * Where from: P. J. Huber (1964); the iteration of Venables and Ripley, Modern Applied Statistics with S, ch. 6.5. The standard errors are
 * those of the last weighted fit and a little too small.
 */
export function robustRegression(
  y: readonly number[],
  columns: readonly Column[],
  options: Omit<RegressionOptions, 'weights'> = {},
): RobustFit | NotDetermined {
  let fit = linearRegression(y, columns, options);
  if (!fit.determined) return fit;
  let weights: number[] = y.map(() => 1);
  let scale = 0;
  for (let step = 0; step < 500; step++) {
    scale = madToSigma * median(fit.residuals.map(Math.abs));
    if (!(scale > 1e-12 * Math.max(1e-300, ...y.map(Math.abs)))) break;
    const limit = huberK * scale;
    weights = fit.residuals.map((residual) => Math.min(1, limit / Math.max(1e-300, Math.abs(residual))));
    const next = linearRegression(y, columns, { ...options, weights });
    if (!next.determined) return next;
    const before: RegressionFit = fit;
    const moved = Math.max(...next.fitted.map((value, i) => Math.abs(value - before.fitted[i])));
    fit = next;
    if (moved < 1e-13 * scale) break;
  }
  return { ...fit, scale, robustWeights: weights };
}
