import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatValue, type QuantityKind } from '../../../shared/format.ts';
import { factsOf } from '../../../shared/metric.ts';
import type { Footing, MetricResult } from '../compare/result.ts';
import type { Question, Spec } from '../spec/index.ts';

/** How a metric is spoken of in a report. */
export interface MetricWords {
  /** Sentence case, with its height or rate: "Distance over 50 ft". */
  readonly title: string;
  readonly kind: QuantityKind;
  readonly doc: string;
  /** Part of file names and anchors. */
  readonly slug: string;
}

const kindOfUnit: Readonly<Record<MetricResult['unit'], QuantityKind>> = {
  m: 'length',
  'm/s': 'speed',
  s: 'time',
  'm3/s': 'fuel-flow',
  kg: 'mass',
  '1': 'ratio',
};

export const footingTitles: Readonly<Record<Footing, string>> = {
  'as-flown': 'as flown',
  'equal-weight': 'at equal weight',
  'equal-load': 'at equal load',
  'own-weight': 'at own weight',
};

/** The question that a result answers, for the height or rate that was written. */
export function questionOf(result: MetricResult, spec: Spec): Question | undefined {
  return spec.questions.ask.find((question) => question.metric === result.metric);
}

export function metricWords(result: MetricResult, spec: Spec, units: DisplayUnits): MetricWords {
  const facts = factsOf(result.metric);
  const kind = facts?.kind ?? kindOfUnit[result.unit];
  const plain = result.metric.replace(/-/g, ' ');
  const question = questionOf(result, spec);
  const over = /^distance-over-(\d+)m$/.exec(result.metric);
  let title = facts?.title ?? plain.charAt(0).toUpperCase() + plain.slice(1);
  if (over !== null) {
    title = `Distance over ${formatValue(question?.heightM ?? Number(over[1]), 'altitude', units)}`;
  } else if (question?.rateMps !== undefined) {
    title = `Altitude to which ${formatValue(question.rateMps, 'vertical-speed', units)} is held`;
  }
  return { title, kind, doc: facts?.doc ?? '', slug: result.metric };
}
