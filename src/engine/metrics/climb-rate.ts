import type { Measured } from '../../../shared/measured.ts';
import type { WindEstimate } from '../analysis.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { type AirspeedColumn, airspeedColumn } from './airspeed.ts';
import { kineticChange } from './energy.ts';
import { heightChange, type PressureScale, pressureScale } from './height-change.ts';
import { type HeightError, heightError } from './height-error.ts';
import { measured } from './interval.ts';
import { type Rows, stretchHolding } from './rows.ts';

/** What the rates of one recording are worked out from. */
export interface ClimbRecording {
  readonly motion: Motion;
  readonly track: Track;
  readonly error: HeightError;
  readonly airspeed: AirspeedColumn;
}

export function climbRecording(motion: Motion, track: Track, winds: readonly WindEstimate[]): ClimbRecording {
  return { motion, track, error: heightError(motion, track), airspeed: airspeedColumn(motion, track, winds) };
}

/** Changes between two instants. */
export interface HeightAndSpeedChange {
  readonly seconds: number;
  readonly changeM: number;
  readonly sigmaM: number;
  readonly method: string;
  /** Of V^2/2g, metres. */
  readonly kinetic?: { readonly heightM: number; readonly sigmaM: number; readonly method: string };
}

/** `undefined` where the height cannot be read at both instants. */
export function rateBetween(
  recording: ClimbRecording,
  within: Rows,
  startS: number,
  endS: number,
  scale: PressureScale | undefined,
): HeightAndSpeedChange | undefined {
  const { motion, error, airspeed } = recording;
  const change = heightChange(motion, within, startS, endS, error, scale);
  if (change === undefined || !(endS > startS)) return undefined;
  const kinetic = kineticChange(motion, within, airspeed, startS, endS);
  return { seconds: endS - startS, ...change, ...(kinetic === undefined ? {} : { kinetic }) };
}

/** Geometric rate of climb, m/s. */
export function rateOf({ changeM, sigmaM, seconds, method }: HeightAndSpeedChange): Measured {
  return measured(changeM / seconds, sigmaM / seconds, `change of height over time; ${method}`);
}

/** Rate of energy height, where the airspeed is known well enough. */
export function energyOf(change: HeightAndSpeedChange): { readonly energyRateMps?: Measured } {
  const { kinetic, seconds } = change;
  if (kinetic === undefined) return {};
  const value = (change.changeM + kinetic.heightM) / seconds;
  const sigma = Math.hypot(change.sigmaM, kinetic.sigmaM) / seconds;
  const method = `change of energy height over time; ${change.method}; ${kinetic.method}`;
  return { energyRateMps: measured(value, sigma, method) };
}

/**
 * Rate of climb, and of energy height, between two instants chosen by the caller (a part of a climb picked in a plot). `undefined` across a gap or
 * without heights.
 * @param winds Winds found in the recording, for the airspeed.
 */
export function climbRateBetween(
  motion: Motion,
  track: Track,
  winds: readonly WindEstimate[],
  startS: number,
  endS: number,
): { readonly rateOfClimbMps: Measured; readonly energyRateMps?: Measured } | undefined {
  const within = stretchHolding(motion, startS, endS);
  if (within === undefined) return undefined;
  const recording = climbRecording(motion, track, winds);
  const scale = pressureScale(motion, track, within, startS, endS, recording.error);
  const change = rateBetween(recording, within, startS, endS, scale);
  return change === undefined ? undefined : { rateOfClimbMps: rateOf(change), ...energyOf(change) };
}
