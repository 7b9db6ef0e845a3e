import type { ProblemList } from '../problem-list.ts';

/** A light aeroplane neither climbs nor descends faster; a change beyond it, plus the noise, is no flight to 0 and back. */
const fastestMps = 30;
const noiseM = 30;

/**
 * Recorders write 0 where they have no altitude. Runs of exact zeros become missing unless the altitudes beside them lead
 * there. False when every altitude is 0, so that the column holds nothing.
 */
export function zerosToMissing(timeS: Float64Array, altitudeM: Float64Array, problems: ProblemList): boolean {
  let missing = 0;
  let others = 0;
  for (let i = 0; i < altitudeM.length; i++) {
    if (altitudeM[i] !== 0) {
      if (!Number.isNaN(altitudeM[i])) others++;
      continue;
    }
    let end = i + 1;
    while (end < altitudeM.length && altitudeM[end] === 0) end++;
    if (!leadsToZero(timeS, altitudeM, i, -1) || !leadsToZero(timeS, altitudeM, end - 1, 1)) {
      altitudeM.fill(Number.NaN, i, end);
      missing += end - i;
    }
    i = end - 1;
  }
  if (others === 0) {
    problems.info('altitude-all-zero', 'Every altitude of a column is 0: taken as not recorded.');
    return false;
  }
  if (missing > 0) {
    problems.warning('altitude-zero', 'Altitudes that fall to exactly 0 at once were taken as missing.', {}, missing);
  }
  return true;
}

/** Whether the next altitude before (`step` -1) or after (1) a zero can be reached from it; true where there is none. */
function leadsToZero(timeS: Float64Array, altitudeM: Float64Array, zero: number, step: -1 | 1): boolean {
  let beside = zero + step;
  while (beside >= 0 && beside < altitudeM.length && Number.isNaN(altitudeM[beside])) beside += step;
  if (beside < 0 || beside >= altitudeM.length) return true;
  return Math.abs(altitudeM[beside]) <= noiseM + fastestMps * Math.abs(timeS[zero] - timeS[beside]);
}
