import type { Interval } from '../../../shared/measured.ts';
import { mean, sampleVariance } from './sample.ts';
import { studentCdf, studentQuantile } from './student.ts';

/** Mean, sample standard deviation and number of one group. */
export interface SampleSummary {
  readonly count: number;
  readonly mean: number;
  readonly deviation: number;
}

export interface DifferenceTest {
  /** Mean of x less mean of y. */
  readonly difference: number;
  readonly standardError: number;
  readonly t: number;
  readonly df: number;
  /** Two-sided. */
  readonly pValue: number;
  readonly interval: Interval;
}

/** Count, mean and sample standard deviation of a sample. */
export function summarise(values: readonly number[]): SampleSummary {
  return { count: values.length, mean: mean(values), deviation: Math.sqrt(sampleVariance(values)) };
}

/** t test and interval of a difference from its standard error and degrees of freedom. */
export function differenceTest(
  difference: number,
  standardError: number,
  df: number,
  confidence = 0.95,
): DifferenceTest {
  const t = difference / standardError;
  const half = studentQuantile(0.5 + confidence / 2, df) * standardError;
  return {
    difference,
    standardError,
    t,
    df,
    pValue: 2 * studentCdf(-Math.abs(t), df),
    interval: { value: difference, low: difference - half, high: difference + half },
  };
}

/**
 * Welch's t test: the difference of two means when the groups may scatter differently.
 *
 * What for: the default on (logarithms of) day means. Never on runs that share a day: see the README of `compare/`.
 * Where from: B. L. Welch (1947); NIST/SEMATECH e-Handbook 1.3.5.3.
 * @throws RangeError for a group of fewer than two.
 * @example welchT([1, 2, 3], [4, 5, 7]).df // 3.448...
 */
export function welchT(x: readonly number[], y: readonly number[], confidence = 0.95): DifferenceTest {
  return welchTFromSummaries(summarise(x), summarise(y), confidence);
}

/** {@link welchT} from counts, means and standard deviations. */
export function welchTFromSummaries(x: SampleSummary, y: SampleSummary, confidence = 0.95): DifferenceTest {
  requireTwo(x, y);
  const ofX = x.deviation ** 2 / x.count;
  const ofY = y.deviation ** 2 / y.count;
  const df = (ofX + ofY) ** 2 / (ofX ** 2 / (x.count - 1) + ofY ** 2 / (y.count - 1));
  return differenceTest(x.mean - y.mean, Math.sqrt(ofX + ofY), df, confidence);
}

/**
 * Student's t test with a pooled variance: the difference of two means when both groups scatter alike.
 * Where from: NIST/SEMATECH e-Handbook 1.3.5.3.
 * @throws RangeError for a group of fewer than two.
 */
export function pooledT(x: readonly number[], y: readonly number[], confidence = 0.95): DifferenceTest {
  return pooledTFromSummaries(summarise(x), summarise(y), confidence);
}

/** {@link pooledT} from counts, means and standard deviations. */
export function pooledTFromSummaries(x: SampleSummary, y: SampleSummary, confidence = 0.95): DifferenceTest {
  requireTwo(x, y);
  const df = x.count + y.count - 2;
  const variance = ((x.count - 1) * x.deviation ** 2 + (y.count - 1) * y.deviation ** 2) / df;
  return differenceTest(x.mean - y.mean, Math.sqrt(variance * (1 / x.count + 1 / y.count)), df, confidence);
}

function requireTwo(x: SampleSummary, y: SampleSummary): void {
  if (x.count < 2 || y.count < 2)
    throw new RangeError('A difference of means needs at least two values in each group.');
}
