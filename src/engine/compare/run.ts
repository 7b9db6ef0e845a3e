import type { Interval } from '../../../shared/measured.ts';
import type { AppliedCorrection, Footing, LeftOut } from './result.ts';

/** What everything is brought to. */
export interface Target {
  readonly footing: Footing;
  /** Total mass of each configuration at which values are given, kg, with its standard deviation; undefined where it cannot be told. */
  readonly massOf: (configuration: string) => { readonly value: number; readonly sigma: number } | undefined;
}

/** A run at reference conditions, before any averaging. */
export interface ReducedRun {
  /** SI. */
  readonly value: number;
  /** Errors of this run alone: one standard deviation, SI. */
  readonly ownSigma: number;
  /**
   * Errors that other runs may share, by name: what one standard deviation of each does to this value, with its sign, SI. The same name in two runs
   * is the same error: the exponent of a correction, the wind note of a day, the noted slope of a runway.
   */
  readonly shared: Readonly<Record<string, number>>;
  readonly corrections: readonly AppliedCorrection[];
}

/** Ways in which runs may be of another kind. */
export interface RunKinds {
  /** Never pooled: runway surface, power setting, way of measuring. */
  readonly strict: Readonly<Record<string, string>>;
  /** May be pooled with a shift of their own; undefined where it was not noted. The number is the usual size of the shift, a fraction. */
  readonly soft: Readonly<Record<string, { readonly value: string | undefined; readonly usualShift: number }>>;
}

/** Conditions of a run for matching: what was flown, where known. */
export interface RunConditions {
  readonly densityAltitudeM?: number;
  readonly massKg?: number;
  readonly headwindMps?: number;
}

/** One take-off, climb, level run or landing that a metric can use. */
export interface CollectedRun {
  readonly file: string;
  /** From 1. */
  readonly number: number;
  readonly day: string;
  readonly configuration: string;
  readonly timeS: number;
  readonly raw: Interval;
  readonly kinds: RunKinds;
  readonly conditions: RunConditions;
  /** At reference conditions, or the reason why it cannot be brought there, as a sentence. */
  readonly reduce: (target: Target) => ReducedRun | string;
}

export interface Collected {
  readonly runs: readonly CollectedRun[];
  readonly leftOut: readonly LeftOut[];
}

/** Half width of a 95 % interval in standard deviations. */
export const normal95 = 1.959963984540054;

/** Standard deviation behind a 95 % interval. */
export function sigmaOf(interval: Interval): number {
  return (interval.high - interval.low) / (2 * normal95);
}

export function isReduced(reduced: ReducedRun | string): reduced is ReducedRun {
  return typeof reduced !== 'string';
}
