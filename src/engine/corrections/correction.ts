import { rootSumSquare } from './uncertain.ts';

/** What a correction's error comes from. The noted quantities differ from run to run; an exponent is wrong for all runs alike. */
export type NotedSource = 'headwind' | 'speed' | 'slope' | 'mass' | 'density' | 'time' | 'temperature';
export type ModelSource =
  | 'wind exponent'
  | 'slope model'
  | 'weight exponent'
  | 'density exponent'
  | 'induced drag'
  | 'power'
  | 'rate line';
export type ErrorSource = NotedSource | ModelSource;

const modelSources: ReadonlySet<string> = new Set<ModelSource>([
  'wind exponent',
  'slope model',
  'weight exponent',
  'density exponent',
  'induced drag',
  'power',
  'rate line',
]);

export type CorrectionName = 'wind' | 'slope' | 'weight' | 'density' | 'energy' | 'temperature' | 'instrument';

/** One correction of one measured value: corrected = measured x factor, or measured + addend. */
export interface Correction {
  readonly name: CorrectionName;
  /** Dimensionless; absent where the correction is an addend. */
  readonly factor?: number;
  /** In the unit of the value. */
  readonly addend?: number;
  /** Standard deviation that the correction adds, as a fraction of the corrected value. */
  readonly relativeSigma: number;
  /** Part of it that is this run's own (noted quantities). */
  readonly notedRelativeSigma: number;
  /** Part of it that all runs share (exponents). It cancels in a comparison as far as conditions were matched. */
  readonly modelRelativeSigma: number;
  /** Signed relative change of the corrected value for one standard deviation of each source. */
  readonly sensitivity: Readonly<Partial<Record<ErrorSource, number>>>;
  /** False outside the range the method was made for: shown, never hidden. */
  readonly valid: boolean;
  /** Large (beyond 10 %) or outside its range: with the reason, as a sentence. */
  readonly warning?: string;
}

/** A correction of more than this fraction is marked (flight-test reference handbook, SFTE 2013, ch. 12: keep within 10 %). */
export const largeCorrection = 0.1;

interface Made {
  readonly name: CorrectionName;
  readonly factor?: number;
  readonly addend?: number;
  /** Fraction by which the correction changes the value, for the mark. */
  readonly change: number;
  readonly sensitivity: Readonly<Partial<Record<ErrorSource, number>>>;
  /** Sentences that say why the correction is outside its range; any makes it not valid. */
  readonly outside: readonly string[];
}

/** Puts a correction together: sums the errors by kind, and marks it when large or outside its range. */
export function makeCorrection(made: Made): Correction {
  const { name, factor, addend, change, sensitivity, outside } = made;
  const entries = Object.entries<number>(sensitivity);
  const of = (model: boolean): number =>
    rootSumSquare(entries.filter(([source]) => modelSources.has(source) === model).map(([, value]) => value));
  const noted = of(false);
  const model = of(true);
  const sentences = [...outside];
  if (Math.abs(change) > largeCorrection) {
    sentences.unshift(
      `The correction for ${name} is ${(change * 100).toFixed(0)} %: more than 10 %, where errors of the method itself begin to count.`,
    );
  }
  return {
    name,
    ...(factor === undefined ? {} : { factor }),
    ...(addend === undefined ? {} : { addend }),
    relativeSigma: Math.hypot(noted, model),
    notedRelativeSigma: noted,
    modelRelativeSigma: model,
    sensitivity,
    valid: outside.length === 0,
    ...(sentences.length === 0 ? {} : { warning: sentences.join(' ') }),
  };
}
