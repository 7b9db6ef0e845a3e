import type { MeasuredPerformance } from './performance.ts';

/** Total mass of a need: as written, or a load on top of the configuration's own empty mass; undefined where neither is known. */
export function massOf(
  need: { readonly massKg?: number; readonly loadKg?: number },
  performance: MeasuredPerformance,
): number | undefined {
  if (need.massKg !== undefined) return need.massKg;
  if (need.loadKg === undefined || performance.emptyMassKg === undefined) return undefined;
  return performance.emptyMassKg + need.loadKg;
}

/** Above the maximum mass: a sum of weights is not exact to the last digit. */
export function tooHeavy(massKg: number, { maximumMassKg }: MeasuredPerformance): boolean {
  return maximumMassKg !== undefined && massKg > maximumMassKg + 1e-6;
}

/** Lighter than the empty aeroplane: the weight of the need is misstated. */
export function lighterThanEmpty(massKg: number, { emptyMassKg }: MeasuredPerformance): boolean {
  return emptyMassKg !== undefined && massKg < emptyMassKg;
}
