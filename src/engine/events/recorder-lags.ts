import { forceLag } from './force-lag.ts';
import type { Motion } from '../track/motion.ts';

/**
 * How late a recorder's columns are. Positions of common receivers are 0.1 to 0.5 s late (own choice, as is all that
 * follows); how much later its speeds are, the recording itself tells ({@link Motion.speedLagS}); heights and vertical
 * speeds are filtered more, 0.2 to 1 s in all. All instants that the engine reports are true times under these lags.
 */
export interface RecorderLags {
  readonly positionS: number;
  readonly speedS: number;
  readonly verticalS: number;
  /** A camera's force shows so much before it is felt, by the clock of the receiver: how much later than it the speeds show, less their own lag. */
  readonly forceLead?: { readonly value: number; readonly sigma: number };
  /** One sigma of the lag of positions and speeds together. */
  readonly sigmaS: number;
}

const positionS = 0.25;
const moreVerticalS = 0.2;
export const lagSigmaS = 0.13;
const mostRelativeS = 1.5;

export function recorderLags(motion: Motion): RecorderLags {
  const relative = motion.speedLagS;
  let speedS = positionS;
  if (motion.speedSource === 'receiver') {
    // Seldom measured better than a tenth where the flight is short; then the usual 0.05 s counts as well.
    const measured = relative ?? { value: 0.05, sigma: 1 };
    const weight = 1 / (1 + (measured.sigma / 0.1) ** 2);
    const value = weight * measured.value + (1 - weight) * 0.05;
    speedS = Math.max(0.05, positionS + Math.max(-0.2, Math.min(mostRelativeS, value)));
  }
  const behindForce = forceLag(motion);
  return {
    positionS,
    speedS,
    verticalS: positionS + moreVerticalS,
    ...(behindForce === undefined
      ? {}
      : { forceLead: { value: behindForce.value - speedS, sigma: behindForce.sigma } }),
    sigmaS: lagSigmaS,
  };
}
