import type { Correction } from '../corrections/index.ts';
import type { AppliedCorrection } from './result.ts';

/** A correction as it is kept beside the raw value. */
export function applied({ name, factor, addend, relativeSigma, warning }: Correction): AppliedCorrection {
  return {
    name,
    ...(factor === undefined ? {} : { factor }),
    ...(addend === undefined ? {} : { addend }),
    relativeSigma,
    ...(warning === undefined ? {} : { warning }),
  };
}
