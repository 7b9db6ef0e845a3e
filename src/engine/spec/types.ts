import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { Place, Problem } from '../../../shared/problem.ts';
import type { EventOverride } from '../analysis.ts';
import type { CsvMapping } from '../readers/reader.ts';
import type { Place as PlaceOnGround } from '../track/privacy.ts';
import type { FurtherRecordings } from '../recordings/index.ts';
import type { WrittenAirfield, WrittenConditions } from './grammar/language.ts';
import type { WrittenAircraft, WrittenConfigurations, WrittenSpec } from './grammar/language.ts';
import type { WrittenCorrection } from './grammar/sections/flights.ts';

/**
 * A comparison spec after parsing: quantities in SI, shared conditions (day, airfield, runway) merged into each flight,
 * patterns of tracks expanded. What the pilot did not write down stays `undefined`: it is never filled with a guess.
 */
export interface Spec {
  readonly title: string;
  readonly aircraft: Aircraft;
  /** In the order written. */
  readonly configurations: readonly Configuration[];
  /** Id of the configuration that the others are compared with. */
  readonly baseline: string;
  /** What is adjusted, where configurations have settings: "blade angle", or "setting" where it is not told. */
  readonly settingOf?: string;
  readonly flights: readonly FlightEntry[];
  readonly exclusions: readonly Exclusion[];
  readonly reference: ReferenceConditions;
  readonly questions: Questions;
  readonly report: ReportOptions;
  /** How copies without places are made, where the spec says it. */
  readonly share?: ShareSettings;
  /** Loading, fuel, candidates, missions and plan, where the spec has any of them. */
  readonly decision?: DecisionSections;
}

/** A noted quantity with the standard deviation of the note (stated, or the default of its kind). */
export interface Noted {
  readonly value: number;
  readonly sigma: number;
  /** True when the pilot stated the uncertainty, false when the default of the kind was used. */
  readonly sigmaStated: boolean;
}

export type PropellerKind = 'fixed-pitch' | 'constant-speed';

export interface Aircraft {
  readonly name: string;
  readonly propeller: PropellerKind;
  /** Power kept with height up to a critical altitude. */
  readonly turbocharged: boolean;
  readonly referenceMassKg?: number;
  readonly maximumMassKg?: number;
  readonly usableFuelM3?: number;
  readonly fuelDensityKgM3?: number;
  readonly wingAreaM2?: number;
  readonly spanM?: number;
  readonly ratedPowerW?: number;
}

export interface Configuration {
  readonly id: string;
  readonly description?: string;
  readonly emptyMassKg?: Noted;
  /** Total mass at which it is judged, where the weight is what differs. */
  readonly massKg?: number;
  readonly propeller?: PropellerKind;
  readonly ratedPowerW?: number;
  /** Of an adjustable part, where it is told; see {@link Spec.settingOf}. */
  readonly setting?: Setting;
  readonly at?: Place;
}

/** The setting of an adjustable part. All settings of a spec are in one unit, that of the first that is written. */
export interface Setting {
  readonly value: number;
  /** Symbol of a unit ("deg"), or what is counted ("holes"). */
  readonly unit: string;
}

export type SurfaceKind = 'paved' | 'grass' | 'gravel' | 'dirt' | 'snow' | 'water' | 'other';

export interface Surface {
  readonly kind: SurfaceKind;
  readonly wet: boolean;
  readonly soft: boolean;
  readonly long: boolean;
}

export interface Runway {
  readonly name?: string;
  readonly airfield?: string;
  /** True heading in the direction of the take-off. */
  readonly headingRad?: number;
  /** Elevation at the start of the take-off. */
  readonly elevationM?: number;
  /** Tangent, positive uphill in the direction of the take-off. */
  readonly slope?: Noted;
  readonly surface?: Surface;
}

export interface NotedWind {
  /** True direction from which it blows. */
  readonly fromRad: number;
  readonly speedMps: number;
  readonly gustMps?: number;
  /** Standard deviation of each component of the noted wind at the runway. */
  readonly sigmaMps: number;
  readonly sigmaStated: boolean;
  /** E.g. "windsock", "station 2 km away". */
  readonly source?: string;
  /** Height at which it was measured; 10 m by convention of weather stations. */
  readonly heightM?: number;
}

export type StartKind = 'standing' | 'rolling';

export interface Conditions {
  readonly airTemperatureK?: Noted;
  readonly dewPointK?: Noted;
  readonly altimeterSettingPa?: Noted;
  readonly wind?: NotedWind;
  readonly takeoffMassKg?: Noted;
  readonly runway?: Runway;
  readonly start?: StartKind;
  /** Free words, compared as a category: "three-point", "soft-field", "flaps 20" ... */
  readonly technique?: string;
  /** Free words: cruise power setting, compared as a category. */
  readonly cruiseSetting?: string;
  readonly climbIndicatedAirspeedMps?: Noted;
  readonly fuelAtStartM3?: Noted;
  readonly fuelUsedM3?: Noted;
  readonly note?: string;
}

export interface FlightEntry {
  /** As written in the spec, or as found by its pattern; relative to the spec. */
  readonly track: string;
  readonly configuration: string;
  /** Local date of the note, if the pilot gave one (otherwise the recording's UTC date is used): `YYYY-MM-DD`. */
  readonly date?: string;
  readonly conditions: Conditions;
  readonly overrides: readonly EventOverride[];
  readonly csv?: CsvMapping;
  /** Further recordings of the same flight. */
  readonly further?: FurtherRecordings;
  readonly at?: Place;
  /** Entry under `days` that is named; absent where the date of the recording is to decide. */
  readonly day?: string;
  /** What this entry itself says, before what it shares is merged in. */
  readonly written?: WrittenConditions;
  /** Corrections as written: a time of day becomes an override when the date of the recording is known. */
  readonly corrections?: readonly WrittenCorrection[];
}

/** What flights share, kept so that a recording's own date can still find its day. */
export interface SharedConditions {
  readonly days: Readonly<Record<string, WrittenConditions>>;
  readonly airfields: Readonly<Record<string, WrittenAirfield>>;
  /** Technique of each configuration. */
  readonly configurations: Readonly<Record<string, WrittenConditions>>;
}

export interface Exclusion {
  readonly track: string;
  /** Absent: the whole flight. */
  readonly metric?: string;
  /** Only this take-off, landing or climb of the recording, from 1. */
  readonly number?: number;
  readonly because: string;
  readonly at?: Place;
}

/** The half of the job around the flights, as written: quantities in SI, worked out by `decision/`. */
export interface DecisionSections {
  readonly aircraft: WrittenAircraft;
  readonly configurations: WrittenConfigurations;
  readonly loading?: WrittenSpec['loading'];
  readonly fuel?: WrittenSpec['fuel'];
  readonly candidates?: WrittenSpec['candidates'];
  readonly missions?: WrittenSpec['missions'];
  readonly plan?: WrittenSpec['plan'];
}

export interface ReferenceConditions {
  readonly massKg?: number;
  /** People, baggage and fuel on top of each configuration's own empty mass, for "equal load". */
  readonly loadKg?: number;
  /** Density altitude at which take-off and landing are given. */
  readonly densityAltitudeM: number;
  readonly headwindMps: number;
  readonly slope: number;
  /** Density altitude at which the rate of climb is given; default as `densityAltitudeM`. */
  readonly climbDensityAltitudeM?: number;
  /** Density altitude at which level speed is given. */
  readonly cruiseDensityAltitudeM?: number;
}

export interface Question {
  /** `ground-roll`, `distance-over-15m`, `rate-of-climb`, `climb-held-to` ... */
  readonly metric: string;
  readonly primary: boolean;
  /** Equivalence margin, as a fraction (0.05) or in the metric's SI unit. */
  readonly margin?: { readonly value: number; readonly relative: boolean };
  /** For `distance-over-…`: the height, m. For `climb-held-to`: the rate, m/s. */
  readonly heightM?: number;
  readonly rateMps?: number;
  /** Difference that would matter to the pilot, for planning. */
  readonly worthwhile?: { readonly value: number; readonly relative: boolean };
  readonly at?: Place;
}

export interface Questions {
  readonly ask: readonly Question[];
  /** Which mass basis to report beside "as flown". */
  readonly at: readonly ('own-weight' | 'equal-weight' | 'equal-load')[];
  /** Which pairs of three or more configurations are compared; all where it is not stated. */
  readonly pairs?: 'all' | 'against-baseline';
}

export interface ReportOptions {
  /** Relative to the spec. */
  readonly file?: string;
  /** Write between the two marker comments of an existing file. */
  readonly insertInto?: string;
  readonly units: DisplayUnits;
  readonly hidePositions: boolean;
  readonly figures: boolean;
  /** Whether the figure of the trade between metrics is drawn; where not stated, for three configurations or more. */
  readonly trade?: boolean;
}

/** How copies without places are made; what is absent was not written. */
export interface ShareSettings {
  readonly places?: 'moved' | 'cut';
  readonly radiusM?: number;
  readonly around?: readonly PlaceOnGround[];
  readonly heights?: 'kept' | 'relative';
  readonly dates?: 'kept' | 'moved';
  readonly format?: 'gpx' | 'csv';
  /** Relative to the spec. */
  readonly folder?: string;
  readonly secret?: string;
}

export type { DisplayUnits };

export interface ParsedSpec {
  /** Present when the text could be understood well enough to evaluate. */
  readonly spec?: Spec;
  readonly problems: readonly Problem[];
  /** Present with `spec`. */
  readonly shared?: SharedConditions;
}
