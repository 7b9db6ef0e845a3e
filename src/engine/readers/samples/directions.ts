const fullTurn = 2 * Math.PI;

/** Half a degree: a direction written as -1 means "none", one of -0.3 degrees is a rounding of north. */
const slightlyNegative = -Math.PI / 360;

/**
 * Brings a column of directions to 0 up to 2π. Recorders write directions from 0 to 360 degrees with a negative number
 * for "none", or from -180 to 180: it is the latter where many different negative values stand. Changes `valuesRad`.
 */
export function settleDirections(valuesRad: Float64Array): void {
  const negative = new Set<number>();
  for (const value of valuesRad) if (value < slightlyNegative && negative.size < 3) negative.add(value);
  const signed = negative.size === 3;
  for (let i = 0; i < valuesRad.length; i++) {
    const value = valuesRad[i];
    if (value < slightlyNegative && !signed) valuesRad[i] = Number.NaN;
    else if (value < 0 || value >= fullTurn) valuesRad[i] = ((value % fullTurn) + fullTurn) % fullTurn;
  }
}
