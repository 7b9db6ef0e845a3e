import type { Uncertain } from './uncertain.ts';

/** What stands or grows around the runway: sets how fast the wind falls towards the ground. */
export type WindSurface = 'paved' | 'grass' | 'long-grass' | 'snow' | 'water' | 'rough';

/**
 * Roughness length, metres. Davenport-Wieringa classification as tabulated in Stull, "Meteorology for Scientists and Engineers": sea, paved areas and
 * snow-covered flat plain 0.0002; smooth 0.005; open grass, airports 0.03; roughly open 0.1. A paved runway is a narrow strip in grass:
 * between the two, 0.01 (own judgement).
 */
const roughnessM: Readonly<Record<WindSurface, number>> = {
  paved: 0.01,
  grass: 0.03,
  'long-grass': 0.05,
  snow: 0.002,
  water: 0.0002,
  rough: 0.1,
};

/**
 * One standard deviation of the ratio of winds at two heights, 0.07: at 2 m against 10 m the logarithmic law gives 0.72 (grass) to 0.77
 * (paved), the 1/7 power law of flight-test practice 0.79, and stable or convective air moves it by as much again.
 */
const ratioSigma = 0.07;

export interface WindProfile {
  readonly surface?: WindSurface;
  /** Height at which the wind was measured, m; 10 m by convention of weather stations. */
  readonly measuredAtM?: number;
}

/** Wind at a height over the wind at the height of measurement, by the logarithmic law of neutral air; 0 below the roughness length. */
export function windRatio(heightM: number, profile: WindProfile = {}): Uncertain {
  const { surface = 'grass', measuredAtM = 10 } = profile;
  const z0 = roughnessM[surface];
  if (!(measuredAtM > 2 * z0)) throw new RangeError(`A wind cannot be measured at ${measuredAtM} m above the ground.`);
  const ratio = Math.max(0, Math.log(Math.max(heightM, z0) / z0) / Math.log(measuredAtM / z0));
  return { value: ratio, sigma: sigmaBetween(heightM, measuredAtM) };
}

/** Mean of the ratio over a straight climb between two heights (from lift-off to a screen). */
export function meanWindRatio(fromM: number, toM: number, profile: WindProfile = {}): Uncertain {
  const { surface = 'grass', measuredAtM = 10 } = profile;
  if (!(toM > fromM)) return windRatio(fromM, profile);
  const z0 = roughnessM[surface];
  const low = Math.max(fromM, z0);
  const integral = (z: number): number => z * (Math.log(z / z0) - 1);
  const mean = (integral(toM) - integral(low)) / (toM - low) / Math.log(measuredAtM / z0);
  return { value: mean, sigma: sigmaBetween(Math.sqrt(low * toM), measuredAtM) };
}

/** The ratio is sure at the height of measurement and less so with each factor of height away from it: {@link ratioSigma} at a factor of five. */
function sigmaBetween(heightM: number, measuredAtM: number): number {
  return ratioSigma * Math.min(1.5, Math.abs(Math.log(Math.max(heightM, 0.1) / measuredAtM)) / Math.log(5));
}

/** Components of a wind along a direction: headwind positive against it, crosswind positive from the right. Angles in radians, true. */
export function windComponents(
  fromRad: number,
  speedMps: number,
  headingRad: number,
): { headwindMps: number; crosswindMps: number } {
  const angle = fromRad - headingRad;
  return { headwindMps: speedMps * Math.cos(angle), crosswindMps: speedMps * Math.sin(angle) };
}

export interface NotedSurfaceWind {
  readonly fromRad: number;
  readonly speedMps: number;
  readonly gustMps?: number;
  /** Standard deviation of each component. */
  readonly sigmaMps: number;
  readonly heightM?: number;
}

/**
 * Height of the wing above the ground, m, where it is not known: 1.7 (own judgement: about 1 m for a low wing, 2.2 m for a high one). Its
 * spread is within the standard deviation of the ratio.
 */
export const usualWingHeightM = 1.7;

export interface HeadwindAtWing {
  readonly headwindMps: Uncertain;
  readonly crosswindMps: Uncertain;
  readonly ratio: Uncertain;
  readonly remarks: readonly string[];
}

/**
 * Headwind at the height of the wing from a wind noted at 10 m: the component along the runway times the logarithmic ratio, with the error
 * of the note and of the ratio.
 * @param headingRad True direction of the roll.
 * @param untilM With a value, the mean from the wing's height on the ground up to that height gained (the air distance).
 */
export function headwindAtWing(
  wind: NotedSurfaceWind,
  headingRad: number,
  options: { readonly surface?: WindSurface; readonly wingHeightM?: number; readonly untilM?: number } = {},
): HeadwindAtWing {
  const { surface, wingHeightM = usualWingHeightM, untilM } = options;
  const profile = { surface, measuredAtM: wind.heightM };
  const ratio =
    untilM === undefined ? windRatio(wingHeightM, profile) : meanWindRatio(wingHeightM, wingHeightM + untilM, profile);
  const { headwindMps, crosswindMps } = windComponents(wind.fromRad, wind.speedMps, headingRad);
  const at = (component: number): Uncertain => ({
    value: component * ratio.value,
    sigma: Math.hypot(wind.sigmaMps * ratio.value, component * ratio.sigma),
  });
  const remarks: string[] = [];
  if (Math.abs(crosswindMps) > 2 * Math.abs(headwindMps) && Math.abs(crosswindMps) > 4) {
    remarks.push('Mostly crosswind: rudder and brake drag lengthen the roll and are not corrected.');
  }
  if (wind.gustMps !== undefined && wind.gustMps > wind.speedMps + 2.5) {
    remarks.push('Gusty: the airspeed at lift-off varies from run to run more than the corrections allow for.');
  }
  return { headwindMps: at(headwindMps), crosswindMps: at(crosswindMps), ratio, remarks };
}
