import { formatFixed } from '../../../shared/format.ts';
import { madToSigma, median } from '../stats/sample.ts';
import { type Estimate, residualsOf } from './estimate.ts';

/** A run this many robust standard deviations off is pointed out (about 1 in 2,000 of a normal sample). */
const farOff = 3.5;

/**
 * Runs that stand out, with the reason: nothing is removed. Each run is held against the median of its configuration, in units of what its own known errors and the
 * usual scatter of such a value allow, or of the robust scatter of all runs where that is larger. The fitted scatter is not used: the odd run itself has widened it.
 * @returns one entry a run, undefined for ordinary ones.
 */
export function outliersOf(estimate: Estimate): (string | undefined)[] {
  const { kind, runs, shared, knownVariance, usualScatter } = estimate;
  const residuals = residualsOf(estimate);
  const configurations = runs.map(({ run }) => run.configuration);
  const centred = residuals.map(
    (residual, i) => residual - median(residuals.filter((_, j) => configurations[j] === configurations[i])),
  );
  const relative = centred.map((residual, i) => {
    const known = shared.reduce((sum, vector) => sum + vector[i] ** 2, knownVariance[i]);
    return residual / Math.sqrt(known + usualScatter ** 2);
  });
  const unit = Math.max(1, madToSigma * median(relative.map(Math.abs)));
  return relative.map((value, i) => {
    const off = Math.abs(value) / unit;
    if (!(off > farOff)) return undefined;
    const { less, more } = kind.words;
    const size = kind.scale === 'log' ? `${formatFixed(100 * Math.abs(Math.expm1(centred[i])), 0)} % ` : '';
    return `${size}${centred[i] < 0 ? less : more} than the others of its configuration: ${formatFixed(off, 1)} times their scatter. It counts all the same.`;
  });
}
