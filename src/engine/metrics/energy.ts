import { gravityMps2 } from '../atmosphere/index.ts';
import type { Motion } from '../track/motion.ts';
import type { AirspeedColumn } from './airspeed.ts';
import { type Rows, rowAtOrAfter } from './rows.ts';
import { valueAt } from './value-at.ts';

/** Half width of the window in which an airspeed at an instant is read, seconds: gusts of a few seconds average out. */
const readHalfS = 6;
/**
 * What is left of gusts in such a reading, one standard deviation: 0.8 m/s in ordinary air, and in rough air 1.5 times the scatter of the speed about its
 * straight line between the two instants (own judgement: gusts of ten seconds and more move the speed, shorter ones hardly).
 */
const leastGustMps = 0.8;
const gustOverScatter = 1.5;
/** A ground speed stands for an airspeed only while the track turns less than this, radians (25 degrees). */
const mostTurnRad = 0.44;

export interface KineticChange {
  /** Change of V^2/2g, metres of height. */
  readonly heightM: number;
  readonly sigmaM: number;
  readonly method: string;
}

/**
 * Change of kinetic energy between two instants, as metres of height: what a gain of airspeed has taken from the climb. `undefined` where the
 * airspeed cannot be read, or where only ground speed is known and the track turned in between.
 */
export function kineticChange(
  motion: Motion,
  within: Rows,
  airspeed: AirspeedColumn,
  startS: number,
  endS: number,
): KineticChange | undefined {
  const { timeS } = motion;
  const squares = squaresOf(airspeed.tasMps);
  const before = valueAt(timeS, squares, within, startS, readHalfS);
  const after = valueAt(timeS, squares, within, endS, readHalfS);
  if (!(before > 0 && after > 0)) return undefined;
  const speedMps = Math.sqrt((before + after) / 2);
  const low = valueAt(timeS, motion.altitudeM, within, startS, readHalfS);
  const high = valueAt(timeS, motion.altitudeM, within, endS, readHalfS);
  if (airspeed.source === 'ground' && turned(motion, within, startS, endS) > mostTurnRad) return undefined;
  const windSigmaMps = airspeed.windDifferenceSigmaMps(low, high);
  if (!Number.isFinite(windSigmaMps)) return undefined;
  const gustMps = Math.max(
    leastGustMps,
    gustOverScatter * scatterAboutLine(timeS, airspeed.tasMps, within, startS, endS),
  );
  return {
    heightM: (after - before) / (2 * gravityMps2),
    sigmaM: (speedMps / gravityMps2) * Math.hypot(Math.SQRT2 * gustMps, windSigmaMps),
    method: words[airspeed.source],
  };
}

const words: Readonly<Record<AirspeedColumn['source'], string>> = {
  recorded: 'recorded true airspeed',
  indicated: 'indicated airspeed',
  wind: 'ground velocity less the wind found in this recording',
  ground: 'ground speed, the wind taken as growing with height as usual',
};

const cache = new WeakMap<Float64Array, Float64Array>();

function squaresOf(values: Float64Array): Float64Array {
  const known = cache.get(values);
  if (known !== undefined) return known;
  const squares = values.map((value) => value * value);
  cache.set(values, squares);
  return squares;
}

/** Difference of the mean directions of motion at both ends, radians, 0 to pi. */
function turned(motion: Motion, within: Rows, startS: number, endS: number): number {
  const { timeS, trackRad } = motion;
  const direction = (at: number): number => {
    let sine = 0;
    let cosine = 0;
    const first = Math.max(within.from, rowAtOrAfter(timeS, at - readHalfS));
    for (let row = first; row < within.to && timeS[row] <= at + readHalfS; row += 1) {
      if (Number.isNaN(trackRad[row])) continue;
      sine += Math.sin(trackRad[row]);
      cosine += Math.cos(trackRad[row]);
    }
    return Math.atan2(sine, cosine);
  };
  const difference = direction(endS) - direction(startS);
  return Math.abs(Math.atan2(Math.sin(difference), Math.cos(difference)));
}

/** Root mean square of values about the straight line through them, over a time window; 0 with fewer than five. */
function scatterAboutLine(
  timeS: Float64Array,
  values: Float64Array,
  within: Rows,
  startS: number,
  endS: number,
): number {
  let n = 0;
  let t1 = 0;
  let y1 = 0;
  let tt = 0;
  let ty = 0;
  let yy = 0;
  const first = Math.max(within.from, rowAtOrAfter(timeS, startS));
  for (let row = first; row < within.to && timeS[row] <= endS; row += 1) {
    if (!Number.isFinite(values[row])) continue;
    const t = timeS[row] - startS;
    const y = values[row] - values[first];
    if (!Number.isFinite(y)) continue;
    n += 1;
    t1 += t;
    y1 += y;
    tt += t * t;
    ty += t * y;
    yy += y * y;
  }
  if (n < 5) return 0;
  const covariance = ty - (t1 * y1) / n;
  const residual = yy - (y1 * y1) / n - (covariance * covariance) / (tt - (t1 * t1) / n);
  return Math.sqrt(Math.max(0, residual) / n);
}
