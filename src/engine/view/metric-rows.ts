import type { Analysis, Climb, Landing, LevelRun, Takeoff, WindEstimate } from '../../../shared/analysis.ts';
import type { MetricRow } from '../../../shared/flight-view.ts';
import type { Measured } from '../../../shared/measured.ts';

type Row = Omit<MetricRow, 'id' | 'group' | 'startS' | 'endS'> & { readonly key: string };

function present(rows: readonly (Omit<Row, 'measured'> & { readonly measured?: Measured })[]): Row[] {
  return rows.filter((row): row is Row => row.measured !== undefined);
}

function ofTakeoff(takeoff: Takeoff): Row[] {
  return present([
    { key: 'ground-roll', name: 'Ground roll', kind: 'length', measured: takeoff.groundRollM },
    ...takeoff.screens.map((screen) => ({
      key: `over-${screen.heightM}`,
      name: `Distance over ${Math.round(screen.heightM / 0.3048)} ft`,
      kind: 'length' as const,
      measured: screen.distanceM,
    })),
    { key: 'time-to-liftoff', name: 'Time to lift-off', kind: 'time', measured: takeoff.timeToLiftoffS },
    { key: 'liftoff-speed', name: 'Ground speed at lift-off', kind: 'speed', measured: takeoff.liftoffSpeedMps },
    { key: 'peak-speed', name: 'Highest ground speed', kind: 'speed', measured: takeoff.peakSpeedMps },
  ]);
}

function ofLanding(landing: Landing): Row[] {
  return present([
    { key: 'ground-roll', name: 'Landing roll', kind: 'length', measured: landing.groundRollM },
    { key: 'touchdown-speed', name: 'Ground speed at touchdown', kind: 'speed', measured: landing.touchdownSpeedMps },
  ]);
}

function ofClimb(climb: Climb): Row[] {
  return present([
    { key: 'rate', name: 'Rate of climb', kind: 'vertical-speed', measured: climb.rateOfClimbMps },
    {
      key: 'energy-rate',
      name: 'Rate of climb, corrected for change of speed',
      kind: 'vertical-speed',
      measured: climb.energyRateMps,
    },
    { key: 'best-minute', name: 'Best sustained minute', kind: 'vertical-speed', measured: climb.bestMinuteMps },
    { key: 'gradient', name: 'Climb gradient over the ground', kind: 'ratio', measured: climb.gradient },
    ...climb.bands.map((band, index) => ({
      key: `band-${index + 1}`,
      name: 'Rate of climb',
      kind: 'vertical-speed' as const,
      measured: band.energyRateMps ?? band.rateOfClimbMps,
      bandM: [band.fromAltitudeM, band.toAltitudeM] as const,
    })),
  ]);
}

function ofLevelRun(run: LevelRun): Row[] {
  return present([
    { key: 'ground-speed', name: 'Ground speed', kind: 'speed', measured: run.groundSpeedMps },
    { key: 'true-airspeed', name: 'True airspeed', kind: 'speed', measured: run.trueAirspeedMps },
    { key: 'fuel-flow', name: 'Fuel flow', kind: 'fuel-flow', measured: run.fuelFlowM3ps },
  ]);
}

function ofWind(wind: WindEstimate): Row[] {
  return present([
    { key: 'speed', name: 'Wind speed', kind: 'speed', measured: wind.speedMps },
    { key: 'from', name: 'Wind from', kind: 'angle', measured: wind.fromRad },
    { key: 'true-airspeed', name: 'True airspeed', kind: 'speed', measured: wind.trueAirspeedMps },
  ]);
}

function group<T>(
  items: readonly T[],
  name: string,
  rows: (item: T) => Row[],
  span: (item: T) => { startS: number; endS: number },
): MetricRow[] {
  return items.flatMap((item, index) => {
    const title = `${name} ${index + 1}`;
    return rows(item).map(({ key, ...row }) => ({
      id: `${title.toLowerCase().replaceAll(' ', '-')}/${key}`,
      group: title,
      ...row,
      ...span(item),
    }));
  });
}

function spanOf({ startS, endS }: { readonly startS: number; readonly endS: number }): {
  startS: number;
  endS: number;
} {
  return { startS, endS };
}

/** Every derived metric of a flight as rows of a table, in the order of the flight. */
export function metricRows(analysis: Analysis): MetricRow[] {
  return [
    ...group(analysis.takeoffs, 'Take-off', ofTakeoff, (takeoff) => ({
      startS: takeoff.rollStart.timeS,
      endS: (takeoff.screens[takeoff.screens.length - 1]?.time ?? takeoff.liftoff ?? takeoff.rollStart).timeS + 5,
    })),
    ...group(analysis.climbs, 'Climb', ofClimb, spanOf),
    ...group(analysis.levelRuns, 'Level run', ofLevelRun, spanOf),
    ...group(analysis.winds, 'Wind', ofWind, spanOf),
    ...group(analysis.landings, 'Landing', ofLanding, (landing) => ({
      startS: landing.touchdown.timeS - 5,
      endS: (landing.stop ?? landing.touchdown).timeS + 5,
    })),
  ];
}
