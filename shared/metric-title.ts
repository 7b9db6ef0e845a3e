import type { DisplayUnits } from './display-units.ts';
import { formatValue } from './format.ts';
import { factsOf } from './metric.ts';

/** Heights of the usual obstacles, 50 ft and 100 ft, by the whole metres that stand in the name of the metric. */
const obstacleM: Readonly<Record<number, number>> = { 15: 15.24, 30: 30.48 };

/** A metric by its name alone as it is spoken of: "Distance over 50 ft"; the name itself where it is not known. */
export function metricTitle(metric: string, units: DisplayUnits): string {
  const over = /^distance-over-(\d+)m$/.exec(metric);
  if (over === null) return factsOf(metric)?.title ?? metric;
  const named = Number(over[1]);
  return `Distance over ${formatValue(obstacleM[named] ?? named, 'altitude', units)}`;
}
