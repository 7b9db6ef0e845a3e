import { contrastOf, type Estimate, influenceOf, meanOf, type ValuedRun } from './estimate.ts';
import type { ConfigurationResult, RunValue } from './result.ts';
import { normal95 } from './run.ts';

/** Runs as they are shown: value, interval, corrections, and how much each counts. */
export function runValues(
  id: string,
  runs: readonly ValuedRun[],
  weights: ReadonlyMap<ValuedRun, number>,
  outliers: ReadonlyMap<ValuedRun, string>,
): RunValue[] {
  return runs
    .filter(({ run }) => run.configuration === id)
    .map((valued) => {
      const { run, reduced } = valued;
      const sigma = Math.hypot(reduced.ownSigma, ...Object.values(reduced.shared));
      const outlier = outliers.get(valued);
      return {
        file: run.file,
        number: run.number,
        day: run.day,
        timeS: run.timeS,
        raw: { value: run.raw.value, low: run.raw.low, high: run.raw.high },
        value: reduced.value,
        low: reduced.value - normal95 * sigma,
        high: reduced.value + normal95 * sigma,
        sigma,
        corrections: reduced.corrections,
        weight: weights.get(valued) ?? 1,
        ...(outlier === undefined ? {} : { outlier }),
      };
    });
}

/**
 * How much each run counts: its coefficient in the difference from the baseline (of the baseline: from the first other configuration), relative to the one
 * that counts most in its configuration. The estimate of least variance gives less to runs with large errors of their own, to several runs of one
 * day, and to runs far from the conditions in which the other configuration was flown; a run that only serves to learn a shift gets 0.
 */
export function runWeights(estimate: Estimate, baseline: string): Map<ValuedRun, number> {
  const weights = new Map<ValuedRun, number>();
  const other = estimate.ids.find((id) => id !== baseline);
  for (const id of estimate.ids) {
    const [from, to] = id === baseline ? [id, other] : [baseline, id];
    const contrast = to === undefined ? undefined : contrastOf(estimate, from, to);
    if (contrast === undefined) continue;
    const influence = influenceOf(contrast);
    const own = estimate.runs.map(({ run }, i) =>
      run.configuration === id ? Math.max(0, (id === from ? -1 : 1) * influence[i]) : 0,
    );
    const largest = Math.max(...own);
    estimate.runs.forEach((valued, i) => {
      if (valued.run.configuration === id) weights.set(valued, largest > 0 ? own[i] / largest : 0);
    });
  }
  return weights;
}

/** One configuration of a metric; `estimate` absent where nothing could be estimated. */
export function configurationResult(
  id: string,
  runs: readonly ValuedRun[],
  estimate: Estimate | undefined,
  weights: ReadonlyMap<ValuedRun, number>,
  outliers: ReadonlyMap<ValuedRun, string>,
): ConfigurationResult {
  const values = runValues(id, runs, weights, outliers);
  const days = new Set(values.map((value) => value.day)).size;
  const mean = estimate === undefined || days < 2 ? undefined : meanOf(estimate, id);
  return {
    id,
    runs: values.length,
    days,
    ...(mean === undefined ? {} : { mean }),
    ...(values.length === 0
      ? {}
      : { naiveMean: values.reduce((sum, value) => sum + value.raw.value, 0) / values.length }),
    values,
  };
}
