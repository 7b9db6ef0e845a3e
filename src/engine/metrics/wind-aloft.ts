import type { WindEstimate } from '../analysis.ts';
import type { Motion } from '../track/motion.ts';
import { type Velocity, velocityOfWind } from '../wind/wind-triangle.ts';

/** The wind of other heights and times, from the estimates of one recording. */
export interface WindAloft {
  /** Where the air goes, m/s. */
  at(timeS: number, altitudeM: number): Velocity;
  /** Standard deviation, m/s, of each component of the difference of the wind between two heights, against what `at` says. */
  differenceSigmaMps: (lowM: number, highM: number) => number;
}

/**
 * Growth of the wind with height above the ground, exponent of a power law: 0.2 with 0.12. 1/7 over open country in neutral air, 0.1 on a convective
 * day, 0.3 and more in stable air (flight-test practice uses 1/7; from memory of boundary-layer texts for the rest).
 */
const exponent = 0.2;
const exponentSigma = 0.12;
/** What the wind differs beyond a law of any kind: 1 m/s a component over 500 m of height, growing with the root (own judgement). */
const irregularMps = 1;
const irregularM = 500;
/** A wind so far away in time, s, or height, m, says nothing. */
const farthestS = 3600;
const farthestM = 2500;
/** Typical wind component of the lower atmosphere where none is known, m/s. */
const usualWindMps = 6;
/** The law is not used nearer to the ground than the height of weather stations. */
const lowestM = 10;

/** `undefined` without an estimate. */
export function windAloft(motion: Motion, winds: readonly WindEstimate[]): WindAloft | undefined {
  if (winds.length === 0) return undefined;
  const groundM = lowestHeight(motion);
  const above = (altitudeM: number): number => Math.max(lowestM, altitudeM - groundM);
  const known = winds.map((wind) => ({
    timeS: (wind.startS + wind.endS) / 2,
    aboveM: above(wind.altitudeM),
    altitudeM: wind.altitudeM,
    air: velocityOfWind(wind.fromRad.value, wind.speedMps.value),
    weight: 1 / Math.max(0.2, (wind.speedMps.high - wind.speedMps.low) / 4) ** 2,
  }));
  const meanSpeedMps = Math.max(...known.map(({ air }) => Math.hypot(air.eastMps, air.northMps)));
  return {
    at: (timeS, altitudeM) => {
      let east = 0;
      let north = 0;
      let total = 0;
      for (const wind of known) {
        const far = ((timeS - wind.timeS) / farthestS) ** 2 + ((altitudeM - wind.altitudeM) / farthestM) ** 2;
        const weight = wind.weight * Math.exp(-9 * far) + 1e-9;
        const grown = (above(altitudeM) / wind.aboveM) ** exponent;
        east += weight * grown * wind.air.eastMps;
        north += weight * grown * wind.air.northMps;
        total += weight;
      }
      return { eastMps: east / total, northMps: north / total };
    },
    differenceSigmaMps: (lowM, highM) => differenceSigma(above(lowM), above(highM), exponentSigma * meanSpeedMps),
  };
}

/** The same standard deviation when no wind at all is known, with ground speed standing for airspeed on one heading. */
export function unknownWindDifferenceSigma(motion: Motion): (lowM: number, highM: number) => number {
  const groundM = lowestHeight(motion);
  const above = (altitudeM: number): number => Math.max(lowestM, altitudeM - groundM);
  return (lowM, highM) =>
    differenceSigma(above(lowM), above(highM), Math.hypot(exponent, exponentSigma) * usualWindMps);
}

function differenceSigma(lowM: number, highM: number, perLog: number): number {
  return Math.hypot(perLog * Math.log(highM / lowM), irregularMps * Math.sqrt(Math.abs(highM - lowM) / irregularM));
}

/** Lowest height of the recording (a low quantile, against spikes): near the ground, in most recordings. */
export function lowestHeight(motion: Motion): number {
  const heights = motion.altitudeM.filter((height) => Number.isFinite(height)).sort();
  return heights.length === 0 ? Number.NaN : heights[Math.floor(0.01 * (heights.length - 1))];
}
