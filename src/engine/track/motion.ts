import type { AltitudeKind, Gap, MotionSource } from './track.ts';

/**
 * What every finder of events works on: a track after cleaning, in a local plane. Columns have the same length as
 * `timeS` and the same rows as the track; a sample that was missing or rejected is `NaN`; nothing is filled across gaps.
 */
export interface Motion {
  /** Unix time, seconds, UTC. */
  readonly timeS: Float64Array;
  /** East and north of the origin, metres, on the ellipsoid's tangent plane (error under 0.5 m at 70 km). */
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly originLatDeg: number;
  readonly originLonDeg: number;
  /** The best geometric altitude (pressure altitude where nothing else exists: then `altitudeKind` is 'pressure'). */
  readonly altitudeM: Float64Array;
  readonly altitudeKind: AltitudeKind;
  readonly altitudeResolutionM: number;
  /** Recorded pressure altitude, where there is one: smooth, good for rates after the temperature correction. */
  readonly pressureAltitudeM?: Float64Array;
  /** Speed over ground: the receiver's where it is sane, else differenced. Not smoothed when it is the receiver's. */
  readonly groundSpeedMps: Float64Array;
  readonly speedSource: MotionSource;
  /** One sigma of the fast (uncorrelated) noise of the ground speed, m/s, estimated from this recording. */
  readonly speedNoiseMps: number;
  /** Fast noise of the altitude, one sigma, m, estimated from this recording. */
  readonly altitudeNoiseM: number;
  /** Fast noise of each horizontal coordinate, one sigma, m, estimated from this recording. */
  readonly positionNoiseM?: number;
  /** How much later changes show in the receiver's speed than in its positions, with one sigma; from this recording. */
  readonly speedLagS?: { readonly value: number; readonly sigma: number };
  /** True direction of motion, radians 0..2π; `NaN` while too slow to tell. */
  readonly trackRad: Float64Array;
  /** Vertical speed the recorder wrote (up positive), where it did. */
  readonly recordedVerticalSpeedMps?: Float64Array;
  /** Vertical speed from local polynomial fits of `altitudeM` over real times. */
  readonly verticalSpeedMps: Float64Array;
  /** Along-track acceleration and turn rate (right positive), from local fits. */
  readonly accelerationMps2: Float64Array;
  readonly turnRateRadps: Float64Array;
  /**
   * What a camera's accelerometer felt forward at the rows, less that at a standstill, m/s2, ahead of the receiver by its
   * delay. Gravity turned by the pitch is in it.
   */
  readonly force?: { readonly forwardMps2: Float64Array };
  /** Runs of rows without a gap: [from, to) indices. */
  readonly stretches: readonly { readonly from: number; readonly to: number }[];
  readonly gaps: readonly Gap[];
  /** Median rate of the recording, Hz. */
  readonly rateHz: number;
}
