import { at, type Triangle, triangle } from './cholesky.ts';
import { generalisedLeastSquares, type GlsFit } from './generalised-least-squares.ts';
import type { NormalMixture } from './normal-mixture.ts';

/** A linear model of values that share days, with errors of which a part is known. */
export interface GroupedValues {
  readonly y: ArrayLike<number>;
  /** Columns of the design, e.g. one 0/1 column a configuration. */
  readonly columns: readonly ArrayLike<number>[];
  /** Day of each value, 0, 1, 2 ... */
  readonly group: readonly number[];
  /** Known variance of each value's own error. */
  readonly knownVariance: ArrayLike<number>;
  /** Known errors that several values share: what one standard deviation of each does to every value, with its sign. */
  readonly shared: readonly ArrayLike<number>[];
  /** Class of each value (configuration), 0, 1 ...: classes may scatter somewhat differently. Default one class. */
  readonly scatterClass?: readonly number[];
  /** Usual size of the unexplained scatter, a standard deviation in the unit of y: the scale of its prior. */
  readonly usualScatter: number;
}

export interface IntegratedFit {
  /** Posterior weights of the points at which the unknown variances were tried; they add to 1. */
  readonly weights: Float64Array;
  /** For each point: coefficients and their covariance. */
  readonly fits: readonly Pick<GlsFit, 'coefficients' | 'covariance'>[];
  /** Posterior medians of the unknown variances between days and between runs of a day. With one run a day they are one: `dayVariance`. */
  readonly dayVariance: number;
  readonly runVariance: number;
  /** Estimator of the most likely point: row j makes coefficient j out of the values. */
  readonly estimator: readonly Float64Array[];
  /** The covariance of the values there. */
  readonly covarianceOfValues: Triangle;
}

/** One size and split of the unknown variance, with the logarithm of its prior weight. */
interface VariancePoint {
  /** Variance between days and between runs, before the factor of the class. */
  readonly day: number;
  readonly run: number;
  /** Factor on the variance of each class. */
  readonly factors: readonly number[];
  readonly logPrior: number;
}

/** Points (in standard deviations) and weights of Gauss-Hermite quadrature, three points. */
const hermite = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const;

/** Points and weights of Gauss-Legendre quadrature on 0 to 1, five points. */
const legendre = [
  [0.04691007703066802, 0.11846344252809454],
  [0.23076534494715845, 0.23931433524968324],
  [0.5, 0.28444444444444444],
  [0.7692346550528415, 0.23931433524968324],
  [0.953089922969332, 0.11846344252809454],
] as const;

/** Shares of days at which the split is tried, with their weights: the prior is Beta(1, 1/2), reached by share = 1 - (1 - v)^2. */
const dayShares = legendre.map(([v, weight]) => [1 - (1 - v) ** 2, weight] as const);

/**
 * How differently two classes may scatter: standard deviation of the logarithm of the ratio of their variances, 0.7 (own choice: standard
 * deviations a factor of 1.4 apart are nothing special, a factor of 2 is). Without it a thorough "before" would vouch for a careless "after".
 */
const classSpread = 0.7;

/**
 * Random-intercept model with the unknown variances integrated out instead of estimated.
 *
 * What for: the comparison. With a handful of days the estimate "no variance between days" comes up often although it is not
 * true, and an interval computed with it treats runs of one day as independent; and the scatter of three days may be small by luck. Here every
 * size of the unknown variance, and every split of it between days and runs, counts with its likelihood, so that the interval is as wide as
 * the few days make it.
 *
 * Prior: unexplained standard deviation half-Cauchy with the usual scatter of such a quantity as its median (A. Gelman, Bayesian
 * Analysis 1, 2006, 515-534, from memory): weak, with a long tail, so that data soon overrule it; a factor of two in it moves the coverage of a 95 %
 * interval by about two points with 3 + 3 days, less with more. Share of it that belongs to days: Beta(1, 1/2), which leans towards days (median
 * three quarters: the runs of a day share its wind, its air and the pilot's form), because to treat runs of one day as independent is the costly mistake.
 *
 * @returns undefined when the coefficients are not determined.
 */
export function integratedRandomIntercept(values: GroupedValues): IntegratedFit | undefined {
  const { y, columns } = values;
  const known = knownCovariance(values);
  const fitAt = (point: VariancePoint, wantEstimator = false): GlsFit | undefined =>
    generalisedLeastSquares(y, columns, withUnknown(known, values, point), wantEstimator);
  const candidates: { logWeight: number; fit: GlsFit; point: VariancePoint }[] = [];
  let best = Number.NEGATIVE_INFINITY;
  for (const point of variancePoints(values, fitAt)) {
    const fit = fitAt(point);
    if (fit === undefined) continue;
    const logWeight = fit.residualLogLikelihood + point.logPrior;
    best = Math.max(best, logWeight);
    candidates.push({ logWeight, fit, point });
  }
  const kept = candidates.filter((candidate) => candidate.logWeight > best - 18);
  if (kept.length === 0) return undefined;
  const sum = kept.reduce((part, candidate) => part + Math.exp(candidate.logWeight - best), 0);
  const weights = Float64Array.from(kept, (candidate) => Math.exp(candidate.logWeight - best) / sum);
  const mode = kept.reduce((a, b) => (b.logWeight > a.logWeight ? b : a)).point;
  return {
    weights,
    fits: kept.map(({ fit }) => ({ coefficients: fit.coefficients, covariance: fit.covariance })),
    dayVariance: weightedMedian(
      kept.map(({ point }) => point.day),
      weights,
    ),
    runVariance: weightedMedian(
      kept.map(({ point }) => point.run),
      weights,
    ),
    estimator: fitAt(mode, true)?.estimator ?? [],
    covarianceOfValues: withUnknown(known, values, mode),
  };
}

/** Distribution of a linear combination of the coefficients. */
export function combination(fit: IntegratedFit, contrast: readonly number[]): NormalMixture {
  const means = new Float64Array(fit.fits.length);
  const deviations = new Float64Array(fit.fits.length);
  fit.fits.forEach(({ coefficients, covariance }, k) => {
    let mean = 0;
    let variance = 0;
    contrast.forEach((a, i) => {
      if (a === 0) return;
      mean += a * coefficients[i];
      contrast.forEach((b, j) => {
        variance += a * b * covariance[i][j];
      });
    });
    means[k] = mean;
    deviations[k] = Math.sqrt(Math.max(0, variance));
  });
  return joined({ weights: fit.weights, means, deviations });
}

/** Points whose standard deviations differ by less than this share are joined: their first two moments are kept. */
const joinWithin = 0.02;

/** Joins points of nearly the same width, so that quantiles need not look at a thousand of them. */
function joined({ weights, means, deviations }: NormalMixture): NormalMixture {
  const bins = new Map<number, { weight: number; mean: number; square: number }>();
  weights.forEach((weight, k) => {
    const key = deviations[k] > 0 ? Math.round(Math.log(deviations[k]) / joinWithin) : Number.NEGATIVE_INFINITY;
    const bin = bins.get(key) ?? { weight: 0, mean: 0, square: 0 };
    bin.weight += weight;
    bin.mean += weight * means[k];
    bin.square += weight * (deviations[k] ** 2 + means[k] ** 2);
    bins.set(key, bin);
  });
  const parts = [...bins.values()];
  return {
    weights: Float64Array.from(parts, ({ weight }) => weight),
    means: Float64Array.from(parts, ({ weight, mean }) => mean / weight),
    deviations: Float64Array.from(parts, ({ weight, mean, square }) =>
      Math.sqrt(Math.max(0, square / weight - (mean / weight) ** 2)),
    ),
  };
}

function knownCovariance({ y, knownVariance, shared, usualScatter }: GroupedValues): Triangle {
  const n = y.length;
  // Two runs are never exactly alike: without a floor, equal values on one day would make the likelihood infinite.
  const floor = (0.05 * usualScatter) ** 2;
  const v = triangle(n);
  for (const shift of shared) {
    for (let i = 0; i < n; i++) {
      const own = shift[i];
      if (own === 0) continue;
      for (let j = 0; j <= i; j++) v[at(i, j)] += own * shift[j];
    }
  }
  for (let i = 0; i < n; i++) v[at(i, i)] += Math.max(floor, knownVariance[i]);
  return v;
}

function withUnknown(
  known: Triangle,
  { group, scatterClass }: GroupedValues,
  { day, run, factors }: VariancePoint,
): Triangle {
  const v = Float64Array.from(known);
  const n = group.length;
  const roots = group.map((_, i) => Math.sqrt(factors[scatterClass?.[i] ?? 0] ?? 1));
  for (let i = 0; i < n; i++) {
    const row = at(i, 0);
    for (let j = 0; j < i; j++) if (group[j] === group[i]) v[row + j] += day * roots[i] * roots[j];
    v[row + i] += (day + run) * roots[i] * roots[i];
  }
  return v;
}

/** The grid: total variance x share of days x ratio of classes. */
function variancePoints(values: GroupedValues, fitAt: (point: VariancePoint) => GlsFit | undefined): VariancePoint[] {
  const { y, columns, group, usualScatter } = values;
  const n = y.length;
  const repeated = new Set(group).size < n;
  const shares = repeated ? dayShares : ([[1, 1]] as const);
  const classes = classFactors(values.scatterClass);
  const totals = relevantTotals(values, (total) => {
    const share = repeated ? 0.5 : 1;
    const fit = fitAt({ day: total * share, run: total * (1 - share), factors: [], logPrior: 0 });
    return (fit?.residualLogLikelihood ?? Number.NEGATIVE_INFINITY) + logHalfCauchy(total, usualScatter);
  });
  const step = Math.min(0.35, 0.6 * Math.sqrt(2 / Math.max(1, n - columns.length)));
  const count = Math.max(2, Math.ceil((totals.top - totals.bottom) / step));
  const points: VariancePoint[] = [];
  for (let k = 0; k < count; k++) {
    const total = Math.exp(totals.bottom + ((k + 0.5) / count) * (totals.top - totals.bottom));
    for (const [share, shareWeight] of shares) {
      for (const { factors, weight } of classes) {
        const logPrior = logHalfCauchy(total, usualScatter) + Math.log(shareWeight * weight);
        points.push({ day: total * share, run: total * (1 - share), factors, logPrior });
      }
    }
  }
  return points;
}

/** Density of ln(s^2) where s is half-Cauchy with the given scale, up to a constant. */
function logHalfCauchy(variance: number, scale: number): number {
  const ratio = variance / (scale * scale);
  return 0.5 * Math.log(ratio) - Math.log1p(ratio);
}

/** Range of ln(s^2) that can matter, by a coarse scan. */
function relevantTotals(
  { usualScatter, y }: GroupedValues,
  logPosterior: (total: number) => number,
): { readonly bottom: number; readonly top: number } {
  const spread = Array.from(y);
  const widest = Math.max(usualScatter, Math.max(...spread) - Math.min(...spread));
  const bottom = 2 * Math.log(usualScatter * 0.02);
  const top = 2 * Math.log(widest * 40);
  const step = 0.7;
  const scan: { at: number; value: number }[] = [];
  for (let at = bottom; at <= top + step; at += step) scan.push({ at, value: logPosterior(Math.exp(at)) });
  const best = Math.max(...scan.map(({ value }) => value));
  // Classes and shares other than those of the scan can shift the likelihood: leave room.
  const inside = scan.filter(({ value }) => value > best - 14).map(({ at }) => at);
  return { bottom: Math.min(...inside) - 2 * step, top: Math.max(...inside) + 2 * step };
}

/** Factors of the classes and their weights: two classes on three points, more of them along one axis at a time. */
function classFactors(scatterClass: readonly number[] | undefined): { factors: number[]; weight: number }[] {
  const count = scatterClass === undefined ? 1 : Math.max(...scatterClass) + 1;
  if (count < 2) return [{ factors: [1], weight: 1 }];
  if (count === 2) {
    return hermite.map(([z, weight]) => ({
      factors: [Math.exp((-z * classSpread) / 2), Math.exp((z * classSpread) / 2)],
      weight,
    }));
  }
  return Array.from({ length: 2 * count }, (_, k) => {
    const log = ((k < count ? 1 : -1) * Math.sqrt(count) * classSpread) / Math.SQRT2;
    return {
      factors: Array.from({ length: count }, (_, c) => (c === k % count ? Math.exp(log) : 1)),
      weight: 1 / (2 * count),
    };
  });
}

function weightedMedian(values: readonly number[], weights: ArrayLike<number>): number {
  const order = values.map((_, k) => k).sort((a, b) => values[a] - values[b]);
  let sum = 0;
  for (const k of order) {
    sum += weights[k];
    if (sum >= 0.5) return values[k];
  }
  return values[order[order.length - 1]];
}
