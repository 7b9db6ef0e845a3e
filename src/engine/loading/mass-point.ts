/**
 * Masses at arms and their sum: `moment = mass x arm`, `CG = sum of moments / sum of masses`.
 *
 * Arms are metres aft of the aeroplane's own datum; a mass removed is negative, and the sign of its moment follows both
 * signs. Source: FAA-H-8083-25C ch. 10; FAA-H-8083-30B ch. 6.
 */
export interface MassPoint {
  readonly name: string;
  /** kg; negative for something removed. */
  readonly massKg: number;
  /** m aft of the datum (negative forward of it). */
  readonly armM: number;
  /** One sigma of the mass, kg, and of the arm, m; absent means known exactly. */
  readonly massSigmaKg?: number;
  readonly armSigmaM?: number;
}

export interface Balance {
  readonly massKg: number;
  readonly momentKgM: number;
  /** Centre of gravity, m aft of the datum. */
  readonly cgM: number;
  /** One sigma of mass and of CG, from those of the points, taken as independent. */
  readonly massSigmaKg: number;
  readonly cgSigmaM: number;
}

/**
 * Sum of mass points.
 *
 * @returns total mass (kg), moment (kg m) and CG (m) with their standard deviations by the delta method:
 * `dCG/dm_i = (arm_i - CG)/M`, `dCG/darm_i = m_i/M`.
 * @throws RangeError when the total mass is not positive: a CG has then no meaning.
 */
export function balance(points: readonly MassPoint[]): Balance {
  let massKg = 0;
  let momentKgM = 0;
  for (const point of points) {
    massKg += point.massKg;
    momentKgM += point.massKg * point.armM;
  }
  if (!(massKg > 0)) throw new RangeError(`total mass must be positive, got ${massKg} kg`);
  const cgM = momentKgM / massKg;
  let massVariance = 0;
  let cgVariance = 0;
  for (const point of points) {
    const massSigmaKg = point.massSigmaKg ?? 0;
    massVariance += massSigmaKg ** 2;
    cgVariance += (((point.armM - cgM) / massKg) * massSigmaKg) ** 2;
    cgVariance += ((point.massKg / massKg) * (point.armSigmaM ?? 0)) ** 2;
  }
  return { massKg, momentKgM, cgM, massSigmaKg: Math.sqrt(massVariance), cgSigmaM: Math.sqrt(cgVariance) };
}
