import type { ProblemList } from '../problem-list.ts';
import type { GpsStream } from './gps-stream.ts';

/** A dilution of precision above this is no usable position: the format's own text calls under 5.00 good. */
export const worstGoodDop = 5;

/**
 * Positions still settle for about this long after the receiver's first fix (common practice, no source): the filter of
 * the receiver starts from a coarse position. Left out where the film shows the moment of the first fix.
 */
const settlingS = 10;

/** Fewer samples than this are no recording of anything. */
export const fewestFixes = 2;

/** A fix in three dimensions with a good dilution of precision; what the stream does not state cannot speak against it. */
export function isGood(stream: GpsStream, row: number): boolean {
  const { fix, dop } = stream;
  return (Number.isNaN(fix[row]) || fix[row] >= 3) && (Number.isNaN(dop[row]) || dop[row] <= worstGoodDop);
}

/** Rows that are measurements; what is left out is told. */
export function goodRows(stream: GpsStream, problems: ProblemList): number[] {
  const good: number[] = [];
  for (let row = 0; row < stream.latDeg.length; row++) if (isGood(stream, row)) good.push(row);
  if (good.length === 0) return good;
  const before = good[0];
  const after = stream.latDeg.length - before - good.length;
  if (before > 0) {
    problems.warning(
      'gpmf-before-fix',
      'Positions before the first good fix were left out: a camera writes plausible ones before it has any.',
      {},
      before,
    );
  }
  if (after > 0) {
    problems.warning(
      'gpmf-fix-lost',
      'Positions without a good fix (3D, dilution of precision 5 or better) were left out.',
      {},
      after,
    );
  }
  if (Number.isNaN(stream.fix[good[0]])) {
    problems.warning(
      'gpmf-fix-not-stated',
      'The stream does not say whether the receiver had a fix: all positions are taken.',
    );
  }
  return good;
}

/** Leaves out the first seconds after the first fix, where the recording shows that there was none before. */
export function withoutSettling(
  good: readonly number[],
  timeS: Float64Array,
  problems: ProblemList,
): readonly number[] {
  if (good[0] === 0) return good;
  const endS = timeS[good[0]] + settlingS;
  const settled = good.filter((row) => !(timeS[row] < endS));
  if (settled.length < fewestFixes) {
    problems.warning(
      'gpmf-short-after-fix',
      `The recording ends less than ${settlingS} s after the first fix: its positions may still be settling.`,
    );
    return good;
  }
  problems.info(
    'gpmf-settling',
    `The first ${settlingS} s after the first fix were left out, as positions still settle then.`,
    {},
    good.length - settled.length,
  );
  return settled;
}
