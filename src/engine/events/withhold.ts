import type { Landing, Takeoff } from '../../../shared/analysis.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';

/**
 * The moment between ground and air is seen in the height. Speed alone does not show it: an aeroplane goes on accelerating
 * after lift-off, and closed-form runs with several accelerations before and after it gave rolls of half the true length
 * with narrow intervals. Without any height there, what rests on that moment is left out rather than guessed; a moment
 * that the pilot gives (from a film, say) brings it back.
 */
const unseenRemark = (event: string): string =>
  `Without heights ${event} cannot be told: speed alone does not show it. Where a film or a note shows it, give it by hand.`;

/** How far around the moment a height would have to be, s: a climb or descent of 15 s is some 40 m. */
const aroundS = 15;
/** A touchdown told from the speed alone, one sigma, s: half the time in which an aeroplane slows from approach to taxi. */
const unseenTouchdownSigmaS = 6;

function hasHeights(motion: Motion, fromS: number, toS: number): boolean {
  const { timeS, altitudeM, recordedVerticalSpeedMps } = motion;
  for (let row = firstRowAt(timeS, fromS); row < timeS.length && timeS[row] <= toS; row += 1) {
    if (Number.isFinite(altitudeM[row]) || Number.isFinite(recordedVerticalSpeedMps?.[row])) return true;
  }
  return false;
}

/** A take-off without what its recording cannot show. */
export function withholdLiftoff(motion: Motion, takeoff: Takeoff): Takeoff {
  const { liftoff } = takeoff;
  if (liftoff === undefined || liftoff.origin === 'pilot') return takeoff;
  if (hasHeights(motion, liftoff.timeS - aroundS, liftoff.timeS + aroundS)) return takeoff;
  const { liftoff: _liftoff, groundRollM: _roll, timeToLiftoffS: _time, liftoffSpeedMps: _speed, ...rest } = takeoff;
  return { ...rest, screens: [], remarks: [unseenRemark('lift-off'), ...takeoff.remarks] };
}

/** A landing without what its recording cannot show; the touchdown stays, roughly. */
export function withholdTouchdown(motion: Motion, landing: Landing): Landing {
  const { touchdown } = landing;
  if (touchdown.origin === 'pilot') return landing;
  if (hasHeights(motion, touchdown.timeS - aroundS, touchdown.timeS + aroundS)) return landing;
  const { groundRollM: _roll, touchdownSpeedMps: _speed, ...rest } = landing;
  return {
    ...rest,
    touchdown: { ...touchdown, sigmaS: Math.max(touchdown.sigmaS, unseenTouchdownSigmaS) },
    remarks: [unseenRemark('touchdown'), ...landing.remarks],
  };
}
