import { formatFixed } from '../../../shared/format.ts';
import { madToSigma, median } from '../stats/sample.ts';
import { type Estimate, residualsOf, totalDeviations } from './estimate.ts';

/** A run this many robust standard deviations off is pointed out (about 1 in 2,000 of a normal sample). */
const farOff = 3.5;

/**
 * Runs that stand out, with the reason: nothing is removed. Residuals are taken from the median of the configuration, relative to what each run's own
 * error and the usual scatter allow; where the flights agree better than that, the observed robust scatter counts.
 * @returns one entry a run, undefined for ordinary ones.
 */
export function outliersOf(estimate: Estimate): (string | undefined)[] {
  const residuals = residualsOf(estimate);
  const expected = totalDeviations(estimate);
  const configurations = estimate.runs.map(({ run }) => run.configuration);
  const centred = residuals.map(
    (residual, i) => residual - median(residuals.filter((_, j) => configurations[j] === configurations[i])),
  );
  const relative = centred.map((residual, i) => residual / expected[i]);
  // With fewer than six values a robust scatter says nothing.
  const observed = relative.length >= 6 ? madToSigma * median(relative.map(Math.abs)) : 1;
  const unit = Math.max(observed, 0.5);
  return relative.map((value, i) => {
    const off = Math.abs(value) / unit;
    if (!(off > farOff)) return undefined;
    const { less, more } = estimate.kind.words;
    const size = estimate.kind.scale === 'log' ? `${formatFixed(100 * Math.abs(Math.expm1(centred[i])), 0)} % ` : '';
    return `${size}${centred[i] < 0 ? less : more} than the others of its configuration: ${formatFixed(off, 1)} times their scatter. It counts all the same.`;
  });
}
