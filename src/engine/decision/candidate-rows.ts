import { densityAltitudeOfDensityM, seaLevelDensityKgM3 } from '../atmosphere/index.ts';
import type { Interval, Measured } from '../../../shared/measured.ts';
import { distanceOverName } from '../../../shared/metric.ts';
import type { ComparisonResult } from '../compare/result.ts';
import { type MeasuredPerformance, screensOf } from '../missions/index.ts';
import type { CandidateSpread } from './candidate-spread.ts';

export interface PredictedAndMeasured {
  /** `distance-over-…` in metres rounded, as the comparison calls it. */
  readonly metric: 'ground-roll' | `distance-over-${number}m` | 'rate-of-climb' | 'level-speed' | 'service-ceiling';
  /** SI: m, m/s, m/s, m of density altitude. */
  readonly baseline?: number;
  readonly predicted: Measured;
  /** As a fraction of the baseline. */
  readonly change?: Measured;
  /** What it was when flown since, with the 95 % interval of the comparison; absent if it was not measured. */
  readonly measured?: Interval;
  /** The measured change as a fraction, where the comparison has the two configurations side by side. */
  readonly measuredChange?: Interval;
  /**
   * Where the measurement lies against the prediction: beyond what the two 95 % intervals together explain, or not. Absent
   * where nothing was measured.
   */
  readonly found?: 'as predicted' | 'more than predicted' | 'less than predicted';
}

export interface MeasuredSince {
  readonly mean?: Interval;
  readonly change?: Interval;
}

/**
 * What the flights of a configuration showed, with the interval of the comparison: at equal load where that was worked out,
 * as a prediction carries what the change weighs.
 */
export function measuredSince(
  comparison: ComparisonResult | undefined,
  from: string,
  flown: string | undefined,
): (metric: string) => MeasuredSince {
  return (metric) => {
    const found = (comparison?.metrics ?? []).filter((one) => one.metric === metric);
    const at =
      found.find((one) => one.conditions === 'equal-load') ?? found.find((one) => one.conditions === 'equal-weight');
    const mean = at?.configurations.find((one) => one.id === flown)?.mean;
    const change = at?.changes.find((one) => one.from === from && one.to === flown);
    const percent = change?.percentAlone ?? change?.percent;
    return {
      mean: mean && { value: mean.value, low: mean.low, high: mean.high },
      change: percent && { value: percent.value / 100, low: percent.low / 100, high: percent.high / 100 },
    };
  };
}

/** Beyond what both intervals explain together, or within it. The change is compared where there is one, else the value. */
function foundAgainst(predicted: Interval, measured: Interval): NonNullable<PredictedAndMeasured['found']> {
  const more = measured.value > predicted.value;
  const off = Math.abs(measured.value - predicted.value);
  const allowed = more
    ? Math.hypot(predicted.high - predicted.value, measured.value - measured.low)
    : Math.hypot(predicted.value - predicted.low, measured.high - measured.value);
  if (off <= allowed) return 'as predicted';
  return more ? 'more than predicted' : 'less than predicted';
}

/** Predicted figures, with what was measured since beside them. */
export function rowsOf(
  spread: CandidateSpread,
  base: MeasuredPerformance,
  measured: (metric: string) => MeasuredSince,
): PredictedAndMeasured[] {
  const { result } = spread;
  const row = (
    metric: PredictedAndMeasured['metric'],
    baseline: number | undefined,
    predicted: Measured,
    change: Measured,
  ): PredictedAndMeasured => {
    const since = measured(metric);
    let found: PredictedAndMeasured['found'];
    if (since.change !== undefined) found = foundAgainst(change, since.change);
    else if (since.mean !== undefined) found = foundAgainst(predicted, since.mean);
    return { metric, baseline, predicted, change, measured: since.mean, measuredChange: since.change, found };
  };
  const rows = [row('ground-roll', base.takeoff?.groundRollM.value, result.groundRollM, result.groundRollChange)];
  const screens = base.takeoff === undefined ? [] : screensOf(base.takeoff);
  for (const [index, screen] of result.screens.entries()) {
    if (screen === undefined) continue;
    rows.push(row(distanceOverName(screen.heightM), screens[index].distanceM.value, screen.distanceM, screen.change));
  }
  rows.push(
    row(
      'rate-of-climb',
      result.rateOfClimbMps.value / (1 + result.rateOfClimbChange.value),
      result.rateOfClimbMps,
      result.rateOfClimbChange,
    ),
  );
  if (base.cruise.length > 0) {
    rows.push(row('level-speed', base.cruise[0].trueAirspeedMps.value, result.levelTasMps, result.levelTasChange));
  }
  const ceiling = result.ceilingDensityRatio;
  if (ceiling !== undefined && !spread.turbocharged) {
    const height = (ratio: number) => densityAltitudeOfDensityM(ratio * seaLevelDensityKgM3);
    rows.push({
      metric: 'service-ceiling',
      predicted: { ...ceiling, value: height(ceiling.value), low: height(ceiling.high), high: height(ceiling.low) },
    });
  }
  return rows;
}
