import type { FilmPart } from '../../../shared/film-time.ts';
import type { RecordingPart } from '../../../shared/recording-part.ts';

/**
 * The one track model. All columns have the same length `n`; a missing sample is `NaN`; a column that the recording does
 * not have is `undefined`. Rows are in ascending time without exact duplicates (readers drop or spread those and report a
 * problem). SI units, angles in radians except positions, which stay in degrees as the geodesic library wants them.
 */
export type AltitudeKind = 'msl' | 'ellipsoid' | 'pressure' | 'unknown';

export interface AltitudeColumn {
  /** `pressure` is ISA pressure altitude (1013.25 hPa); `msl` and `ellipsoid` are geometric; `unknown` is geometric without a stated datum. */
  readonly kind: AltitudeKind;
  readonly valuesM: Float64Array;
  /** Smallest step with which the recorder wrote the value, metres (1 for IGC), if known. */
  readonly resolutionM?: number;
}

/** Where a speed or direction comes from: the receiver's own (Doppler) value or differences of position. */
export type MotionSource = 'receiver' | 'differenced';

/** Further recorded channels. Units are in the names. */
export type ChannelName =
  | 'indicatedAirspeedMps'
  | 'trueAirspeedMps'
  | 'outsideAirTemperatureK'
  | 'engineSpeedRpm'
  | 'manifoldPressurePa'
  | 'fuelFlowM3ps'
  | 'fuelQuantityM3'
  | 'fuelUsedM3'
  | 'pitchRad'
  | 'rollRad'
  | 'headingRad'
  | 'engineNoise'
  | 'windSpeedMps'
  | 'windFromRad'
  | 'accelerationForwardMps2'
  | 'accelerationUpMps2';

export interface Gap {
  readonly startS: number;
  readonly endS: number;
}

export interface Track {
  /** Unix time, seconds, UTC; strictly ascending. */
  readonly timeS: Float64Array;
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
  /** Zero or more, best geometric one first. */
  readonly altitudes: readonly AltitudeColumn[];
  /** Only what the recorder wrote: speed over ground. */
  readonly groundSpeedMps?: Float64Array;
  /** Only what the recorder wrote: true direction of motion. */
  readonly trackRad?: Float64Array;
  /** Only what the recorder wrote: positive up. */
  readonly verticalSpeedMps?: Float64Array;
  /** The recorder's own claims, one sigma. */
  readonly horizontalSigmaM?: Float64Array;
  readonly verticalSigmaM?: Float64Array;
  readonly speedSigmaMps?: Float64Array;
  readonly hdop?: Float64Array;
  /** Indices at which reception was stated to be interrupted before this row (a new segment), ascending, without 0. */
  readonly breaks: readonly number[];
  readonly channels: Partial<Record<ChannelName, Float64Array>>;
  /** How coarsely positions were written, metres (1.85 for IGC without further digits), if known. */
  readonly positionResolutionM?: number;
  /** How coarsely speed was written, m/s, if known. */
  readonly speedResolutionMps?: number;
  /** Which of the following the recording does not itself state, e.g. a date taken from the file name. */
  readonly assumptions: readonly string[];
  /** For video: Unix time of its time 0, from which players count, so that an event can be given as time into the video. */
  readonly videoStartS?: number;
  /** Of a flight in several recordings: the films of it, in the order of time; counts instead of `videoStartS`. */
  readonly films?: readonly FilmPart[];
  /** Of a flight in several recordings: each of its files. */
  readonly parts?: readonly RecordingPart[];
}

export type TrackFormat = 'gpx' | 'igc' | 'kml' | 'nmea' | 'csv' | 'fit' | 'gpmf' | 'camm';
