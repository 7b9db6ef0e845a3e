import type { Analysis } from '../../../shared/analysis.ts';

/** The events behind a run of a metric that the pilot gave, in words; none where all were found in the recording. */
export function eventsByPilot(analysis: Analysis | undefined, metric: string, number: number): string[] {
  const takeoff = /^(?:ground-roll|distance-over|time-to)/.test(metric) ? analysis?.takeoffs[number - 1] : undefined;
  const landing = metric.startsWith('landing') ? analysis?.landings[number - 1] : undefined;
  const given = {
    'start of roll': takeoff?.rollStart,
    'lift-off': takeoff?.liftoff,
    touchdown: landing?.touchdown,
    'end of roll': landing?.stop,
  };
  return Object.entries(given).flatMap(([word, instant]) => (instant?.origin === 'pilot' ? [word] : []));
}
