/** A straight map from values to pixels, with round ticks. */
export interface Scale {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** Decimals that the ticks need. */
  readonly decimals: number;
  (value: number): number;
}

const steps = [1, 2, 2.5, 5, 10];

/** The round step that gives about `count` ticks: 1, 2, 2.5 or 5 times a power of ten. */
export function roundStep(span: number, count: number): number {
  if (!(span > 0) || !Number.isFinite(span)) return 1;
  const rough = span / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = steps.find((candidate) => candidate * power >= rough * 0.999) ?? 10;
  return step * power;
}

export interface ScaleOptions {
  readonly count?: number;
  /** Widen the ends to round values. */
  readonly round?: boolean;
  /** Keep zero in view. */
  readonly fromZero?: boolean;
}

/** Scale over the finite ones of `values`, drawn from `from` to `to` pixels. */
export function scaleOver(values: readonly number[], from: number, to: number, options: ScaleOptions = {}): Scale {
  const finite = values.filter(Number.isFinite);
  if (options.fromZero === true) finite.push(0);
  let low = finite.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  let high = finite.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  if (finite.length === 0) [low, high] = [0, 1];
  if (high - low < 1e-9 * Math.max(1, Math.abs(high))) [low, high] = [low - 1, high + 1];
  const step = roundStep(high - low, options.count ?? 6);
  if (options.round !== false)
    [low, high] = [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
  const ticks: number[] = [];
  for (let index = Math.ceil(low / step - 1e-9); index * step <= high + step * 1e-9; index++) ticks.push(index * step);
  const fraction = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const decimals = Math.abs(step * 10 ** fraction - Math.round(step * 10 ** fraction)) > 1e-6 ? fraction + 1 : fraction;
  const map = (value: number): number => from + ((value - low) / (high - low)) * (to - from);
  return Object.assign(map, { low, high, ticks, decimals });
}
