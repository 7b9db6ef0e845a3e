import type { Motion } from '../track/motion.ts';

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
const slowTimeS = 120;
/** The usual value counts as so many independent samples against what the recording itself shows. */
const usualWeight = 2;
/** Errors that live for 10 to 20 seconds, too slow for the fast noise of single samples and too fast to be wander. */
const usualMiddleM = 0.7;
const lagS = 30;
/** Standing still or rolling so slowly that the slope of the ground adds little. */
const slowMps = 1.5;

/**
 * Size of the height errors of a recording. Where it stood or crept for a while its own changes over half a minute tell (unless the recorder
 * freezes at rest); where it also has a pressure altitude the difference of the two tells, in flight; otherwise the usual size.
 */
export function heightError(motion: Motion): HeightError {
  const fast = Number.isFinite(motion.altitudeNoiseM) ? motion.altitudeNoiseM : 0.5;
  const fastSigmaM = Math.hypot(fast / 2, usualMiddleM, motion.altitudeResolutionM / Math.sqrt(12) / 2);
  let squares = 0;
  let samples = 0;
  for (const found of [onTheGround(motion), againstPressure(motion)]) {
    squares += found.squares;
    samples += found.samples;
  }
  const gain = 2 * (1 - Math.exp(-lagS / slowTimeS));
  const measured = samples > 0 ? Math.max(0, squares / samples - 2 * fastSigmaM ** 2) / gain : 0;
  const variance = (samples * measured + usualWeight * usualSlowM ** 2) / (samples + usualWeight);
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
