/**
 * Weight-altitude generalisation: variables in which climbs and level runs at many weights and densities fall on one line, as long as the
 * lift coefficient is the same.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12 for power and speed; the rate of climb follows by dividing the power by the
 * weight (from memory).
 */
export interface Generalised {
  readonly massKg: number;
  readonly referenceMassKg: number;
  readonly densityRatio: number;
}

/** PIW, W: P sqrt(sigma) (W_s/W_t)^1.5. */
export function generalisedPowerW(powerW: number, at: Generalised): number {
  return powerW * Math.sqrt(at.densityRatio) * (at.referenceMassKg / at.massKg) ** 1.5;
}

/** VIW, m/s: V_e (W_s/W_t)^0.5, from the equivalent airspeed. */
export function generalisedSpeedMps(equivalentAirspeedMps: number, at: Generalised): number {
  return equivalentAirspeedMps * Math.sqrt(at.referenceMassKg / at.massKg);
}

/** CIW, m/s: rate of climb x sqrt(sigma) (W_s/W_t)^0.5. */
export function generalisedRateMps(rateOfClimbMps: number, at: Generalised): number {
  return rateOfClimbMps * Math.sqrt(at.densityRatio * (at.referenceMassKg / at.massKg));
}
