import type { EngineParts } from '../../src/engine/evaluate/evaluate.ts';
import { printMissions, printPredictions } from './print-decisions.ts';
import { missionCampaign, type MissionsRun, newMissionsRun, runMissions } from './run-missions.ts';
import { type PredictionsRun, runPredictions } from './run-predictions.ts';

export interface DecisionsRun {
  readonly predictions: PredictionsRun;
  readonly missions: MissionsRun;
}

/** How much of it: simulated modifications, and campaigns whose needs are answered. */
export interface DecisionsSize {
  readonly modifications: number;
  readonly campaigns: number;
}

/**
 * The half of the job around the flights against known answers: predicted against true change of simulated modifications, and
 * missions against what the simulated aeroplane truly does.
 */
export function runDecisions(
  compare: EngineParts['compare'],
  seed: string,
  size: DecisionsSize,
  stop: () => boolean,
  print: (line: string) => void,
): DecisionsRun {
  const predictions = runPredictions(seed, size.modifications, stop);
  print('\n# Predictions: simulated modifications, as their owners would write them, against their true answers');
  printPredictions(predictions, print);
  const missions = newMissionsRun();
  for (let i = 0; i < size.campaigns && !stop(); i++) {
    runMissions(compare, `${seed}/missions/${i}`, missionCampaign(i), missions);
  }
  print('\n# Missions: needs near the limit, answered from simulated campaigns, against the true aeroplane');
  printMissions(missions, print);
  return { predictions, missions };
}
