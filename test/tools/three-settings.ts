import type { AnalysedFlight } from '../../src/engine/compare/flight.ts';
import type { Spec } from '../../src/engine/spec/types.ts';
import { campaignInMemory, type InMemoryCampaign } from './campaign-in-memory.ts';

export interface ThreeSettings {
  /** Flying days in each. */
  readonly days: number;
  /** True ground roll of each against that of "before", for "before", "after" and "third". */
  readonly factors: readonly [number, number, number];
  /** Settings of the three, deg. */
  readonly settings?: readonly [number, number, number];
  readonly pairs?: Spec['questions']['pairs'];
  readonly liftoffSigmaS?: number;
}

/** A campaign of three configurations: the days "after" of a campaign without a change are split, and the rolls of each multiplied. */
export function threeSettings(seed: number, options: ThreeSettings): InMemoryCampaign {
  const { days, factors, settings, pairs, liftoffSigmaS = 0.1 } = options;
  const campaign = campaignInMemory(seed, {
    days: [days, 2 * days],
    runsADay: [1, 2],
    change: 0,
    weather: 'fair',
    liftoffSigmaS,
  });
  const later = [
    ...new Set(campaign.flights.flatMap(({ day, entry }) => (entry.configuration === 'after' ? [day] : []))),
  ];
  const ids = ['before', 'after', 'third'] as const;
  const flights = campaign.flights.map((flight): AnalysedFlight => {
    const { analysis, entry } = flight;
    const which = entry.configuration === 'before' ? 0 : later.indexOf(flight.day) < days ? 1 : 2;
    const factor = factors[which];
    return {
      ...flight,
      entry: { ...entry, configuration: ids[which] },
      ...(analysis === undefined
        ? {}
        : {
            analysis: {
              ...analysis,
              takeoffs: analysis.takeoffs.map((takeoff) => {
                const roll = takeoff.groundRollM;
                if (roll === undefined) return takeoff;
                const times = { value: roll.value * factor, low: roll.low * factor, high: roll.high * factor };
                return { ...takeoff, groundRollM: { ...roll, ...times } };
              }),
            },
          }),
    };
  });
  const [before, after] = campaign.spec.configurations;
  const set = (index: number) => (settings === undefined ? {} : { setting: { value: settings[index], unit: 'deg' } });
  const spec: Spec = {
    ...campaign.spec,
    configurations: [
      { ...before, ...set(0) },
      { ...after, ...set(1) },
      { ...after, id: 'third', ...set(2) },
    ],
    ...(settings === undefined ? {} : { settingOf: 'blade angle' }),
    questions: {
      ask: [{ metric: 'ground-roll', primary: true }],
      at: ['equal-weight'],
      ...(pairs === undefined ? {} : { pairs }),
    },
  };
  return { spec, flights };
}
