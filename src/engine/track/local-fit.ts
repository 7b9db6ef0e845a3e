/**
 * Local polynomial fits over real times (not sample numbers), never across a gap. With even sampling and equal weights
 * these are the Savitzky-Golay filters (Savitzky and Golay, Analytical Chemistry 36, 1964); here the weights fall to zero
 * at the edge of the window (tricube, Cleveland 1979), so that samples entering and leaving do not make steps.
 */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface LocalFit {
  /** Value and first derivative of the fit at each row; `NaN` where too few samples stand in the window. */
  readonly value: Float64Array;
  readonly slope: Float64Array;
}

export interface LocalFitOptions {
  /** Half width of the window, seconds. */
  readonly halfWidthS: number;
  /** The window grows to hold this many finite samples on each side where sampling is coarse; default 2. */
  readonly samplesEachSide?: number;
  /** Where `samplesEachSide` samples reach farther than this, seconds, one on each side is enough; default never. */
  readonly coarseS?: number;
  /** It never grows beyond this half width, seconds; default five times `halfWidthS`. */
  readonly widestS?: number;
}

/**
 * Quadratic fits in windows around every finite sample, evaluated at the sample. At the ends of a stretch, where the
 * window is one-sided, a straight line is fitted instead (a one-sided quadratic has about four times the noise).
 * Reproduces any quadratic exactly away from the ends, any straight line everywhere.
 */
export function localFit(
  timeS: Float64Array,
  values: Float64Array,
  stretches: readonly Stretch[],
  options: LocalFitOptions,
): LocalFit {
  const value = new Float64Array(timeS.length).fill(Number.NaN);
  const slope = new Float64Array(timeS.length).fill(Number.NaN);
  const each = options.samplesEachSide ?? 2;
  const widest = options.widestS ?? 5 * options.halfWidthS;
  const coarse = options.coarseS ?? Number.POSITIVE_INFINITY;
  for (const stretch of stretches) {
    const rows: number[] = [];
    for (let row = stretch.from; row < stretch.to; row += 1) {
      if (Number.isFinite(values[row])) rows.push(row);
    }
    const times = Float64Array.from(rows, (row) => timeS[row]);
    const samples = Float64Array.from(rows, (row) => values[row]);
    let low = 0;
    let high = 0;
    for (let index = 0; index < rows.length; index += 1) {
      const now = times[index];
      let before = index - each >= 0 ? now - times[index - each] : 0;
      let after = index + each < rows.length ? times[index + each] - now : 0;
      if (Math.max(before, after) > coarse) {
        before = index > 0 ? now - times[index - 1] : 0;
        after = index + 1 < rows.length ? times[index + 1] - now : 0;
      }
      // A little wider than the outermost wanted sample, whose weight would otherwise be zero.
      const half = Math.min(widest, Math.max(options.halfWidthS, 1.2 * Math.max(before, after)));
      while (low < index && now - times[low] >= half) low += 1;
      while (low > 0 && now - times[low - 1] < half) low -= 1;
      if (high < index) high = index;
      while (high + 1 < rows.length && times[high + 1] - now < half) high += 1;
      while (high > index && times[high] - now >= half) high -= 1;
      const fit = fitAt(times, samples, low, high, now, half, index);
      if (fit !== undefined) {
        value[rows[index]] = fit.value;
        slope[rows[index]] = fit.slope;
      }
    }
  }
  return { value, slope };
}

function fitAt(
  times: Float64Array,
  samples: Float64Array,
  low: number,
  high: number,
  now: number,
  half: number,
  centre: number,
): { value: number; slope: number } | undefined {
  if (high - low < 1) return undefined;
  const base = samples[centre];
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let y0 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let index = low; index <= high; index += 1) {
    const u = (times[index] - now) / half;
    const away = Math.abs(u);
    const core = 1 - away * away * away;
    const weight = core * core * core;
    const y = samples[index] - base;
    const wu = weight * u;
    const wuu = wu * u;
    s0 += weight;
    s1 += wu;
    s2 += wuu;
    s3 += wuu * u;
    s4 += wuu * u * u;
    y0 += weight * y;
    y1 += wu * y;
    y2 += wuu * y;
  }
  const oneSided = centre - low < 2 || high - centre < 2;
  if (!oneSided && high - low >= 3) {
    const c00 = s2 * s4 - s3 * s3;
    const c01 = s2 * s3 - s1 * s4;
    const c02 = s1 * s3 - s2 * s2;
    const determinant = s0 * c00 + s1 * c01 + s2 * c02;
    if (determinant > 1e-9 * s0 * s2 * s4) {
      const c11 = s0 * s4 - s2 * s2;
      const c12 = s1 * s2 - s0 * s3;
      return {
        value: base + (c00 * y0 + c01 * y1 + c02 * y2) / determinant,
        slope: (c01 * y0 + c11 * y1 + c12 * y2) / determinant / half,
      };
    }
  }
  const determinant = s0 * s2 - s1 * s1;
  if (!(determinant > 1e-9 * s0 * s2)) return undefined;
  return {
    value: base + (s2 * y0 - s1 * y1) / determinant,
    slope: (s0 * y1 - s1 * y0) / determinant / half,
  };
}
