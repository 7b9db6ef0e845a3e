import type { ProblemList } from '../problem-list.ts';
import { trackOffsetRad } from './track-offset.ts';

const degreeRad = Math.PI / 180;

/** True directions from a receiver agree with its positions within this, however it smooths (own choice). */
const toleranceRad = 5 * degreeRad;

export interface TrackColumns {
  readonly timeS: Float64Array;
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
  readonly trackRad: Float64Array | undefined;
  /** Radians east. */
  readonly variationRad?: Float64Array;
}

/**
 * Checks recorded directions of motion against the positions and turns magnetic ones to true where the file states the
 * variation. False when the column must not be used: it is then neither true nor made true.
 */
export function settleTrack(columns: TrackColumns, problems: ProblemList, assumptions: string[]): boolean {
  const { timeS, latDeg, lonDeg, trackRad, variationRad } = columns;
  if (!trackRad) return true;
  const offset = trackOffsetRad(timeS, latDeg, lonDeg, trackRad);
  if (offset === undefined || Math.abs(offset) <= toleranceRad) return true;
  if (variationRad) {
    const corrected = trackRad.map((value, i) => (value + variationRad[i] + 2 * Math.PI) % (2 * Math.PI));
    const left = trackOffsetRad(timeS, latDeg, lonDeg, corrected);
    if (left !== undefined && Math.abs(left) <= toleranceRad) {
      trackRad.set(corrected);
      assumptions.push(
        'Recorded directions of motion are magnetic; they were made true with the variation in the file.',
      );
      return true;
    }
  }
  const degrees = (offset / degreeRad).toFixed(0);
  problems.warning(
    'track-doubtful',
    `Recorded directions of motion differ by ${degrees} degrees from those of the positions (magnetic?): they were not used.`,
  );
  return false;
}
