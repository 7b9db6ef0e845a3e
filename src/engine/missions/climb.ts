import { climbWeightAddend } from '../corrections/index.ts';
import { studentQuantile } from '../stats/student.ts';
import { lighterThanEmpty, massOf, tooHeavy } from './mass.ts';
import type { ClimbNeed, MissionAnswer } from './need.ts';
import type { MeasuredPerformance } from './performance.ts';

/** Range of the flights beyond which a straight line of rate against density altitude is not followed: half of it. */
const extrapolationShare = 0.5;
/** Further from the mass flown than this no climb is worked out (SFTE handbook ch. 12: keep within about 10 %). */
const massReach = 0.15;
const z95 = 1.959963984540054;

/**
 * Is the rate reached at that density altitude? By the measured line and its interval, brought to the mass asked about by
 * inertia and induced drag, whose error counts as well: near the ceiling nearly all of what more weight costs is induced drag.
 *
 * Sources: SFTE reference handbook (2013) ch. 12; FAA-H-8083-25C ch. 11.
 */
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
  const massKg = massOf(need, performance);
  if (massKg !== undefined && tooHeavy(massKg, performance)) {
    return { ...base, answer: 'no', factors: [], why: ['heavier than the maximum weight: not allowed'] };
  }
  if (climb === undefined) return unknown('no climb was measured at enough heights');
  if (massKg === undefined) return unknown('the mass is not known: neither a total nor an empty weight with a load');
  if (lighterThanEmpty(massKg, performance)) return unknown('the weight asked about is less than the empty weight');
  const [lowestM, highestM] = climb.seenM;
  const beyondM = Math.max(need.densityAltitudeM - highestM, lowestM - need.densityAltitudeM);
  if (beyondM > extrapolationShare * (highestM - lowestM)) {
    return unknown('further from the heights flown than half of their range: not extrapolated');
  }
  if (performance.turbocharged && need.densityAltitudeM > highestM) {
    return unknown(
      'above the heights flown, and a turbocharged engine loses power from some height on: not extrapolated',
    );
  }
  const at = climb.rateAt(need.densityAltitudeM);
  if (at === undefined) return unknown('the climbs say nothing about that height');
  const weight = climbWeightAddend({
    rateMps: at.value,
    massKg: { value: climb.massKg, sigma: 0 },
    referenceMassKg: massKg,
    polar: climb.polarAt?.(need.densityAltitudeM),
  });
  const value = at.value + (weight.addend ?? 0);
  const weightSigma = Math.abs((weight.sensitivity['induced drag'] ?? 0) * value);
  const inertia = climb.massKg / massKg;
  const half = Math.hypot(studentQuantile(0.975, Math.max(1, climb.df)) * at.sigma * inertia, z95 * weightSigma);
  const takes = { value, low: value - half, high: value + half };
  const factors =
    massKg === climb.massKg || !(at.value > 0)
      ? []
      : [
          {
            name: 'weight',
            factor: value / at.value,
            source: 'SFTE reference handbook (2013) ch. 12: inertia and induced drag',
          },
        ];
  const why = beyondM > 0 ? ['beyond the heights flown: a prediction along the line'] : [];
  const result = { ...base, takes, margin: takes.low - need.rateMps, factors };
  if (takes.high < need.rateMps) {
    return {
      ...result,
      answer: 'no',
      why: [...why, 'even the favourable end of the interval is less than what is asked'],
    };
  }
  if (Math.abs(massKg / climb.massKg - 1) > massReach) {
    return {
      ...result,
      answer: 'not enough data',
      why: [...why, 'the weight is more than 15 % away from that of the climbs'],
    };
  }
  if (takes.low >= need.rateMps) {
    return {
      ...result,
      answer: 'yes',
      why: [...why, 'the unfavourable end of the interval still climbs as asked, in still air'],
    };
  }
  return { ...result, answer: 'not enough data', why: [...why, 'what is asked lies within the interval'] };
}
