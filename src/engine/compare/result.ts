import type { Interval } from '../../../shared/measured.ts';
import type { Problem } from '../../../shared/problem.ts';

/**
 * On which footing a metric is compared: raw; same total mass; same load on each configuration's own empty mass; each
 * configuration at a total mass of its own, where the mass is what differs.
 */
export type Footing = 'as-flown' | 'equal-weight' | 'equal-load' | 'own-weight';

/** Closed list; which of the two directions is the good one is a property of the metric, not of the word. */
export type Verdict =
  | 'shorter'
  | 'longer'
  | 'higher'
  | 'lower'
  | 'equivalent'
  | 'no difference shown'
  | 'too few flights';

/** One correction applied to one run, kept so that it can be shown beside the raw value. */
export interface AppliedCorrection {
  readonly name: 'wind' | 'slope' | 'weight' | 'density' | 'energy' | 'temperature' | 'instrument';
  /** Corrected = before x factor (+ addend). */
  readonly factor?: number;
  readonly addend?: number;
  /** Standard deviation it adds, as a fraction of the corrected value. */
  readonly relativeSigma: number;
  /** Large (beyond 10 %) or outside its validity: with the reason. */
  readonly warning?: string;
}

export interface RunValue {
  readonly file: string;
  /** Which take-off, climb, run or landing of the file, from 1. */
  readonly number: number;
  readonly day: string;
  readonly timeS: number;
  /** As measured. */
  readonly raw: Interval;
  /** At reference conditions on this footing (equal to `raw` when as flown). */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** One sigma of this run's own measurement and corrections, same unit as value. */
  readonly sigma: number;
  readonly corrections: readonly AppliedCorrection[];
  /** Weight of the run in the comparison, 0 to 1, after matching of conditions. */
  readonly weight: number;
  /** Shown, not dropped: why this run stands out. */
  readonly outlier?: string;
}

export interface ConfigurationResult {
  readonly id: string;
  readonly runs: number;
  readonly days: number;
  readonly mean?: Interval;
  /** Plain mean of the raw values. */
  readonly naiveMean?: number;
  readonly values: readonly RunValue[];
}

export interface Change {
  readonly from: string;
  readonly to: string;
  /**
   * At the level `confidence`, which is 95 % for a single primary question and higher where several questions share one level: zero lies outside exactly
   * when the verdict is a difference. Both are absent "as flown" where corrections exist: raw values are shown, not judged.
   */
  readonly difference?: Interval;
  /** The same in per cent of `from`; absent for altitudes and weights, whose changes are told in their unit. */
  readonly percent?: Interval;
  /** Level of `difference` and `percent`, 0.95 or more. */
  readonly confidence?: number;
  /** 95 % interval in per cent, not allowing for the number of questions asked. */
  readonly percentAlone?: Interval;
  /** 95 % interval of the difference, SI, not allowing for the number of questions asked. */
  readonly differenceAlone?: Interval;
  readonly naivePercent?: number;
  readonly verdict: Verdict;
  readonly pValue?: number;
  /** After allowing for the number of questions asked. */
  readonly pValueAdjusted?: number;
  /** Of the difference being as large as the margin; small: equivalent. Only where a margin was stated. */
  readonly pEquivalence?: number;
  /** Check without a model: p of exchanging the days between the configurations. Absent where days hold both. */
  readonly permutationP?: number;
  /** Further flying days in each configuration that would settle it; null when none would help or none is needed. */
  readonly moreDays: number | null;
  /** Smallest difference, percent, that these flights could have shown with 80 % power. */
  readonly detectablePercent?: number;
  /** The same in the SI unit of the metric. */
  readonly detectable?: number;
  /** One plain sentence. */
  readonly sentence: string;
  readonly warnings: readonly string[];
}

/** A metric seen against a condition, for drawing: what was measured and the line through it. SI throughout. */
export interface SeenAgainst {
  readonly condition: 'density-altitude';
  readonly configurations: readonly {
    readonly id: string;
    readonly points: readonly {
      readonly file: string;
      readonly day: string;
      readonly x: number;
      readonly value: number;
    }[];
    /** The fitted line with its 95 % band at some x, ascending, within the data; empty where none was fitted. */
    readonly line: readonly {
      readonly x: number;
      readonly value: number;
      readonly low: number;
      readonly high: number;
    }[];
  }[];
}

/**
 * A metric along the setting of an adjustable part: a constant change per unit of the setting, fitted to the means of the configurations, and whether
 * they bend away from it. Intervals are 95 % ones of a single question. Nothing is said of settings that were not flown.
 */
export interface AlongSetting {
  /** Settings on the line, in the unit of the spec, ascending; three different ones or more. */
  readonly settings: readonly { readonly id: string; readonly value: number }[];
  /** SI per unit of the setting; of a metric told in per cent: per cent per unit of the setting. */
  readonly slope: Interval;
  readonly slopeIn: 'percent' | 'si';
  /** True where the change from setting to setting is shown not to be constant (95 % level): then the slope says little. */
  readonly bends: boolean;
  /** The line from the lowest to the highest setting, SI: for drawing. Empty where it bends. */
  readonly line: readonly { readonly setting: number; readonly value: number }[];
}

export interface MetricResult {
  readonly metric: string;
  /** SI unit of all values. */
  readonly unit: 'm' | 'm/s' | 's' | 'm3/s' | 'kg' | '1';
  readonly conditions: Footing;
  /** True when a smaller value is the better one; undefined when neither is. */
  readonly smallerIsBetter?: boolean;
  readonly primary: boolean;
  readonly configurations: readonly ConfigurationResult[];
  readonly changes: readonly Change[];
  /** Conditions the values stand for, as a sentence. */
  readonly at: string;
  /** E.g. the rate of climb against density altitude: drawn in the report where given. */
  readonly seenAgainst?: SeenAgainst;
  /** Where three settings or more were flown. */
  readonly alongSetting?: AlongSetting;
}

export interface LeftOut {
  readonly file: string;
  readonly metric?: string;
  readonly number?: number;
  readonly reason: string;
  /** 'pilot' when the spec excludes it. */
  readonly by: 'engine' | 'pilot';
}

export interface ComparisonResult {
  readonly title: string;
  readonly metrics: readonly MetricResult[];
  readonly leftOut: readonly LeftOut[];
  readonly problems: readonly Problem[];
}
