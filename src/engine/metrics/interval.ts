import type { Measured } from '../../../shared/measured.ts';

/** Two-sided 95 % of the normal distribution. */
export const normal95 = 1.959964;

/** A measured value with its 95 % interval from a standard deviation; `factor` is another quantile where degrees of freedom are few. */
export function measured(
  value: number,
  sigma: number,
  method: string,
  remarks: readonly string[] = [],
  factor = normal95,
): Measured {
  return {
    value,
    low: value - factor * sigma,
    high: value + factor * sigma,
    method,
    ...(remarks.length === 0 ? {} : { remarks }),
  };
}
