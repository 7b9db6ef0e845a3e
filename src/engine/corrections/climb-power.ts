import { gravityMps2 } from '../atmosphere/index.ts';
import { type Correction, makeCorrection } from './correction.ts';
import { normallyAspiratedPowerRatio } from './engine-power.ts';
import { propagate } from './propagate.ts';
import type { Uncertain } from './uncertain.ts';

/** Propulsive efficiency in the climb, 0.68 with 0.08: light fixed-pitch propellers 0.6 to 0.75 at climb speed (from memory of text-book charts). */
export const usualClimbEfficiency: Uncertain = { value: 0.68, sigma: 0.08 };

export interface ClimbPower {
  readonly rateMps: number;
  readonly massKg: number;
  /** Brake power that the engine gives in standard air at this pressure altitude, W. */
  readonly standardPowerW: number;
  readonly efficiency?: Uncertain;
  readonly temperatureK: Uncertain;
  readonly standardTemperatureK: number;
}

/**
 * Addend, m/s, for the power that the standard day would have given at the same pressure altitude: (eta P / W) [1 - sqrt(T_std/T)]; warm air
 * takes power away.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12, step 2 (printed there with 500 where 550 ft lb/s a horsepower are meant).
 */
export function climbTemperaturePowerAddend(climb: ClimbPower): Correction {
  const {
    rateMps,
    massKg,
    standardPowerW,
    efficiency = usualClimbEfficiency,
    temperatureK,
    standardTemperatureK,
  } = climb;
  if (!(massKg > 0 && standardPowerW > 0))
    throw new RangeError(`${standardPowerW} W and ${massKg} kg do not make a climb.`);
  const { value, shifts } = propagate({ temperature: temperatureK, power: efficiency }, (at) => {
    const powerRateMps = (at.power * standardPowerW) / (massKg * gravityMps2);
    return powerRateMps * (1 - Math.sqrt(standardTemperatureK / at.temperature));
  });
  const corrected = Math.abs(rateMps + value);
  return makeCorrection({
    name: 'temperature',
    addend: value,
    change: value / rateMps,
    sensitivity: { temperature: shifts.temperature / corrected, power: shifts.power / corrected },
    outside: [],
  });
}

/**
 * How fast the rate of climb of a normally aspirated aeroplane falls with density altitude where no climb of its own shows it, (m/s)/m and
 * negative, at one indicated airspeed and mass:
 *
 * rate = eta P / W - D V / W; P falls as 1.1324 sigma - 0.1324 and V = EAS / sqrt(sigma) grows, so
 * d(rate)/d(sigma) = 1.1324 eta P0 / W + (eta P / W - rate) / (2 sigma), times dsigma/dh.
 *
 * The standard deviation is 20 %: efficiency changes with the advance ratio, and a fixed-pitch propeller lets the engine turn slower as
 * power falls. Prefer the line through the aeroplane's own climbs.
 */
export function climbLapsePerM(climb: {
  readonly rateMps: number;
  readonly massKg: number;
  readonly ratedPowerW: number;
  readonly densityRatio: number;
  readonly efficiency?: number;
}): Uncertain {
  const { rateMps, massKg, ratedPowerW, densityRatio, efficiency = usualClimbEfficiency.value } = climb;
  const seaLevelMps = (efficiency * ratedPowerW) / (massKg * gravityMps2);
  const availableMps = seaLevelMps * normallyAspiratedPowerRatio(densityRatio);
  const sinkMps = Math.max(0, availableMps - rateMps);
  const perDensityRatio = 1.1324 * seaLevelMps + sinkMps / (2 * densityRatio);
  // dsigma/dh of the standard atmosphere: -(n - 1) (L/T0) theta^(n - 2), theta = sigma^(1/(n - 1)).
  const densityPerM = -4.25588 * (0.0065 / 288.15) * densityRatio ** (3.25588 / 4.25588);
  const value = perDensityRatio * densityPerM;
  return { value, sigma: 0.2 * Math.abs(value) };
}

/**
 * Addend, m/s, that takes a rate of climb to a reference density altitude along a straight line (adequate over a few thousand feet for a
 * normally aspirated aeroplane; not across the critical altitude of a turbocharged one).
 * @param lapsePerM Slope of the line, (m/s)/m, negative: from the aeroplane's own climbs, else {@link climbLapsePerM}.
 */
export function climbDensityAddend(climb: {
  readonly rateMps: number;
  readonly densityAltitudeM: Uncertain;
  readonly referenceDensityAltitudeM: number;
  readonly lapsePerM: Uncertain;
}): Correction {
  const { rateMps, densityAltitudeM, referenceDensityAltitudeM, lapsePerM } = climb;
  const { value, shifts } = propagate(
    { density: densityAltitudeM, 'rate line': lapsePerM },
    (at) => (referenceDensityAltitudeM - at.density) * at['rate line'],
  );
  const corrected = rateMps + value;
  const outside: string[] = [];
  const farM = Math.abs(referenceDensityAltitudeM - densityAltitudeM.value);
  // 1,500 m, "a few thousand feet": own reading of the range in which the straight line is good to a few per cent of the change.
  if (farM > 1500)
    outside.push(
      `The reference density altitude is ${Math.round(farM)} m away; the straight line holds over about 1,500 m.`,
    );
  if (!(corrected > 0)) outside.push('At the reference density altitude no climb is left.');
  return makeCorrection({
    name: 'density',
    addend: value,
    change: value / rateMps,
    sensitivity: {
      density: shifts.density / Math.abs(corrected),
      'rate line': shifts['rate line'] / Math.abs(corrected),
    },
    outside,
  });
}
