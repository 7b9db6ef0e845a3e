import type { Climb, ClimbBand, Phase, WindEstimate } from '../analysis.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { climbAirMotionSigmaMps } from './air-motion.ts';
import { type ClimbRecording, climbRecording, energyOf, rateBetween, rateOf } from './climb-rate.ts';
import { type ClimbStretch, climbStretches } from './climb-stretches.ts';
import { heightChange, type PressureScale, pressureScale } from './height-change.ts';
import { measured } from './interval.ts';
import { meanOfRows, type Rows, rowsBetween } from './rows.ts';
import { valueAt } from './value-at.ts';

export interface ClimbOptions {
  /** Height of a band, m; default 152.4 (500 ft). */
  readonly bandHeightM?: number;
  /** Winds found in this recording: they turn ground velocity into airspeed for the correction for gained speed. */
  readonly winds?: readonly WindEstimate[];
}

/** A band cut short by the beginning or end of the climb is kept when it is at least so much of a whole one. */
const leastOfBand = 0.5;
/** And lasts at least so long, seconds. */
const shortestBandS = 15;
const turningRadps = Math.PI / 180;
const defaultBandM = 152.4;

const airRemark =
  'The rate is over the ground: rising or sinking air is in it and cannot be seen from one climb. Compare several, on several days.';

/**
 * The sustained climbs of a recording, with bands of height. Level-offs and gaps split climbs; the first 300 ft above the ground are left out.
 *
 * Rates are changes of geometric height over time between two instants of one stretch, with the error of the recorded heights (slow wander and fast
 * noise) in their intervals, and, as `energyRateMps`, corrected for the gain or loss of airspeed (flight-test reference handbook, SFTE 2013, ch. 12).
 * The motion of the air is not in the intervals of the rates: `airMotionSigmaMps` tells what it may add.
 *
 * `phases` are used only to leave out what is called ground movement.
 */
export function findClimbs(
  motion: Motion,
  track: Track,
  phases: readonly Phase[] = [],
  options: ClimbOptions = {},
): Climb[] {
  const recording = climbRecording(motion, track, options.winds ?? []);
  const bandM = options.bandHeightM !== undefined && options.bandHeightM > 0 ? options.bandHeightM : defaultBandM;
  return climbStretches(motion)
    .filter((stretch) => !onGround(stretch, phases))
    .flatMap((stretch) => {
      const climb = describe(recording, stretch, bandM);
      return climb === undefined ? [] : [climb];
    });
}

function onGround(stretch: ClimbStretch, phases: readonly Phase[]): boolean {
  const middleS = (stretch.startS + stretch.endS) / 2;
  const phase = phases.find(({ startS, endS }) => startS <= middleS && middleS < endS);
  return phase !== undefined && (phase.kind === 'standing' || phase.kind === 'taxi');
}

function describe(recording: ClimbRecording, stretch: ClimbStretch, bandM: number): Climb | undefined {
  const { motion, track, error } = recording;
  const { startS, endS, within } = stretch;
  const scale = pressureScale(motion, track, within, startS, endS, error);
  const whole = rateBetween(recording, within, startS, endS, scale);
  if (whole === undefined || !(whole.changeM > 0)) return undefined;
  const rows = rowsBetween(motion.timeS, startS, endS);
  const groundM = groundDistanceM(motion, rows);
  const remarks = [airRemark];
  if (stretch.cutAtStart) remarks.push('The first 300 ft above the ground are left out: ground effect and wind shear.');
  if (stretch.endedBy === 'level-off') remarks.push('A level-off ends this climb; what follows is another one.');
  if (stretch.endedBy === 'gap') remarks.push('A gap or the end of the recording ends this climb.');
  if (motion.altitudeKind === 'pressure') {
    remarks.push(
      scale?.from === 'temperature'
        ? 'From pressure altitude, corrected for the recorded air temperature.'
        : 'From pressure altitude without an air temperature: in air 10 K from standard the rate is 3.5 % off, which is in the interval.',
    );
  }
  remarks.push(...recording.airspeed.remarks);
  const best = bestMinute(recording, stretch, scale);
  const gradient = groundM > 0 ? whole.changeM / groundM : Number.NaN;
  return {
    startS,
    endS,
    fromAltitudeM: valueAt(motion.timeS, motion.altitudeM, within, startS, 5),
    toAltitudeM: valueAt(motion.timeS, motion.altitudeM, within, endS, 5),
    altitudeKind: motion.altitudeKind,
    rateOfClimbMps: rateOf(whole),
    ...energyOf(whole),
    ...(best === undefined ? {} : { bestMinuteMps: best }),
    ...(Number.isFinite(gradient)
      ? { gradient: measured(gradient, whole.sigmaM / groundM, 'height gained over distance along the ground') }
      : {}),
    airMotionSigmaMps: climbAirMotionSigmaMps(recording, within, startS, endS),
    bands: bandsOf(recording, stretch, bandM, scale),
    remarks,
  };
}

/** Bands between multiples of the band height, and what is left at both ends where it is at least half of one. */
function bandsOf(
  recording: ClimbRecording,
  stretch: ClimbStretch,
  bandM: number,
  scale: PressureScale | undefined,
): ClimbBand[] {
  const { motion, airspeed } = recording;
  const { startS, endS, within } = stretch;
  const rows = rowsBetween(motion.timeS, startS, endS);
  const heights: number[] = [];
  const times: number[] = [];
  let highest = Number.NEGATIVE_INFINITY;
  for (let row = rows.from; row < rows.to; row += 1) {
    // Half a second is finer than any reading of a height.
    if (times.length > 0 && motion.timeS[row] - times[times.length - 1] < 0.5) continue;
    const height = valueAt(motion.timeS, motion.altitudeM, within, motion.timeS[row], 5);
    if (!(height > highest)) continue;
    highest = height;
    heights.push(height);
    times.push(motion.timeS[row]);
  }
  if (heights.length < 2) return [];
  const edges = [heights[0]];
  for (let level = Math.ceil(heights[0] / bandM) * bandM; level < highest; level += bandM) {
    if (level > edges[edges.length - 1]) edges.push(level);
  }
  if (highest > edges[edges.length - 1]) edges.push(highest);
  const bands: ClimbBand[] = [];
  for (let i = 1; i < edges.length; i += 1) {
    if (edges[i] - edges[i - 1] < leastOfBand * bandM) continue;
    const fromS = crossing(heights, times, edges[i - 1]);
    const toS = crossing(heights, times, edges[i]);
    if (toS - fromS < shortestBandS) continue;
    const rate = rateBetween(recording, within, fromS, toS, scale);
    if (rate === undefined) continue;
    const part = rowsBetween(motion.timeS, fromS, toS);
    const trueAirspeedMps = airspeed.source === 'ground' ? Number.NaN : meanOfRows(airspeed.tasMps, part);
    bands.push({
      fromAltitudeM: edges[i - 1],
      toAltitudeM: edges[i],
      startS: fromS,
      endS: toS,
      rateOfClimbMps: rateOf(rate),
      ...energyOf(rate),
      groundSpeedMps: meanOfRows(motion.groundSpeedMps, part, 0),
      ...(Number.isFinite(trueAirspeedMps) ? { trueAirspeedMps } : {}),
      turningFraction: turningFraction(motion, part),
    });
  }
  return bands;
}

/** Time at which ascending heights reach a level, by interpolation. */
function crossing(heights: readonly number[], times: readonly number[], level: number): number {
  const i = heights.findIndex((height) => height >= level);
  if (i <= 0) return i === 0 ? times[0] : times[times.length - 1];
  const share = (level - heights[i - 1]) / (heights[i] - heights[i - 1]);
  return times[i - 1] + share * (times[i] - times[i - 1]);
}

function turningFraction(motion: Motion, rows: Rows): number {
  let turning = 0;
  let known = 0;
  for (let row = rows.from; row < rows.to; row += 1) {
    const rate = motion.turnRateRadps[row];
    if (!Number.isFinite(rate)) continue;
    known += 1;
    if (Math.abs(rate) > turningRadps) turning += 1;
  }
  return known === 0 ? Number.NaN : turning / known;
}

/** Along the ground, from the positions, so that a turn does not shorten it. */
function groundDistanceM(motion: Motion, rows: Rows): number {
  const { timeS, groundSpeedMps } = motion;
  let metres = 0;
  let last = -1;
  for (let row = rows.from; row < rows.to; row += 1) {
    if (!Number.isFinite(groundSpeedMps[row])) continue;
    if (last >= 0) metres += ((groundSpeedMps[row] + groundSpeedMps[last]) / 2) * (timeS[row] - timeS[last]);
    last = row;
  }
  return metres;
}

/** The highest mean over any one minute of the climb. Chosen for being high: it is biased upward by the scatter, and says so. */
function bestMinute(recording: ClimbRecording, stretch: ClimbStretch, scale: PressureScale | undefined) {
  const minuteS = 60;
  const { startS, endS, within } = stretch;
  if (endS - startS < minuteS) return undefined;
  let best: { readonly changeM: number; readonly sigmaM: number; readonly method: string } | undefined;
  for (let fromS = startS; fromS + minuteS <= endS + 1e-6; fromS += 2) {
    const change = heightChange(recording.motion, within, fromS, fromS + minuteS, recording.error, scale);
    if (change !== undefined && (best === undefined || change.changeM > best.changeM)) {
      best = change;
    }
  }
  if (best === undefined) return undefined;
  return measured(best.changeM / minuteS, best.sigmaM / minuteS, `largest mean over one minute; ${best.method}`, [
    'Picked because it is the largest: favourable air and errors of height make it higher than the aeroplane climbs.',
  ]);
}
