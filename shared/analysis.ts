import type { FilmPart } from './film-time.ts';
import type { Instant, Measured } from './measured.ts';
import type { PhaseKind } from './phase-kind.ts';
import type { Problem } from './problem.ts';
import type { RecordingPart } from './recording-part.ts';

/**
 * What the engine finds in one recording, before any correction to reference conditions. What cannot be told is absent,
 * never zero. Times are Unix seconds (UTC); the rest SI with the unit in the name; intervals are 95 %.
 */
export interface Analysis {
  readonly recording: RecordingSummary;
  readonly phases: readonly Phase[];
  readonly takeoffs: readonly Takeoff[];
  readonly landings: readonly Landing[];
  readonly climbs: readonly Climb[];
  readonly levelRuns: readonly LevelRun[];
  readonly winds: readonly WindEstimate[];
  /** Problems of the analysis (those of reading are in the recording). */
  readonly problems: readonly Problem[];
}

export interface RecordingSummary {
  readonly startS: number;
  readonly endS: number;
  readonly samples: number;
  readonly rateHz: number;
  readonly gaps: readonly { readonly startS: number; readonly endS: number }[];
  readonly altitudeKinds: readonly string[];
  /** 'receiver' where the recorder wrote a speed, 'differenced' where it had to be worked out. */
  readonly speedSource: 'receiver' | 'differenced';
  /** Of a film: when its first picture was taken, so that events can be given as times into it; in the order of time. */
  readonly films?: readonly FilmPart[];
  /** Of a flight in several recordings: each of its files, with the offset of its clock. */
  readonly parts?: readonly RecordingPart[];
}

export interface Phase {
  readonly kind: PhaseKind;
  readonly startS: number;
  readonly endS: number;
}

export interface ScreenPoint {
  /** Height of the wheels above the point of lift-off (runway under the aeroplane), metres. */
  readonly heightM: number;
  readonly time: Instant;
  /** Along the ground from the start of the roll. */
  readonly distanceM: Measured;
  /** From lift-off, seconds and metres: needed for the wind correction of the air distance. */
  readonly timeFromLiftoffS: number;
}

export interface Takeoff {
  readonly outcome: 'flown' | 'rejected' | 'touch-and-go';
  readonly rollStart: Instant;
  /** Absent when rejected, or when it cannot be told. */
  readonly liftoff?: Instant;
  readonly rollingStart: boolean;
  /** Ground speed at `rollStart` of a rolling start; 0 at a standing one. */
  readonly startSpeedMps: number;
  readonly headingRad: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Height of the antenna or recorder at the start in the column used, metres. */
  readonly startAltitudeM?: number;
  readonly groundRollM?: Measured;
  readonly timeToLiftoffS?: Measured;
  /** Ground speed at lift-off. */
  readonly liftoffSpeedMps?: Measured;
  /** Highest ground speed of a rejected take-off. */
  readonly peakSpeedMps?: Measured;
  readonly screens: readonly ScreenPoint[];
  /** Plain sentences: why something is absent or wide. */
  readonly remarks: readonly string[];
}

export interface Landing {
  readonly touchdown: Instant;
  /** End of the landing roll: standing, or slow enough to taxi. Absent when the recording ends before, or at a touch-and-go. */
  readonly stop?: Instant;
  readonly groundRollM?: Measured;
  readonly touchdownSpeedMps?: Measured;
  readonly headingRad: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly remarks: readonly string[];
}

export interface ClimbBand {
  readonly fromAltitudeM: number;
  readonly toAltitudeM: number;
  readonly startS: number;
  readonly endS: number;
  /** Geometric rate through the band. */
  readonly rateOfClimbMps: Measured;
  /** Rate of energy height: corrected for the gain or loss of speed. */
  readonly energyRateMps?: Measured;
  /** Mean ground speed and, where recorded or derivable, true airspeed. */
  readonly groundSpeedMps: number;
  readonly trueAirspeedMps?: number;
  /** Fraction of the time in a turn of more than 1 degree a second. */
  readonly turningFraction: number;
}

export interface Climb {
  readonly startS: number;
  readonly endS: number;
  /** In the altitude column used (`altitudeKind`). */
  readonly fromAltitudeM: number;
  readonly toAltitudeM: number;
  readonly altitudeKind: string;
  readonly rateOfClimbMps: Measured;
  readonly energyRateMps?: Measured;
  /** The best sustained minute. */
  readonly bestMinuteMps?: Measured;
  /** Height gained over ground distance, dimensionless. */
  readonly gradient?: Measured;
  /**
   * One sigma of what rising and sinking air may have added to the rates of this climb, m/s: from the scatter inside the climb, and a floor for slower
   * motions. Not in the intervals above; a comparison adds it to each climb.
   */
  readonly airMotionSigmaMps?: number;
  readonly bands: readonly ClimbBand[];
  readonly remarks: readonly string[];
}

export interface LevelRun {
  readonly startS: number;
  readonly endS: number;
  readonly altitudeM: number;
  readonly trackRad: number;
  readonly groundSpeedMps: Measured;
  readonly trueAirspeedMps?: Measured;
  readonly engineSpeedRpm?: number;
  readonly fuelFlowM3ps?: Measured;
}

export interface WindEstimate {
  readonly startS: number;
  readonly endS: number;
  readonly altitudeM: number;
  /** Where the wind comes from, true. */
  readonly fromRad: Measured;
  readonly speedMps: Measured;
  readonly trueAirspeedMps?: Measured;
  /** 'three or more headings', 'turn', 'recorded airspeed' ... */
  readonly method: string;
}

/** An event given by the pilot: it replaces what was found, and is marked. */
export interface EventOverride {
  readonly event: 'roll-start' | 'liftoff' | 'touchdown' | 'stop';
  /** Which take-off or landing of the recording, from 1. */
  readonly number: number;
  readonly timeS: number;
  /** One sigma of the pilot's time; default 0.3 s (own choice: a few video frames and a judgement). */
  readonly sigmaS?: number;
  readonly why?: string;
  /** Where it was given as a time into the film: that time, seconds. The lateness of the film's positions counts as well. */
  readonly intoFilmS?: number;
  /** Which file of the film, where it is in several. */
  readonly film?: string;
  /** Of a film of another recorder: how well its clock is known on that of the recording, one sigma; it counts as well. */
  readonly filmStartSigmaS?: number;
}

/** What is known from outside the recording and makes the analysis sharper. All optional. */
export interface AnalysisOptions {
  /** Heights above the point of lift-off, metres; default 15.24 (50 ft) and 30.48 (100 ft). */
  readonly screenHeightsM?: readonly number[];
  readonly overrides?: readonly EventOverride[];
  /** Uphill in the direction of the take-off, as a tangent (0.01 is 1 %). */
  readonly runwaySlope?: number;
  /** Usual lift-off airspeed with its sigma, as a weak prior. */
  readonly usualLiftoffTasMps?: { readonly value: number; readonly sigma: number };
  readonly headwindMps?: { readonly value: number; readonly sigma: number };
  /** Height of the bands of a climb, metres; default 152.4 (500 ft). */
  readonly bandHeightM?: number;
  readonly signal?: AbortSignal;
}
