import { countMissions, missionGroups } from './print-decisions.ts';
import type { DecisionsRun } from './run-decisions.ts';
import type { MissionSeen } from './run-missions.ts';
import { binomialInterval, summarise } from './tally.ts';
import { coverage, type TargetResult } from './targets.ts';

/**
 * Aims of predictions and missions: 95 % intervals hold 95 %; of "yes" by published factors none is wrong; of "yes" that only the
 * statistics stand behind no more are wrong than the one-sided level of the interval admits.
 */
export function decisionTargets({ predictions, missions }: DecisionsRun): TargetResult[] {
  const results: TargetResult[] = [];
  for (const metric of new Set(predictions.seen.map((one) => one.metric))) {
    const list = predictions.seen.filter((one) => one.metric === metric && one.baseline === 'measured');
    const { coverage: share, n } = summarise(
      list.map(({ predicted, low, high, truth }) => ({ value: predicted, low, high, truth })),
    );
    results.push(coverage(`predicted ${metric}: intervals hold the truth`, share, n));
  }
  for (const { name, of } of missionGroups) {
    const published = name === 'strip, published factors';
    results.push(wrongYes(name, missions.seen.filter(of), published ? 0 : 0.025));
  }
  return results;
}

function wrongYes(name: string, list: readonly MissionSeen[], admitted: number): TargetResult {
  const { yes, wrongYes: wrong } = countMissions(list);
  const title = `missions, ${name}: "yes" that is wrong ${admitted === 0 ? 'never' : `at most ${100 * admitted} %`}`;
  if (yes === 0) return { name: title, met: undefined, said: 'nothing to judge' };
  const met = wrong <= admitted * yes;
  const [low] = binomialInterval(wrong, yes);
  const chance = !met && admitted > 0 && low <= admitted ? ' (more than the aim, not more than chance allows)' : '';
  return { name: title, met, said: `${wrong} of ${yes}${chance}` };
}
