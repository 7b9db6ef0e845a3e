/** Finer than this is not looked for: nobody writes more decimals on purpose. */
const mostDecimals = 9;

/** So many changes of value are needed to tell anything: a receiver that stands still repeats itself. */
const fewestForDecimals = 5;

/** So many different values are needed before a common divisor is believed to be the recorder's step. */
const fewestForDivisor = 30;

/**
 * The step with which a column was written, in `unit`s: 10^-d for the fewest decimals d that hold every value, times the
 * greatest common divisor of the differences where there are enough of them (heights in steps of 0.2, 5 or 25).
 * `undefined` where values were not rounded (more than 9 decimals) or hardly change.
 */
export function writtenStep(values: Float64Array, unit = 1): number | undefined {
  const decimals = decimalsOf(values, unit);
  if (decimals === undefined) return undefined;
  const scale = 10 ** decimals;
  return (commonDivisor(values, scale / unit) * unit) / scale;
}

function decimalsOf(values: Float64Array, unit: number): number | undefined {
  let decimals = 0;
  let scale = 1 / unit;
  let last = Number.NaN;
  let changes = 0;
  for (const value of values) {
    if (Number.isNaN(value) || value === last) continue;
    last = value;
    changes++;
    // Double precision carries 2^-53 relative; the tolerance is far above it and far below half a step.
    while (Math.abs(value * scale - Math.round(value * scale)) > 1e-4) {
      if (decimals === mostDecimals) return undefined;
      decimals++;
      scale *= 10;
    }
  }
  return changes >= fewestForDecimals ? decimals : undefined;
}

function commonDivisor(values: Float64Array, scale: number): number {
  let first = Number.NaN;
  let last = Number.NaN;
  let divisor = 0;
  let different = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    const whole = Math.round(value * scale);
    if (Number.isNaN(first)) first = whole;
    if (whole !== last) different++;
    last = whole;
    divisor = greatestCommonDivisor(divisor, Math.abs(whole - first));
    if (divisor === 1) return 1;
  }
  return divisor === 0 || different < fewestForDivisor ? 1 : divisor;
}

function greatestCommonDivisor(a: number, b: number): number {
  let x = a;
  let y = b;
  while (y > 0) [x, y] = [y, x % y];
  return x;
}
