import { normalCdf, normalQuantile } from '../stats/normal.ts';
import type { Question, Spec } from '../spec/types.ts';
import type { MetricKind } from './metric-kind.ts';
import { pairsOf } from './pairs.ts';
import type { Change, MetricResult, Verdict } from './result.ts';
import { normal95 } from './run.ts';
import { amountText, sentenceOf } from './sentence.ts';

/** Empty weights as weighed: no flights, so the uncertainty is that of the scales alone. */
export function emptyWeightResult(spec: Spec, kind: MetricKind, question: Question): MetricResult {
  const weighed = spec.configurations.filter(({ emptyMassKg }) => emptyMassKg !== undefined);
  const { units } = spec.report;
  const emptyOf = (id: string) => weighed.find((configuration) => configuration.id === id)?.emptyMassKg;
  const ids = spec.configurations.map(({ id }) => id);
  const changes = pairsOf(ids, spec).flatMap(([from, to]): Change[] => {
    const [base, emptyMassKg] = [emptyOf(from), emptyOf(to)];
    if (base === undefined || emptyMassKg === undefined) return [];
    const value = emptyMassKg.value - base.value;
    const sigma = Math.hypot(emptyMassKg.sigma, base.sigma);
    const half = normal95 * sigma;
    const pValue = sigma > 0 ? 2 * normalCdf(-Math.abs(value) / sigma) : value === 0 ? 1 : 0;
    const verdict: Verdict = pValue < 0.05 ? (value < 0 ? 'lower' : 'higher') : 'no difference shown';
    const difference = { value, low: value - half, high: value + half };
    const detectable = (normal95 + normalQuantile(0.8)) * sigma;
    return [
      {
        from,
        to,
        difference,
        confidence: 0.95,
        naivePercent: 100 * (emptyMassKg.value / base.value - 1),
        verdict,
        pValue,
        pValueAdjusted: pValue,
        moreDays: null,
        detectable,
        sentence: sentenceOf({
          kind,
          title: kind.facts.title,
          footing: 'as-flown',
          from,
          to,
          verdict,
          difference,
          alpha: 0.05,
          moreDays: null,
          worthwhile: amountText(question.worthwhile ?? kind.worthwhile, kind, units),
          units,
        }).replace(' as flown', ''),
        warnings: [],
      },
    ];
  });
  return {
    metric: question.metric,
    unit: kind.unit,
    conditions: 'as-flown',
    smallerIsBetter: true,
    primary: question.primary,
    configurations: spec.configurations.map(({ id, emptyMassKg }) => ({
      id,
      runs: 0,
      days: 0,
      ...(emptyMassKg === undefined
        ? {}
        : {
            mean: {
              value: emptyMassKg.value,
              low: emptyMassKg.value - normal95 * emptyMassKg.sigma,
              high: emptyMassKg.value + normal95 * emptyMassKg.sigma,
            },
            naiveMean: emptyMassKg.value,
          }),
      values: [],
    })),
    changes,
    at: 'As weighed.',
  };
}
