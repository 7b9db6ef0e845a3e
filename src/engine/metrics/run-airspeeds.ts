import type { LevelRun, WindEstimate } from '../analysis.ts';
import { velocityOfWind, velocityTowards } from '../wind/wind-triangle.ts';
import { windVariogram } from '../wind/wind-errors.ts';
import { measured, normal95 } from './interval.ts';

/** A wind of the same recording says something of a run within 30 minutes and 600 m of height. */
const farthestS = 1800;
const farthestM = 600;

/**
 * Level runs with a true airspeed: the recorded one where there is one, else the ground velocity of the run less the wind found nearest to it in
 * time and height, with the error of that wind and its change in between. Runs without a wind stay as they are: a ground speed is no airspeed.
 */
export function withAirspeeds(levelRuns: readonly LevelRun[], winds: readonly WindEstimate[]): LevelRun[] {
  return levelRuns.map((run) => {
    if (run.trueAirspeedMps !== undefined) return run;
    // The wind that the run itself helped to find comes first: an error of its speed is in both, and cancels.
    const own = winds.filter((wind) => /headings/.test(wind.method) && contains(wind, run));
    let best: { readonly value: number; readonly sigma: number; readonly wind: WindEstimate } | undefined;
    for (const wind of own.length > 0 ? own : winds) {
      const found = airspeedIn(run, wind);
      if (found !== undefined && (best === undefined || found.sigma < best.sigma)) best = { ...found, wind };
    }
    if (best === undefined) return run;
    const method = `ground velocity less the wind found by ${best.wind.method}`;
    return { ...run, trueAirspeedMps: measured(best.value, best.sigma, method) };
  });
}

function contains(wind: WindEstimate, run: LevelRun): boolean {
  return run.startS >= wind.startS - 1 && run.endS <= wind.endS + 1;
}

function airspeedIn(run: LevelRun, wind: WindEstimate): { readonly value: number; readonly sigma: number } | undefined {
  const middleS = (run.startS + run.endS) / 2;
  // Nothing lies between a run and a wind that was found over it.
  const secondsApart = Math.max(0, wind.startS - middleS, middleS - wind.endS);
  const metresApart = Math.abs(run.altitudeM - wind.altitudeM);
  if (secondsApart > farthestS || metresApart > farthestM) return undefined;
  const air = velocityOfWind(wind.fromRad.value, wind.speedMps.value);
  const ground = velocityTowards(run.trackRad, run.groundSpeedMps.value);
  const value = Math.hypot(ground.eastMps - air.eastMps, ground.northMps - air.northMps);
  const windSigma =
    Math.max(wind.speedMps.high - wind.speedMps.value, wind.speedMps.value - wind.speedMps.low) / normal95;
  const runSigma = (run.groundSpeedMps.high - run.groundSpeedMps.low) / (2 * normal95);
  const change = Math.sqrt(windVariogram(secondsApart, metresApart));
  return { value, sigma: Math.hypot(windSigma, runSigma, change) };
}
