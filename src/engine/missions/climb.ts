import { studentQuantile } from '../stats/student.ts';
import type { ClimbNeed, MissionAnswer } from './need.ts';
import type { MeasuredPerformance } from './performance.ts';

/** Range of the flights beyond which a straight line of rate against density altitude is not followed: half of it. */
const extrapolationShare = 0.5;
/**
 * Rate with weight: rate times weight over weight (SFTE reference handbook, 2013, ch. 12, inertia step), and induced drag on
 * top of it: exponent -1.3 to -2 in all (from memory); the unfavourable end is used for a heavier aeroplane, the favourable
 * end gives no credit to a lighter one.
 */
const heavierExponent = -2;
const lighterExponent = -1;

/** Is the rate reached at that density altitude? By the measured line, its interval, and a cautious allowance for weight. */
export function answerClimb(need: ClimbNeed, performance: MeasuredPerformance): MissionAnswer {
  const base = {
    need: need.name,
    kind: 'climb' as const,
    configuration: performance.configuration,
    available: need.rateMps,
  };
  const unknown = (reason: string): MissionAnswer => ({
    ...base,
    answer: 'not enough data',
    factors: [],
    why: [reason],
  });
  const climb = performance.climb;
  if (climb === undefined) return unknown('no climb was measured at enough heights');
  const massKg =
    need.massKg ??
    (need.loadKg === undefined || performance.emptyMassKg === undefined
      ? undefined
      : performance.emptyMassKg + need.loadKg);
  if (massKg === undefined) return unknown('the mass is not known: neither a total nor an empty weight with a load');
  const [lowestM, highestM] = climb.seenM;
  const beyondM = Math.max(need.densityAltitudeM - highestM, lowestM - need.densityAltitudeM);
  if (beyondM > extrapolationShare * (highestM - lowestM)) {
    return unknown('further from the heights flown than half of their range: not extrapolated');
  }
  const at = climb.rateAt(need.densityAltitudeM);
  if (at === undefined) return unknown('the climbs say nothing about that height');
  const mass = massKg / climb.massKg;
  const factor = mass ** (mass > 1 ? heavierExponent : lighterExponent);
  const half = studentQuantile(0.975, Math.max(1, climb.df)) * at.sigma;
  const takes = { value: at.value * factor, low: (at.value - half) * factor, high: (at.value + half) * factor };
  const result = {
    ...base,
    takes,
    margin: takes.low - need.rateMps,
    factors: [
      {
        name: 'weight',
        factor,
        source: 'SFTE reference handbook (2013) ch. 12, with induced drag on the cautious side',
      },
    ],
    why: beyondM > 0 ? ['beyond the heights flown: a prediction along the line'] : [],
  };
  if (takes.low >= need.rateMps) return { ...result, answer: 'yes' };
  return { ...result, answer: takes.high < need.rateMps ? 'no' : 'not enough data' };
}
