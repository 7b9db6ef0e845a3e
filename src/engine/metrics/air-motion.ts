import { gravityMps2 } from '../atmosphere/index.ts';
import type { ClimbRecording } from './climb-rate.ts';
import type { Rows } from './rows.ts';
import { valueAt } from './value-at.ts';

/** Waves and slopes that are always there, m/s (10 ft/min). */
const leastMps = 0.05;
/** Pieces of a climb whose rates are compared, seconds: longer than bumps and than the errors of a reading. */
const pieceS = 15;
/**
 * Memory of the vertical motion of the air along the flight, seconds: up- and downdraughts of a mixed layer lie about 1.5 times its depth apart
 * (boundary-layer texts, from memory), 1 to 2 km, which a light aeroplane crosses in half a minute to a minute.
 */
const memoryS = 45;
/** With too few pieces to tell: a usual day, m/s. */
const usualMps = 0.4;

/**
 * Standard deviation, m/s, of the mean vertical motion of the air over a climb, as far as the climb itself can tell: the scatter of the rate of energy
 * height over pieces of 15 s about its straight line (energy height, so that the pilot's exchange of height and speed does not count), taken as the size
 * of up- and downdraughts with a memory of 45 s, and averaged over the length of the climb.
 *
 * It is not in the interval of a measured rate, which is what the aeroplane did over the ground; a comparison of climbs adds it to each. Against two
 * independent simulators it is right on average within a factor of two from still air to thermals; in strong thermals it is too small by that factor.
 */
export function climbAirMotionSigmaMps(recording: ClimbRecording, within: Rows, startS: number, endS: number): number {
  const { motion, airspeed } = recording;
  const seconds = endS - startS;
  const pieces = Math.floor(seconds / pieceS);
  const x = memoryS / seconds;
  const shrink = Math.sqrt(2 * x * (1 - x * (1 - Math.exp(-1 / x))));
  if (pieces < 5) return Math.hypot(leastMps, usualMps * shrink);
  const squares = airspeed.tasMps.map((speed) => speed * speed);
  const heights = Array.from({ length: pieces + 1 }, (_, i) => {
    const at = startS + (i * seconds) / pieces;
    const height = valueAt(motion.timeS, motion.altitudeM, within, at, 5);
    // A ground speed changes with every turn in wind: then the height alone has to do.
    const kinetic =
      airspeed.source === 'ground' ? 0 : valueAt(motion.timeS, squares, within, at, 6) / (2 * gravityMps2);
    return height + kinetic;
  });
  const rates = heights.slice(1).map((height, i) => ((height - heights[i]) * pieces) / seconds);
  const scatter = scatterAboutLine(rates);
  return Math.hypot(leastMps, (Number.isFinite(scatter) ? scatter : usualMps) * shrink);
}

/** Standard deviation about the straight line, with n - 2 degrees of freedom. */
function scatterAboutLine(values: readonly number[]): number {
  const n = values.length;
  const middle = (n - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  let xy = 0;
  let xx = 0;
  let yy = 0;
  values.forEach((value, i) => {
    xy += (i - middle) * (value - mean);
    xx += (i - middle) ** 2;
    yy += (value - mean) ** 2;
  });
  return Math.sqrt(Math.max(0, yy - (xy * xy) / xx) / (n - 2));
}
