import { detectableRatio, powerOfT } from './power.ts';

/**
 * Power of a comparison of two groups of `days` independent days each.
 * @param difference True difference, and @param deviation the standard deviation between days, in one unit (log or SI).
 * @example powerOfDays(20, 1, 1) // 0.8689528 (R, power.t.test)
 */
export function powerOfDays(days: number, difference: number, deviation: number, alpha = 0.05): number {
  return powerOfT((Math.abs(difference) / deviation) * Math.sqrt(days / 2), 2 * days - 2, alpha);
}

/**
 * Smallest difference that two groups of `days` days each show with the given power, in the unit of `deviation`.
 * @example detectableDifference(5, 1) // 2.024
 */
export function detectableDifference(days: number, deviation: number, power = 0.8, alpha = 0.05): number {
  return detectableRatio(2 * days - 2, power, alpha) * deviation * Math.sqrt(2 / days);
}

/**
 * Days in each configuration, not rounded, with which a difference is shown with the given power.
 * @returns Infinity for a difference of zero; at least 2.
 * @example daysNeededExact(1, 1, 0.9) // 22.0211 (R, power.t.test)
 */
export function daysNeededExact(difference: number, deviation: number, power = 0.8, alpha = 0.05): number {
  if (!(Math.abs(difference) > 0) || !(deviation >= 0)) return Number.POSITIVE_INFINITY;
  let low = 1 + 1e-6;
  let high = 2;
  while (powerOfDays(high, difference, deviation, alpha) < power) {
    low = high;
    high *= 2;
    if (high > 1e6) return Number.POSITIVE_INFINITY;
  }
  for (let step = 0; step < 100 && high - low > 1e-10 * high; step++) {
    const middle = (low + high) / 2;
    if (powerOfDays(middle, difference, deviation, alpha) < power) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** What scatters in a comparison, as standard deviations in one unit (for percentages: on the logarithmic scale). */
export interface Scatter {
  readonly dayDeviation: number;
  readonly runDeviation: number;
  /** Error that more days do not average out, in the difference itself: an uncertain correction that all runs share. */
  readonly commonSigma?: number;
}

/**
 * Standard error of a difference with `days` days of `runsPerDay` runs in each configuration.
 * `sqrt(2 (day^2 + run^2 / runs) / days + common^2)`: more days help, more runs a day hardly do.
 * @example standardErrorOfDifference({ dayDeviation: 10.19, runDeviation: 3.764 }, 3, 2) // 8.596
 */
export function standardErrorOfDifference(scatter: Scatter, days: number, runsPerDay: number): number {
  const { dayDeviation, runDeviation, commonSigma = 0 } = scatter;
  return Math.sqrt((2 * (dayDeviation ** 2 + runDeviation ** 2 / runsPerDay)) / days + commonSigma ** 2);
}

/**
 * Days in each configuration needed to show a difference, with several runs a day and an error common to all runs.
 *
 * What for: planning ("how many more flights?").
 * @param mostDays Gives up beyond it.
 * @returns undefined when no number of days up to `mostDays` is enough.
 * @example daysNeeded(0.1, { dayDeviation: 0.05, runDeviation: 0 }) // 6
 */
export function daysNeeded(
  difference: number,
  scatter: Scatter,
  { runsPerDay = 1, power = 0.8, alpha = 0.05, mostDays = 200 } = {},
): number | undefined {
  for (let days = 2; days <= mostDays; days++) {
    const error = standardErrorOfDifference(scatter, days, runsPerDay);
    // The common error is known, not estimated: it adds degrees of freedom (Welch-Satterthwaite, JCGM 100:2008, G.4).
    const estimated = error ** 2 - (scatter.commonSigma ?? 0) ** 2;
    const df = estimated > 0 ? (2 * days - 2) * (error ** 2 / estimated) ** 2 : Number.POSITIVE_INFINITY;
    if (error === 0 || powerOfT(Math.abs(difference) / error, df, alpha) >= power) return days;
  }
  return undefined;
}
