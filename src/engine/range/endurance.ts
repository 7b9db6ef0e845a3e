import type { Measured } from '../../../shared/measured.ts';

/** A number with one sigma. */
export interface WithSigma {
  readonly value: number;
  readonly sigma: number;
}

export interface FuelPlan {
  /** Usable fuel in the tanks at engine start, m3. */
  readonly usableM3: number;
  /** Start, taxi, take-off and what the climb takes beyond cruise, m3. */
  readonly allowanceM3: number;
  /** Time the reserve must last, s, at `reserveFlowM3ps` (normal cruise flow). */
  readonly reserveTimeS: number;
  readonly reserveFlowM3ps: number;
}

export interface CruisePoint {
  readonly trueAirspeedMps: WithSigma;
  readonly fuelFlowM3ps: WithSigma;
  /** Component along the course, m/s, positive against; 0 in still air. */
  readonly headwindMps?: number;
}

export interface RangeResult {
  /** Fuel for cruise, m3: usable less allowance less reserve. */
  readonly cruiseFuelM3: number;
  readonly reserveM3: number;
  /** Time in cruise with the reserve untouched, s. */
  readonly enduranceS: Measured;
  /** Distance over the ground in cruise with the reserve untouched, m. */
  readonly rangeM: Measured;
  /** Distance per volume of fuel over the ground, m/m3. */
  readonly specificRange: number;
}

const Z95 = 1.959963984540054;

/**
 * Endurance and range at constant speed and height with the reserve kept.
 *
 * `endurance = (usable - allowance - reserve) / flow`, `range = endurance x ground speed`. The relative uncertainty of the
 * endurance is that of the flow; that of the range adds the airspeed's, carried through the ground speed.
 * Sources: FAA-H-8083-25C ch. 11 (specific range, endurance); 14 CFR 91.151 for what the reserve is burnt at.
 *
 * @returns undefined when nothing is left for cruise, or the wind is as strong as the airspeed
 * @throws RangeError for a flow or speed that is not positive
 */
export function rangeWithReserve(plan: FuelPlan, cruise: CruisePoint): RangeResult | undefined {
  const { value: flow, sigma: flowSigma } = cruise.fuelFlowM3ps;
  const { value: speed, sigma: speedSigma } = cruise.trueAirspeedMps;
  if (!(flow > 0)) throw new RangeError(`fuel flow must be positive, got ${flow} m3/s`);
  if (!(speed > 0)) throw new RangeError(`true airspeed must be positive, got ${speed} m/s`);
  const reserveM3 = plan.reserveTimeS * plan.reserveFlowM3ps;
  const cruiseFuelM3 = plan.usableM3 - plan.allowanceM3 - reserveM3;
  const groundSpeed = speed - (cruise.headwindMps ?? 0);
  if (!(cruiseFuelM3 > 0) || !(groundSpeed > 0)) return undefined;
  const enduranceS = cruiseFuelM3 / flow;
  // The reserve is burnt at a flow that is wrong in the same sense as the cruise flow, so it widens the endurance too.
  const enduranceSigma = (flowSigma / flow) * (enduranceS + reserveM3 / flow);
  const rangeM = enduranceS * groundSpeed;
  const rangeSigma = Math.hypot(enduranceSigma * groundSpeed, enduranceS * speedSigma);
  return {
    cruiseFuelM3,
    reserveM3,
    enduranceS: interval(enduranceS, enduranceSigma, 'cruise fuel over fuel flow, reserve kept'),
    rangeM: interval(rangeM, rangeSigma, 'endurance times ground speed, constant speed and height'),
    specificRange: groundSpeed / flow,
  };
}

/** Why {@link rangeWithReserve} has no answer, in words. */
export function whyNoRange(cruise: CruisePoint): string {
  return cruise.trueAirspeedMps.value > (cruise.headwindMps ?? 0)
    ? 'nothing is left for cruise beyond reserve and allowance'
    : 'the headwind is as strong as the airspeed';
}

function interval(value: number, sigma: number, method: string): Measured {
  return { value, low: Math.max(0, value - Z95 * sigma), high: value + Z95 * sigma, method };
}

/**
 * Still-air range at constant lift coefficient (slowing down as fuel burns off): `R = SR W ln(W_start / W_end)`.
 * A pilot who holds speed gets the straight figure instead. Source: flight-test reference handbook (SFTE, 2013) ch. 12.
 *
 * @param specificRangeMPerKg distance per kilogram of fuel at the starting mass, m/kg
 * @returns metres
 */
export function rangeAtConstantLiftCoefficient(
  specificRangeMPerKg: number,
  startMassKg: number,
  fuelKg: number,
): number {
  return specificRangeMPerKg * startMassKg * Math.log(startMassKg / (startMassKg - fuelKg));
}

/**
 * Time out and back against and with a wind along the course, over that in still air: `1 / (1 - (w/V)^2)`.
 * Never less than one: wind always costs on a round trip. Source: arithmetic.
 */
export function outAndBackTimeRatio(windMps: number, trueAirspeedMps: number): number {
  const ratio = windMps / trueAirspeedMps;
  if (!(Math.abs(ratio) < 1)) throw new RangeError('the wind must be weaker than the airspeed');
  return 1 / (1 - ratio ** 2);
}
