import type { EvenSeries } from './motion-series.ts';

/** Two minutes with a common piece of movement is the least that can be compared. */
const leastOverlapS = 120;

/** At least this part of the shorter recording must lie within the other. */
const leastOverlapPart = 0.3;

/** A second place that fits nearly as well, further away than this, makes the answer ambiguous (circuits after each other). */
const otherPlaceS = 60;
export interface Shift {
  readonly shiftS: number;
  readonly r: number;
  readonly overlapS: number;
  /** The best correlation further away than a minute, if any. */
  readonly rival?: number;
}

/** The shift of `b` with the highest correlation, among those with enough overlap and enough movement in it. */
export function bestShift(
  a: EvenSeries,
  b: EvenSeries,
  fromS: number,
  toS: number,
  leastMotion: number,
): Shift | undefined {
  const { stepS } = a;
  const aEndS = a.startS + a.values.length * stepS;
  const bEndS = b.startS + b.values.length * stepS;
  const shorterS = Math.min(a.values.length, b.values.length) * stepS;
  const needS = Math.max(leastOverlapS, leastOverlapPart * shorterS);
  const found: Shift[] = [];
  const first = Math.ceil(Math.max(fromS, a.startS + needS - bEndS) / stepS);
  const last = Math.floor(Math.min(toS, aEndS - needS - b.startS) / stepS);
  for (let shift = first; shift <= last; shift++) {
    const fit = correlationAt(a, b, shift);
    if (!fit || fit.samples * stepS < needS || fit.spread < leastMotion) continue;
    found.push({ shiftS: shift * stepS, r: fit.r, overlapS: fit.samples * stepS });
  }
  let best: Shift | undefined;
  for (const shift of found) if (!best || shift.r > best.r) best = shift;
  if (!best) return undefined;
  let rival: number | undefined;
  for (const { shiftS, r } of found) {
    if (Math.abs(shiftS - best.shiftS) > otherPlaceS && (rival === undefined || r > rival)) rival = r;
  }
  return { ...best, ...(rival === undefined ? {} : { rival }) };
}

/** Correlation of `a` with `b` moved later by so many steps; `spread` is the smaller standard deviation. */
function correlationAt(
  a: EvenSeries,
  b: EvenSeries,
  shift: number,
): { r: number; samples: number; spread: number } | undefined {
  const offset = Math.round((a.startS - b.startS) / a.stepS) - shift;
  let n = 0;
  let [sumA, sumB, sumAa, sumBb, sumAb] = [0, 0, 0, 0, 0];
  // Values are taken relative to the first ones, so that nothing is lost to large means.
  let [baseA, baseB] = [Number.NaN, Number.NaN];
  for (let i = Math.max(0, -offset); i < a.values.length && i + offset < b.values.length; i++) {
    const valueA = a.values[i];
    const valueB = b.values[i + offset];
    if (!(Number.isFinite(valueA) && Number.isFinite(valueB))) continue;
    if (n === 0) [baseA, baseB] = [valueA, valueB];
    n++;
    sumA += valueA - baseA;
    sumB += valueB - baseB;
    sumAa += (valueA - baseA) ** 2;
    sumBb += (valueB - baseB) ** 2;
    sumAb += (valueA - baseA) * (valueB - baseB);
  }
  if (n < 10) return undefined;
  const varianceA = sumAa / n - (sumA / n) ** 2;
  const varianceB = sumBb / n - (sumB / n) ** 2;
  const covariance = sumAb / n - (sumA * sumB) / n ** 2;
  const r = varianceA > 0 && varianceB > 0 ? covariance / Math.sqrt(varianceA * varianceB) : 0;
  return { r, samples: n, spread: Math.sqrt(Math.max(0, Math.min(varianceA, varianceB))) };
}
