import type { Motion } from '../track/motion.ts';

/**
 * The same motion with time running backwards: times negated, rows reversed, rates with the other sign. In it a landing
 * looks like a take-off, so one estimator serves both; only the lags of recorders change their sign.
 */
export function reversedMotion(motion: Motion): Motion {
  const length = motion.timeS.length;
  const flip = (column: Float64Array): Float64Array => column.slice().reverse();
  const negate = (column: Float64Array): Float64Array => flip(column).map((value) => -value);
  return {
    ...motion,
    timeS: negate(motion.timeS),
    eastM: flip(motion.eastM),
    northM: flip(motion.northM),
    altitudeM: flip(motion.altitudeM),
    ...(motion.pressureAltitudeM === undefined ? {} : { pressureAltitudeM: flip(motion.pressureAltitudeM) }),
    groundSpeedMps: flip(motion.groundSpeedMps),
    trackRad: flip(motion.trackRad),
    ...(motion.recordedVerticalSpeedMps === undefined
      ? {}
      : { recordedVerticalSpeedMps: negate(motion.recordedVerticalSpeedMps) }),
    verticalSpeedMps: negate(motion.verticalSpeedMps),
    accelerationMps2: negate(motion.accelerationMps2),
    turnRateRadps: negate(motion.turnRateRadps),
    ...(motion.force === undefined ? {} : { force: { forwardMps2: negate(motion.force.forwardMps2) } }),
    stretches: motion.stretches.map((stretch) => ({ from: length - stretch.to, to: length - stretch.from })).reverse(),
    gaps: motion.gaps.map((gap) => ({ startS: -gap.endS, endS: -gap.startS })).reverse(),
  };
}
