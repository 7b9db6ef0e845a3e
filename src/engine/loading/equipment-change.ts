import { balance, type Balance, type MassPoint } from './mass-point.ts';

export interface EquipmentChange {
  /** What comes off: positive masses. */
  readonly removed: readonly MassPoint[];
  /** What goes on: positive masses. */
  readonly installed: readonly MassPoint[];
}

export interface ChangedEmpty {
  readonly before: Balance;
  readonly after: Balance;
  readonly massChangeKg: number;
  readonly cgChangeM: number;
  /** Useful load: maximum mass less empty mass; absent when the maximum is not given. */
  readonly usefulLoadBeforeKg?: number;
  readonly usefulLoadAfterKg?: number;
  /**
   * True when the change is small enough that the handbook calls it negligible: at most 1 lb for an aeroplane of less than
   * 5,000 lb empty (FAA-H-8083-25C ch. 10, after AC 43.13-1), and, where the mean aerodynamic chord is known, a CG change
   * under 0.05 % of it. It must be recorded all the same.
   */
  readonly negligible: boolean;
}

const KG_PER_LB = 0.45359237;
const NEGLIGIBLE_KG = 1 * KG_PER_LB;
const NEGLIGIBLE_BELOW_EMPTY_KG = 5000 * KG_PER_LB;
/** Sums and differences of doubles are not exact to the last digit. */
const ROUNDING = 1e-9;
const NEGLIGIBLE_CG_SHARE_OF_MAC = 0.0005;

/**
 * New empty mass and CG after equipment was removed and installed.
 *
 * A calculated update is acceptable only when mass and arm of every item are known exactly; else the aeroplane is weighed
 * (FAA-H-8083-30B ch. 6). The flight manual's and the mechanic's record rule; this is arithmetic for deciding.
 *
 * @param empty the empty aeroplane before, as one mass point
 * @throws RangeError for a negative mass in either list (removal is expressed by the list, not by the sign)
 */
export function changeEquipment(
  empty: MassPoint,
  change: EquipmentChange,
  limits: { readonly maximumMassKg?: number; readonly meanAerodynamicChordM?: number } = {},
): ChangedEmpty {
  for (const point of [...change.removed, ...change.installed]) {
    if (!(point.massKg >= 0))
      throw new RangeError(`${point.name}: the mass must not be negative, got ${point.massKg} kg`);
  }
  const before = balance([empty]);
  const after = balance([
    empty,
    ...change.removed.map((point) => ({ ...point, massKg: -point.massKg })),
    ...change.installed,
  ]);
  const massChangeKg = after.massKg - before.massKg;
  const cgChangeM = after.cgM - before.cgM;
  const chord = limits.meanAerodynamicChordM;
  return {
    before,
    after,
    massChangeKg,
    cgChangeM,
    usefulLoadBeforeKg: limits.maximumMassKg === undefined ? undefined : limits.maximumMassKg - before.massKg,
    usefulLoadAfterKg: limits.maximumMassKg === undefined ? undefined : limits.maximumMassKg - after.massKg,
    negligible:
      before.massKg < NEGLIGIBLE_BELOW_EMPTY_KG &&
      Math.abs(massChangeKg) <= NEGLIGIBLE_KG * (1 + ROUNDING) &&
      (chord === undefined || Math.abs(cgChangeM) < NEGLIGIBLE_CG_SHARE_OF_MAC * chord),
  };
}

/** CG as a percentage of the mean aerodynamic chord: `(CG - LEMAC) / MAC x 100`. Source: FAA-H-8083-1B fig. 3-19. */
export function percentMac(cgM: number, leadingEdgeMacM: number, meanAerodynamicChordM: number): number {
  return ((cgM - leadingEdgeMacM) / meanAerodynamicChordM) * 100;
}

/** Mass to move from one arm to another for a CG change: `m = M x dCG / (to - from)`, kg. Source: FAA-H-8083-25C ch. 10. */
export function massToShift(totalMassKg: number, cgChangeM: number, fromArmM: number, toArmM: number): number {
  return (totalMassKg * cgChangeM) / (toArmM - fromArmM);
}

/**
 * Ballast that brings the CG from out of limits to the limit: `m = M x (CG - limit) / (limit - ballast arm)`, kg.
 * Source: FAA-H-8083-30B ch. 6, figs 6-40 and 6-41 (their printed form divides by the distance from the ballast to the
 * desired CG).
 */
export function ballastMass(loadedMassKg: number, cgM: number, desiredCgM: number, ballastArmM: number): number {
  return (loadedMassKg * (cgM - desiredCgM)) / (desiredCgM - ballastArmM);
}
