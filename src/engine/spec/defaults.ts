import type { Noted } from './types.ts';

/**
 * How wrong a pilot's note is when the note does not say: one standard deviation each, SI. They enter every interval, so
 * each has its reason; README.md of this folder says the same in words. None was fitted to any set of flights.
 */
const knot = 1852 / 3600;

/** Whole degrees (0.3 K), an uncalibrated thermometer and the distance from the runway (common practice, no source: 1 K). */
export const airTemperatureSigmaK = 1;

/** Dew point is read from a station's report in whole degrees, and differs more from place to place than temperature. */
export const dewPointSigmaK = 1.5;

/** Reported in whole hectopascals, rounded down, and up to an hour old: 1 hPa is 27 ft. */
export const altimeterSettingSigmaPa = 100;

/**
 * Each component of the wind at the runway during the roll, against a report: 2 kt for rounding, distance and age, and a
 * fifth of the speed, as the wind over open ground varies by 15 to 20 per cent of its mean within minutes (turbulence
 * intensity at 10 m; common practice, no source).
 */
export function windSigmaMps(speedMps: number): number {
  return Math.hypot(2 * knot, 0.2 * speedMps);
}

/** A weight that was added up from people, fuel gauge and last weighing: 1.5 per cent, not less than 10 kg. */
export function takeoffMassSigmaKg(massKg: number): number {
  return Math.max(10, 0.015 * massKg);
}

/** A weighing on scales: 2 kg. */
export const emptyMassSigmaKg = 2;

/** Published slopes are means from end to end in tenths of a per cent; the part that is used differs. */
export const slopeSigma = 0.002;

/** A climb speed that is held by hand. */
export const climbSpeedSigmaMps = 2 * knot;

/** A fuel gauge or a stick: 5 per cent, not less than 4 litres. */
export function fuelAtStartSigmaM3(volumeM3: number): number {
  return Math.max(4e-3, 0.05 * volumeM3);
}

/** Filled up to the same level as before: 2 litres. */
export const fuelUsedSigmaM3 = 2e-3;

export function noted(value: number, stated: number | undefined, usual: number): Noted {
  return { value, sigma: stated ?? usual, sigmaStated: stated !== undefined };
}
