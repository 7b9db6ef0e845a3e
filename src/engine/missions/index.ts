import { answerClimb } from './climb.ts';
import { answerLeg } from './leg.ts';
import type { MissionAnswer, Need } from './need.ts';
import type { MeasuredPerformance } from './performance.ts';
import { answerStrip } from './strip.ts';

export { answerClimb } from './climb.ts';
export { answerLeg } from './leg.ts';
export * from './need.ts';
export * from './performance.ts';
export { answerStrip, privateTakeoffFactor } from './strip.ts';
export { type SuitedConfiguration, type SuitedNeed, type Suitability, suitabilityOf } from './suits.ts';

/** Answers every need for every configuration, needs first. */
export function answerMissions(
  needs: readonly Need[],
  performances: readonly MeasuredPerformance[],
): readonly MissionAnswer[] {
  return needs.flatMap((need) =>
    performances.map((performance) => {
      if (need.kind === 'strip') return answerStrip(need, performance);
      return need.kind === 'leg' ? answerLeg(need, performance) : answerClimb(need, performance);
    }),
  );
}
