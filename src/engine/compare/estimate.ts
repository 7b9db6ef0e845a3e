import type { Interval } from '../../../shared/measured.ts';
import { combination, type IntegratedFit, integratedRandomIntercept } from '../stats/integrated-random-intercept.ts';
import { mixtureCdf, mixtureMean, mixtureQuantile, type NormalMixture, solveRising } from '../stats/normal-mixture.ts';
import { normalCdf } from '../stats/normal.ts';
import { detectableRatio } from '../stats/power.ts';
import { studentQuantile } from '../stats/student.ts';
import type { KindShift } from './like-with-like.ts';
import type { MetricKind } from './metric-kind.ts';
import type { CollectedRun, ReducedRun } from './run.ts';

/** A run with its value at reference conditions. */
export interface ValuedRun {
  readonly run: CollectedRun;
  readonly reduced: ReducedRun;
}

export interface Estimate {
  readonly kind: MetricKind;
  /** Configurations with values, in the order of the spec. */
  readonly ids: readonly string[];
  readonly runs: readonly ValuedRun[];
  readonly fit: IntegratedFit;
  /** Values on the working scale (logarithm or SI). */
  readonly y: readonly number[];
  readonly day: readonly number[];
  readonly sharedNames: readonly string[];
  readonly shared: readonly Float64Array[];
  /** Of each value, working scale. */
  readonly knownVariance: readonly number[];
  readonly usualScatter: number;
  /** Names among them that are shifts of runs of another kind. */
  readonly kindNames: readonly string[];
}

/** Brings runs to the working scale and fits them. Undefined when nothing can be estimated. */
export function estimate(
  kind: MetricKind,
  ids: readonly string[],
  runs: readonly ValuedRun[],
  shifts: readonly KindShift[],
): Estimate | undefined {
  const present = ids.filter((id) => runs.some(({ run }) => run.configuration === id));
  if (present.length === 0) return undefined;
  const log = kind.scale === 'log';
  const scaleOf = ({ reduced }: ValuedRun): number => (log ? 1 / reduced.value : 1);
  const y = runs.map(({ reduced }) => (log ? Math.log(reduced.value) : reduced.value));
  const days = [...new Set(runs.map(({ run }) => run.day))];
  const day = runs.map(({ run }) => days.indexOf(run.day));
  const typical = log ? 1 : (kind.typicalValue ?? Math.abs(y.reduce((sum, value) => sum + value, 0) / y.length));
  const names = [...new Set(runs.flatMap(({ reduced }) => Object.keys(reduced.shared)))];
  const sharedNames: string[] = [];
  const shared: Float64Array[] = [];
  const add = (name: string, vector: Float64Array): void => {
    if (vector.some((value) => value !== 0)) {
      sharedNames.push(name);
      shared.push(vector);
    }
  };
  for (const name of names) {
    add(
      name,
      Float64Array.from(runs, (valued) => (valued.reduced.shared[name] ?? 0) * scaleOf(valued)),
    );
  }
  for (const { name, usualShift, has } of shifts) {
    add(
      name,
      Float64Array.from(runs, ({ run }) => (has(run) ? usualShift * typical : 0)),
    );
  }
  const knownVariance = runs.map((valued) => (valued.reduced.ownSigma * scaleOf(valued)) ** 2);
  const usualScatter = kind.usualScatter * typical;
  const fit = integratedRandomIntercept({
    y,
    columns: present.map((id) => runs.map(({ run }) => (run.configuration === id ? 1 : 0))),
    group: day,
    knownVariance,
    shared,
    scatterClass: runs.map(({ run }) => present.indexOf(run.configuration)),
    usualScatter,
  });
  const kindNames = shifts.map(({ name }) => name);
  return fit === undefined
    ? undefined
    : { kind, ids: present, runs, fit, y, day, sharedNames, shared, knownVariance, usualScatter, kindNames };
}

function unit(estimate: Estimate, id: string): number[] {
  return estimate.ids.map((other) => (other === id ? 1 : 0));
}

/** Mean of a configuration at reference conditions, SI, with its 95 % interval. On a log scale it is the geometric mean. */
export function meanOf(estimate: Estimate, id: string, confidence = 0.95): Interval | undefined {
  if (!estimate.ids.includes(id)) return undefined;
  const mixture = combination(estimate.fit, unit(estimate, id));
  const back = (value: number): number => (estimate.kind.scale === 'log' ? Math.exp(value) : value);
  return {
    value: back(mixtureMean(mixture)),
    low: back(mixtureQuantile(mixture, (1 - confidence) / 2)),
    high: back(mixtureQuantile(mixture, (1 + confidence) / 2)),
  };
}

/** What is known of the difference of two configurations. */
export interface Contrast {
  readonly from: string;
  readonly to: string;
  readonly mixture: NormalMixture;
  readonly estimate: Estimate;
}

export function contrastOf(estimate: Estimate, from: string, to: string): Contrast | undefined {
  if (!estimate.ids.includes(from) || !estimate.ids.includes(to)) return undefined;
  const weights = estimate.ids.map((id) => (id === to ? 1 : id === from ? -1 : 0));
  return { from, to, mixture: combination(estimate.fit, weights), estimate };
}

/** Two-sided p of no difference: twice the smaller tail of what is known of the difference beyond zero. */
export function pValueOf({ mixture }: Contrast): number {
  const below = mixtureCdf(mixture, 0);
  return Math.min(1, 2 * Math.min(below, 1 - below));
}

/** Interval of the difference in per cent of `from`; undefined where the mean of `from` is not clearly above zero. */
export function percentOf(contrast: Contrast, confidence: number): Interval | undefined {
  const { estimate, mixture, from, to } = contrast;
  const tail = (1 - confidence) / 2;
  if (estimate.kind.scale === 'log') {
    const back = (value: number): number => 100 * Math.expm1(value);
    return {
      value: back(mixtureMean(mixture)),
      low: back(mixtureQuantile(mixture, tail)),
      high: back(mixtureQuantile(mixture, 1 - tail)),
    };
  }
  return ratioInterval(estimate, from, to, tail);
}

/** Interval of a ratio of means as Fieller has it, with the unknown variances integrated out: P(to - r from < 0) as a function of r. */
function ratioInterval(estimate: Estimate, from: string, to: string, tail: number): Interval | undefined {
  const a = estimate.ids.indexOf(from);
  const b = estimate.ids.indexOf(to);
  const { weights, fits } = estimate.fit;
  const denominator = combination(estimate.fit, unit(estimate, from));
  if (mixtureCdf(denominator, 0) > tail / 10) return undefined;
  const below = (ratio: number): number => {
    let sum = 0;
    fits.forEach(({ coefficients, covariance }, k) => {
      const mean = coefficients[b] - ratio * coefficients[a];
      const variance = covariance[b][b] - 2 * ratio * covariance[a][b] + ratio * ratio * covariance[a][a];
      sum += weights[k] * normalCdf(-mean / Math.sqrt(variance));
    });
    return sum;
  };
  const numerator = combination(estimate.fit, unit(estimate, to));
  const centre = mixtureMean(numerator) / mixtureMean(denominator);
  const step = Math.max(
    1e-6,
    (mixtureQuantile(numerator, 0.8) - mixtureQuantile(numerator, 0.2)) / mixtureMean(denominator),
  );
  const quantile = (p: number): number => solveRising((ratio) => below(ratio) - p, centre, step);
  const percent = (ratio: number): number => 100 * (ratio - 1);
  return { value: percent(centre), low: percent(quantile(tail)), high: percent(quantile(1 - tail)) };
}

/** Interval of the difference, SI. On a log scale the per cent of the mean of `from`. */
export function differenceOf(contrast: Contrast, confidence: number): Interval | undefined {
  const { estimate, mixture, from } = contrast;
  const tail = (1 - confidence) / 2;
  if (estimate.kind.scale === 'linear') {
    return {
      value: mixtureMean(mixture),
      low: mixtureQuantile(mixture, tail),
      high: mixtureQuantile(mixture, 1 - tail),
    };
  }
  const base = meanOf(estimate, from)?.value;
  const percent = percentOf(contrast, confidence);
  if (base === undefined || percent === undefined) return undefined;
  const si = (value: number): number => (base * value) / 100;
  return { value: si(percent.value), low: si(percent.low), high: si(percent.high) };
}

/** One-sided p-values of the difference being as low as `low` or as high as `high` (working scale): the larger is that of equivalence. */
export function equivalenceP({ mixture }: Contrast, low: number, high: number): number {
  return Math.max(mixtureCdf(mixture, low), 1 - mixtureCdf(mixture, high));
}

/** The difference as Student's t: the standard error and degrees of freedom that give the same 50 % and 95 % intervals. */
export function asStudent({ mixture }: Contrast): { readonly standardError: number; readonly df: number } {
  const half = (confidence: number): number =>
    (mixtureQuantile(mixture, (1 + confidence) / 2) - mixtureQuantile(mixture, (1 - confidence) / 2)) / 2;
  const wide = half(0.95);
  const ratio = wide / half(0.5);
  const ratioOfT = (df: number): number => studentQuantile(0.975, df) / studentQuantile(0.75, df);
  let low = 1;
  let high = 1000;
  if (ratio <= ratioOfT(high)) return { standardError: wide / studentQuantile(0.975, high), df: high };
  if (ratio >= ratioOfT(low)) return { standardError: wide / studentQuantile(0.975, low), df: low };
  for (let step = 0; step < 60; step++) {
    const middle = Math.sqrt(low * high);
    if (ratioOfT(middle) > ratio) low = middle;
    else high = middle;
  }
  const df = Math.sqrt(low * high);
  return { standardError: wide / studentQuantile(0.975, df), df };
}

/** Smallest true difference (working scale) that flights like these show with 80 % power. */
export function detectableDifferenceOf(contrast: Contrast, alpha: number): number {
  const { standardError, df } = asStudent(contrast);
  return detectableRatio(Math.max(1, df), 0.8, alpha) * standardError;
}

/** How each value counts in the difference of two configurations: coefficients of the linear estimator. */
export function influenceOf({ estimate, from, to }: Contrast): Float64Array {
  const a = estimate.fit.estimator[estimate.ids.indexOf(from)];
  const b = estimate.fit.estimator[estimate.ids.indexOf(to)];
  return Float64Array.from(a, (share, i) => b[i] - share);
}

/** Standard deviations that each named error adds to the difference, working scale, largest first. */
export function sharedPartsOf(contrast: Contrast): readonly { readonly name: string; readonly sigma: number }[] {
  const influence = influenceOf(contrast);
  const { shared, sharedNames } = contrast.estimate;
  return shared
    .map((vector, k) => ({
      name: sharedNames[k],
      sigma: Math.abs(vector.reduce((sum, value, i) => sum + value * influence[i], 0)),
    }))
    .sort((a, b) => b.sigma - a.sigma);
}

/** Errors of notes of one day or one flight: more days average them out. */
const passing = /^(?:(?:temperature|altimeter|wind|mass) note|lapse|fuel burnt) /;

/** Whether a named error stays however many days are flown: exponents, induced drag, weighings, lines of rate against height. */
export function isLasting(estimate: Estimate, name: string): boolean {
  return !passing.test(name) && !estimate.kindNames.includes(name);
}

/** Standard deviation that errors which more flying days do not average out add to the difference. */
export function commonSigmaOf(contrast: Contrast): number {
  const lasting = sharedPartsOf(contrast).filter(({ name }) => isLasting(contrast.estimate, name));
  return Math.hypot(0, ...lasting.map(({ sigma }) => sigma));
}

/** Residual of each value from the mean of its configuration, working scale. */
export function residualsOf(estimate: Estimate): number[] {
  const means = estimate.ids.map((id) => mixtureMean(combination(estimate.fit, unit(estimate, id))));
  return estimate.y.map((value, i) => value - means[estimate.ids.indexOf(estimate.runs[i].run.configuration)]);
}
