import type { Interval } from '../../../shared/measured.ts';
import { studentCdf, studentQuantile } from './student.ts';
import { welchT } from './two-sample.ts';

export interface EquivalenceTest {
  readonly equivalent: boolean;
  /** The larger of the two one-sided p. */
  readonly pValue: number;
  /** Against a difference as low as -margin, and as high as +margin. */
  readonly lowerP: number;
  readonly upperP: number;
  /** At 1 - 2 alpha (90 % for alpha 0.05): equivalent when inside the margins. */
  readonly interval: Interval;
}

/**
 * Two one-sided tests: is a difference shown to lie within a margin that was named beforehand?
 *
 * What for: "the modification did nothing that matters" as a finding, which a large p never is.
 * Where from: D. J. Schuirmann (1987).
 * @param low Lower margin (negative), @param high upper margin, in the unit of the difference.
 */
export function equivalenceFromEstimate(
  difference: number,
  standardError: number,
  df: number,
  low: number,
  high: number,
  alpha = 0.05,
): EquivalenceTest {
  const lowerP = studentCdf(-(difference - low) / standardError, df);
  const upperP = studentCdf((difference - high) / standardError, df);
  const half = studentQuantile(1 - alpha, df) * standardError;
  const pValue = Math.max(lowerP, upperP);
  return {
    equivalent: pValue < alpha,
    pValue,
    lowerP,
    upperP,
    interval: { value: difference, low: difference - half, high: difference + half },
  };
}

/** {@link equivalenceFromEstimate} of two samples by Welch's test, margins of plus and minus `margin`. */
export function equivalenceTest(
  x: readonly number[],
  y: readonly number[],
  margin: number,
  alpha = 0.05,
): EquivalenceTest {
  const { difference, standardError, df } = welchT(x, y);
  return equivalenceFromEstimate(difference, standardError, df, -margin, margin, alpha);
}
