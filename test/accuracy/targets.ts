import { summariseChanges } from './print.ts';
import type { CampaignsRun } from './run-campaigns.ts';
import { binomialInterval, summarise, type Tally } from './tally.ts';

/** One aim, whether it was reached, and by how much it was missed. */
export interface TargetResult {
  readonly name: string;
  readonly met: boolean | undefined;
  readonly said: string;
}

const fine = ['good5', 'good5-vertical', 'good10', 'film-vertical-10'];
const vertical = ['good5-vertical', 'film-vertical-10'];
const oneHertzWithSpeed = ['handheld', 'phone', 'panel', 'film-vertical', 'handheld (FIT)'];
const knotMps = 1852 / 3600;

export function targets(flights: Tally, campaigns: CampaignsRun, alone: CampaignsRun): TargetResult[] {
  const results: TargetResult[] = [];
  const of = (metric: string, groups?: readonly string[]) =>
    summarise(flights.of(metric, (group) => !groups || groups.includes(group)));
  const limit = (name: string, value: number, most: number, unit: string, n: number, scale = 1): void => {
    if (n === 0) {
      results.push({ name, met: undefined, said: 'nothing to judge' });
      return;
    }
    const met = value <= most;
    const over = met ? '' : `, missed by ${((value - most) * scale).toFixed(2)} ${unit}`;
    results.push({
      name,
      met,
      said: `${(value * scale).toFixed(2)} ${unit} (aim ${(most * scale).toFixed(2)}, n ${n})${over}`,
    });
  };
  for (const event of ['take-off', 'landing', 'rejected take-off', 'touch-and-go']) {
    const counts = flights.total(event);
    const all = counts.found + counts.missed;
    results.push({
      name: `every ${event} found, none invented`,
      met: all === 0 ? undefined : counts.missed === 0 && counts.invented === 0,
      said: `${counts.found} of ${all} found, ${counts.invented} invented`,
    });
  }
  const roll = (name: string, groups: readonly string[], most: number): void => {
    const s = of('ground-roll of 90 m or more', groups);
    limit(name, s.rmsRelative, most, '%', s.n, 100);
  };
  roll('ground roll RMS, vertical velocity at 5 Hz or more', vertical, 0.03);
  roll('ground roll RMS, good height at 5 Hz or more', fine, 0.03);
  roll('ground roll RMS, 1 Hz with speed', oneHertzWithSpeed, 0.08);
  const climb = of('rate-of-climb, still air');
  limit('rate of climb RMS in still air', climb.rmsRelative, 0.02, '%', climb.n, 100);
  const tas = of('TAS, steady wind, headings');
  limit('TAS from three headings RMS, where the wind is steady', tas.rms / knotMps, 0.5, 'kt', tas.n);
  const wind = of('wind vector error, steady wind, headings');
  limit('wind from three headings RMS, where it is steady', wind.rms / knotMps, 1, 'kt', wind.n);
  for (const metric of [
    'ground-roll',
    'lift-off time',
    'liftoff-speed',
    'distance-over-15m',
    'distance-over-30m',
    'rate-of-climb, whole',
    'rate-of-climb, band',
    'TAS, headings',
    'level-speed (TAS)',
    'landing-roll',
  ]) {
    const s = of(metric);
    results.push(coverage(`${metric}: intervals hold the truth`, s.coverage, s.n));
  }
  let good = 0;
  let all = 0;
  for (const groups of flights.counts.values()) {
    const counts = groups.get('phase boundary');
    if (!counts) continue;
    good += counts.found;
    all += counts.found + counts.missed;
  }
  results.push({
    name: 'phase boundaries within 3 s (but for where an approach begins)',
    met: all === 0 ? undefined : good === all,
    said: all === 0 ? 'nothing to judge' : `${((100 * good) / all).toFixed(1)} % of ${all}`,
  });
  const both = [
    ...summariseChanges(campaigns.changes).map((s) => ({ ...s, from: 'files to verdict' })),
    ...summariseChanges(alone.changes).map((s) => ({ ...s, from: 'comparison alone' })),
  ];
  for (const s of both) {
    results.push(coverage(`change of ${s.metric} (${s.from}): intervals hold the truth`, s.coverageAt95, s.n));
    if (s.nulls > 0 && s.metric.includes('equal-load')) {
      const [low] = binomialInterval(s.falseAlarms, s.nulls);
      results.push({
        name: `change of ${s.metric} (${s.from}): false alarms at most 5 %`,
        met: s.falseAlarms / s.nulls <= 0.05,
        said: `${s.falseAlarms} of ${s.nulls}${s.falseAlarms / s.nulls > 0.05 && low < 0.05 ? ' (more than the aim, not more than chance allows)' : ''}`,
      });
    }
  }
  return results;
}

/** Aim: 93 to 97 %. Within that, or not told from it by so few: both are said. */
export function coverage(name: string, share: number, n: number): TargetResult {
  if (n === 0) return { name, met: undefined, said: 'nothing to judge' };
  const [low, high] = binomialInterval(Math.round(share * n), n);
  const met = share >= 0.93 && share <= 0.97;
  const chance = !met && low <= 0.97 && high >= 0.93;
  let off = '';
  if (!met) {
    const by = share < 0.93 ? 0.93 - share : share - 0.97;
    off = `, ${share < 0.93 ? 'too low' : 'too high'} by ${(100 * by).toFixed(1)} points${chance ? ' (chance allows it)' : ''}`;
  }
  return {
    name,
    met,
    said: `${(100 * share).toFixed(1)} % of ${n} (95 %: ${(100 * low).toFixed(0)}-${(100 * high).toFixed(0)}; aim 93-97)${off}`,
  };
}
