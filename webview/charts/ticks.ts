import type { DisplayUnits } from '../../shared/display-units.ts';
import {
  formatClock,
  formatFixed,
  fromShownUnit,
  inShownUnit,
  type QuantityKind,
  shownUnit,
} from '../../shared/format.ts';

/** A tick at a value in SI (seconds after the origin for a clock) with its text. */
export interface Tick {
  readonly value: number;
  readonly label: string;
}

/** What an axis measures. A clock counts seconds from `originS` (Unix) and shows UTC. */
export type AxisKind = { readonly quantity: QuantityKind } | { readonly clockFromS: number };

const clockStepsS = [
  0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200,
];

function niceStep(span: number, most: number): number {
  const rough = span / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(rough));
  const lead = rough / power;
  return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10);
}

function steps(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: Math.max(0, Math.min(200, last - first + 1)) }, (_, index) => (first + index) * step);
}

/** Round values of the unit shown (not of SI) between two values in SI, about `most` of them. */
export function ticksFor(kind: AxisKind, units: DisplayUnits, from: number, to: number, most: number): Tick[] {
  if (!(to > from) || !Number.isFinite(to - from)) return [];
  if ('clockFromS' in kind) {
    const step = clockStepsS.find((one) => (to - from) / one <= most) ?? niceStep(to - from, most);
    const decimals = step < 1 ? 1 : 0;
    return steps(from + kind.clockFromS, to + kind.clockFromS, step).map((timeS) => {
      const text = formatClock(timeS, decimals);
      return { value: timeS - kind.clockFromS, label: step >= 60 ? text.slice(0, 5) : text };
    });
  }
  const { quantity } = kind;
  const [low, high] = [inShownUnit(from, quantity, units), inShownUnit(to, quantity, units)];
  const step = niceStep(high - low, most);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return steps(low, high, step).map((value) => ({
    value: fromShownUnit(value, quantity, units),
    label: formatFixed(value, decimals),
  }));
}

/** "ft", "UTC". */
export function axisUnit(kind: AxisKind, units: DisplayUnits): string {
  return 'clockFromS' in kind ? 'UTC' : shownUnit(kind.quantity, units).symbol;
}
