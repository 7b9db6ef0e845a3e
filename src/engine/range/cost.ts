/** Cost of fuel and of the rest (oil, maintenance set aside) by hour and by distance. Currency as the pilot writes it. */
export interface Cost {
  readonly perHour: number;
  /** Per metre over the ground. */
  readonly perMetre: number;
}

/**
 * @param fuelPricePerM3 price of a cubic metre of fuel
 * @param otherPerHour what an hour costs beside fuel
 */
export function cost(fuelFlowM3ps: number, groundSpeedMps: number, fuelPricePerM3: number, otherPerHour = 0): Cost {
  if (!(groundSpeedMps > 0)) throw new RangeError(`ground speed must be positive, got ${groundSpeedMps} m/s`);
  const perHour = fuelFlowM3ps * 3600 * fuelPricePerM3 + otherPerHour;
  return { perHour, perMetre: perHour / 3600 / groundSpeedMps };
}
