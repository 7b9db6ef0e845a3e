/**
 * The mass and CG envelope of the flight manual, as a polygon of corners in order. The manual rules: this only tells on
 * which side of its lines a loading lies.
 */
export interface EnvelopeCorner {
  readonly cgM: number;
  readonly massKg: number;
}

export interface EnvelopeCheck {
  readonly inside: boolean;
  /** Forward and aft limit at this mass, m; absent when the mass is above or below the whole envelope. */
  readonly forwardLimitM?: number;
  readonly aftLimitM?: number;
  /** Room to the forward and to the aft limit at this mass, m, positive inside. */
  readonly forwardMarginM?: number;
  readonly aftMarginM?: number;
  /** Room to the greatest mass of the envelope, kg, positive below it. */
  readonly massMarginKg: number;
}

/**
 * Where a loading lies in an envelope.
 *
 * @throws RangeError when fewer than three corners are given
 */
export function checkEnvelope(corners: readonly EnvelopeCorner[], massKg: number, cgM: number): EnvelopeCheck {
  if (corners.length < 3) throw new RangeError(`an envelope needs at least three corners, got ${corners.length}`);
  const greatestKg = Math.max(...corners.map((corner) => corner.massKg));
  const massMarginKg = greatestKg - massKg;
  const limits = limitsAtMass(corners, massKg);
  if (limits === undefined) return { inside: false, massMarginKg };
  const forwardMarginM = cgM - limits.forwardM;
  const aftMarginM = limits.aftM - cgM;
  return {
    inside: forwardMarginM >= 0 && aftMarginM >= 0 && massMarginKg >= 0,
    forwardLimitM: limits.forwardM,
    aftLimitM: limits.aftM,
    forwardMarginM,
    aftMarginM,
    massMarginKg,
  };
}

function limitsAtMass(
  corners: readonly EnvelopeCorner[],
  massKg: number,
): { readonly forwardM: number; readonly aftM: number } | undefined {
  let forwardM = Number.POSITIVE_INFINITY;
  let aftM = Number.NEGATIVE_INFINITY;
  for (const [index, from] of corners.entries()) {
    const to = corners[(index + 1) % corners.length];
    const [low, high] = from.massKg <= to.massKg ? [from, to] : [to, from];
    if (massKg < low.massKg || massKg > high.massKg) continue;
    const crossings =
      low.massKg === high.massKg
        ? [low.cgM, high.cgM]
        : [low.cgM + ((massKg - low.massKg) / (high.massKg - low.massKg)) * (high.cgM - low.cgM)];
    forwardM = Math.min(forwardM, ...crossings);
    aftM = Math.max(aftM, ...crossings);
  }
  return forwardM <= aftM ? { forwardM, aftM } : undefined;
}
