import { robustDeviation } from '../stats/sample.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';

/**
 * How the error of a column of heights behaves: a slow part that wanders (Gauss-Markov) and a fast part. A constant part cancels in every
 * difference and is not looked for.
 */
export interface HeightError {
  readonly slowSigmaM: number;
  readonly slowTimeS: number;
  readonly fastSigmaM: number;
}

/**
 * Usual slow wander of a satellite height, one standard deviation 4 m with a memory of two minutes: consumer receivers 4 to 6 m, good ones 1 to 2 m,
 * one to several minutes (from memory of receiver tests; several studies of static receivers find Gauss-Markov rather than white errors).
 */
const usualSlowM = 4;
/** Cameras with a fast small receiver in the housing: the upper end of the range, and more in height than their good positions suggest (from memory). */
const cameraSlowM = 6;
const slowTimeS = 120;
/** The usual value counts as so many independent samples against what the recording itself shows. */
const usualWeight = 2;
/** Errors that live for 10 to 20 seconds, too slow for the fast noise of single samples and too fast to be wander. */
const usualMiddleM = 0.8;
const cameraMiddleM = 1.3;
/** Changes over half a minute are looked at. */
const lagS = 30;
/**
 * Heights wander 1.7 times as much as each horizontal coordinate: satellites stand on one side of the receiver only (the performance standard of the
 * system gives 95 % of 8 m horizontally and 13 m vertically, from memory, which is 2.0; measured ratios are 1.2 to 2).
 */
const verticalOverHorizontal = 1.7;
const cameraVerticalOverHorizontal = 2.4;
/** However many changes of position there are, their word on heights counts as this many samples: the ratio above is uncertain. */
const horizontalWeight = 6;
/** Standing still or rolling so slowly that the slope of the ground adds little. */
const slowMps = 1.5;

/**
 * Size of the height errors of a recording, from what it shows itself: changes of height while it stood or crept (unless the recorder freezes at
 * rest); the difference from a pressure altitude in flight; and how far its positions wander against its own Doppler speed, since a receiver that is good
 * in one direction is good in the others. The usual size stands for a little evidence, and for all of it where there is none.
 */
export function heightError(motion: Motion, track: Track): HeightError {
  const camera = track.videoStartS !== undefined && motion.rateHz >= 5;
  const fast = Number.isFinite(motion.altitudeNoiseM) ? motion.altitudeNoiseM : 0.5;
  const fastSigmaM = Math.hypot(
    fast / 2,
    camera ? cameraMiddleM : usualMiddleM,
    motion.altitudeResolutionM / Math.sqrt(12) / 2,
  );
  let squares = 0;
  let samples = 0;
  for (const found of [
    onTheGround(motion),
    againstPressure(motion),
    againstSpeed(motion, camera ? cameraVerticalOverHorizontal : verticalOverHorizontal),
  ]) {
    squares += found.squares;
    samples += found.samples;
  }
  const gain = 2 * (1 - Math.exp(-lagS / slowTimeS));
  const measured = samples > 0 ? Math.max(0, squares / samples - 2 * fastSigmaM ** 2) / gain : 0;
  const variance =
    (samples * measured + usualWeight * (camera ? cameraSlowM : usualSlowM) ** 2) / (samples + usualWeight);
  return { slowSigmaM: Math.sqrt(variance), slowTimeS, fastSigmaM };
}

/** Standard deviation of the difference of two heights so far apart in time, m. */
export function heightChangeSigmaM(error: HeightError, lagS: number): number {
  const slow = 2 * error.slowSigmaM ** 2 * (1 - Math.exp(-lagS / error.slowTimeS));
  return Math.sqrt(slow + 2 * error.fastSigmaM ** 2);
}

interface Changes {
  readonly squares: number;
  /** Independent ones: one for each lag of time. */
  readonly samples: number;
}

const none: Changes = { squares: 0, samples: 0 };

function onTheGround(motion: Motion): Changes {
  const { timeS, altitudeM, groundSpeedMps } = motion;
  let squares = 0;
  let pairs = 0;
  let still = 0;
  let steps = 0;
  for (const stretch of motion.stretches) {
    let start = stretch.from;
    let next = Number.NEGATIVE_INFINITY;
    let later = stretch.from;
    for (let row = stretch.from; row < stretch.to; row += 1) {
      if (!(groundSpeedMps[row] < slowMps) || !Number.isFinite(altitudeM[row])) {
        start = row + 1;
        continue;
      }
      if (row > start) {
        steps += 1;
        if (altitudeM[row] === altitudeM[row - 1]) still += 1;
      }
      // The earlier partner of this row, half a minute before, if the aeroplane has been slow since.
      while (later < row && timeS[row] - timeS[later] > lagS) later += 1;
      if (timeS[row] < next || later <= start || timeS[row] - timeS[later - 1] < lagS) continue;
      const change = altitudeM[row] - altitudeM[later - 1];
      if (!Number.isFinite(change)) continue;
      squares += change * change;
      pairs += 1;
      next = timeS[row] + 2;
    }
  }
  // A recorder that repeats itself at rest says nothing about its errors.
  if (pairs === 0 || still > 0.7 * steps) return none;
  const independent = (pairs * 2) / lagS;
  return { squares: (squares / pairs) * independent, samples: independent };
}

/** Change of (height - scale x pressure altitude) over the lag, in flight, with the scale of the air taken out by regression. */
function againstPressure(motion: Motion): Changes {
  const { timeS, altitudeM, pressureAltitudeM, groundSpeedMps } = motion;
  if (pressureAltitudeM === undefined || motion.altitudeKind === 'pressure') return none;
  const heights: number[] = [];
  const pressures: number[] = [];
  for (const stretch of motion.stretches) {
    let later = stretch.from;
    let next = Number.NEGATIVE_INFINITY;
    for (let row = stretch.from; row < stretch.to; row += 1) {
      while (later < row && timeS[row] - timeS[later] > lagS) later += 1;
      if (later === stretch.from || timeS[row] < next || !(groundSpeedMps[row] > 15)) continue;
      if (timeS[row] - timeS[later - 1] > 1.3 * lagS) continue;
      const height = altitudeM[row] - altitudeM[later - 1];
      const pressure = pressureAltitudeM[row] - pressureAltitudeM[later - 1];
      if (!Number.isFinite(height + pressure)) continue;
      heights.push(height);
      pressures.push(pressure);
      next = timeS[row] + 3;
    }
  }
  if (heights.length < 20) return none;
  let hp = 0;
  let pp = 0;
  heights.forEach((height, i) => {
    hp += height * pressures[i];
    pp += pressures[i] ** 2;
  });
  const scale = pp > 0 ? hp / pp : 1;
  const squares = heights.reduce((sum, height, i) => sum + (height - scale * pressures[i]) ** 2, 0);
  const independent = (heights.length * 3) / lagS;
  return { squares: (squares / heights.length) * independent, samples: independent };
}

/** Along straight flight: distance between two fixes less the integral of the receiver's speed, over the lag, as heights would show it. */
function againstSpeed(motion: Motion, ratio: number): Changes {
  if (motion.speedSource !== 'receiver') return none;
  const { timeS, eastM, northM, groundSpeedMps, trackRad, altitudeM } = motion;
  const errors: number[] = [];
  for (const stretch of motion.stretches) {
    let next = Number.NEGATIVE_INFINITY;
    for (let row = stretch.from; row < stretch.to; row += 1) {
      if (timeS[row] < next || !flying(motion, row)) continue;
      let integral = 0;
      let last = row;
      let straight = true;
      for (let at = row + 1; at < stretch.to && timeS[at] - timeS[row] <= lagS && straight; at += 1) {
        if (!flying(motion, at)) continue;
        integral += ((groundSpeedMps[at] + groundSpeedMps[last]) / 2) * (timeS[at] - timeS[last]);
        last = at;
        straight = Math.cos(trackRad[at] - trackRad[row]) > straightCosine;
      }
      if (!straight || timeS[last] - timeS[row] < 0.9 * lagS) continue;
      const distance = Math.hypot(eastM[last] - eastM[row], northM[last] - northM[row]);
      const height = Number.isFinite(altitudeM[row]) ? altitudeM[row] : 0;
      errors.push(distance * (1 + height / 6_371_000) - integral);
      next = timeS[row] + lagS / 3;
    }
  }
  if (errors.length < 12) return none;
  // The median takes a lasting bias of the speed away; the median distance from it, single jumps of position.
  return { squares: horizontalWeight * (ratio * robustDeviation(errors)) ** 2, samples: horizontalWeight };
}

/** Within 7 degrees of one direction the chord is short by less than 0.2 %, and by the same for speed and positions. */
const straightCosine = Math.cos((7 * Math.PI) / 180);

function flying(motion: Motion, row: number): boolean {
  return motion.groundSpeedMps[row] > 15 && Number.isFinite(motion.eastM[row]) && Number.isFinite(motion.trackRad[row]);
}
