import { balance, type Balance, type MassPoint } from './mass-point.ts';

/** One scale reading: net of tare, kg, at the arm of its wheel, m. */
export interface ScaleReading {
  readonly wheel: string;
  readonly netKg: number;
  readonly armM: number;
  /** One sigma of the reading, kg; platform scales are commonly within 0.1 % to 0.5 % (common practice, no source). */
  readonly sigmaKg?: number;
}

/**
 * Empty mass and CG from a weighing, with what was on board but does not belong to the empty aeroplane taken off.
 *
 * Source of the method: FAA-H-8083-1B ch. 3 (weighing on three points); FAA-H-8083-30B ch. 6.
 */
export function weighing(scales: readonly ScaleReading[], notEmpty: readonly MassPoint[] = []): Balance {
  return balance([
    ...scales.map((scale) => ({
      name: scale.wheel,
      massKg: scale.netKg,
      armM: scale.armM,
      massSigmaKg: scale.sigmaKg,
    })),
    ...notEmpty.map((point) => ({ ...point, massKg: -point.massKg })),
  ]);
}
