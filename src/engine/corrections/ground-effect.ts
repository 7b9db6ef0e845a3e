/**
 * Factors of ground effect at a height of the wing over the span (h/b): on the lift coefficient 0.8609 - 0.6282 log10(h/b), while above 1, and
 * on the induced drag 0.2412 ln(h/b) + 1.0829, while below 1.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12.
 * @throws RangeError when h/b is not positive.
 * @example groundEffect(0.15) // { lift: 1.3785, inducedDrag: 0.6253 }
 */
export function groundEffect(heightOverSpan: number): { readonly lift: number; readonly inducedDrag: number } {
  if (!(heightOverSpan > 0)) throw new RangeError(`Height over span ${heightOverSpan} is not positive.`);
  return {
    lift: Math.max(1, 0.8609 - 0.6282 * Math.log10(heightOverSpan)),
    inducedDrag: Math.max(0, Math.min(1, 0.2412 * Math.log(heightOverSpan) + 1.0829)),
  };
}
