/**
 * Partial pressure of water vapour from the dew point, Pa (Magnus form, over water):
 * 610.94 x exp(17.625 t / (t + 243.04)), t in degrees Celsius.
 * Source: Alduchov and Eskridge (1996) coefficients, the form in general use. Within 0.4 % from -40 to +50 degrees C.
 */
export function vapourPressurePa(dewPointK: number): number {
  const t = dewPointK - 273.15;
  return 610.94 * Math.exp((17.625 * t) / (t + 243.04));
}

/** The same in the form of the US National Weather Service: 611 x 10^(7.5 t / (237.7 + t)) Pa. A cross-check. */
export function vapourPressureNwsPa(dewPointK: number): number {
  const t = dewPointK - 273.15;
  return 611 * 10 ** ((7.5 * t) / (237.7 + t));
}
