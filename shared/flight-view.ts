import type { Analysis, EventOverride, Phase } from './analysis.ts';
import type { QuantityKind } from './format.ts';
import type { Interval, Measured } from './measured.ts';
import type { Problem } from './problem.ts';

/** One flight as the viewer shows it: everything but the samples. */
export interface FlightView {
  readonly fileName: string;
  readonly format?: string;
  readonly analysis: Analysis;
  readonly phases: readonly PhaseRow[];
  readonly events: readonly EventMark[];
  readonly metrics: readonly MetricRow[];
  /** Of reading and of analysis, in that order. */
  readonly problems: readonly Problem[];
  /** What else the file holds, and what had to be assumed. */
  readonly contents: readonly string[];
  readonly assumptions: readonly string[];
  readonly corrections: Corrections;
}

export interface PhaseRow extends Phase {
  readonly heightChangeM?: number;
  readonly distanceM?: number;
}

export type EventKind = EventOverride['event'] | 'screen';

export interface EventMark {
  /** 'liftoff-1', 'screen-1-15.24'; stable between readings of the same file. */
  readonly id: string;
  readonly kind: EventKind;
  /** Which take-off or landing of the recording, from 1. */
  readonly number: number;
  readonly label: string;
  readonly timeS: number;
  readonly sigmaS: number;
  readonly origin: 'found' | 'pilot';
  /** Of a screen height. */
  readonly heightM?: number;
  readonly why?: string;
}

export interface MetricRow {
  readonly id: string;
  /** 'Take-off 1', 'Climb 2', 'Flight' ... */
  readonly group: string;
  readonly name: string;
  readonly kind: QuantityKind;
  readonly measured: Measured;
  /** Of a band of a climb: from and to, metres. */
  readonly bandM?: readonly [number, number];
  /** Where in the flight it comes from, so that picking it can show it. */
  readonly startS: number;
  readonly endS: number;
}

/** What the pilot corrected: kept in a small file beside the track. */
export interface Corrections {
  /** Name of that file, whether it exists or not. */
  readonly fileName: string;
  readonly overrides: readonly EventOverride[];
  readonly problems: readonly Problem[];
}

/** Conditions as typed by the pilot, with their units, the same texts as in a comparison spec. Empty is unknown. */
export interface TypedConditions {
  readonly temperature: string;
  readonly dewPoint: string;
  readonly altimeterSetting: string;
  /** Direction the wind blows from and speed: '240 deg 12 kt'. */
  readonly windFrom: string;
  readonly windSpeed: string;
  readonly takeoffWeight: string;
  readonly runwayHeading: string;
  readonly runwayElevation: string;
  readonly runwaySlope: string;
  readonly surface: string;
  readonly propeller: string;
  readonly referenceWeight: string;
}

export type ConditionName = keyof TypedConditions;

export const noConditions: TypedConditions = {
  temperature: '',
  dewPoint: '',
  altimeterSetting: '',
  windFrom: '',
  windSpeed: '',
  takeoffWeight: '',
  runwayHeading: '',
  runwayElevation: '',
  runwaySlope: '',
  surface: '',
  propeller: '',
  referenceWeight: '',
};

/** What typed conditions say at once. */
export interface ConditionsView {
  /** Field to what is wrong with its text. */
  readonly faults: Partial<Record<ConditionName, string>>;
  readonly pressureAltitudeM?: number;
  readonly densityAltitudeM?: Interval;
  /** At the height of the wing, for the take-off asked about; positive is a headwind. */
  readonly headwindMps?: Interval;
  readonly crosswindMps?: number;
  /** For the plan view: where the wind comes from, and its speed in words. */
  readonly windFromRad?: number;
  readonly windText?: string;
  readonly runwayHeadingRad?: number;
  readonly corrected: readonly CorrectedRow[];
  /** Plain sentences: what is missing or doubtful. */
  readonly remarks: readonly string[];
}

export interface CorrectedRow {
  /** As in {@link MetricRow}. */
  readonly id: string;
  readonly atReference: Interval;
  readonly steps: readonly {
    readonly name: string;
    readonly factor?: number;
    readonly addend?: number;
    readonly warning?: string;
  }[];
  /** "no wind, level runway, 720 kg, ISA at sea level" */
  readonly at: string;
}
