import * as z from 'zod';
import { distanceOverName, metricFacts } from '../../../../../shared/metric.ts';
import { parseQuantity } from '../../../../../shared/quantity.ts';
import type { Dimension } from '../../../../../shared/units.ts';
import type { QuantityKind } from '../../../../../shared/format.ts';
import type { Question } from '../../types.ts';
import { key } from '../key-meta.ts';
import { flag, quantity, refuse } from '../shapes.ts';
import { metricWords, unknownMetric } from './exclude.ts';

/** Default heights of obstacle points: 50 ft and 100 ft. */
export const obstacleHeightsM = [15.24, 30.48] as const;

const dimensionOfKind: Readonly<Partial<Record<QuantityKind, Dimension>>> = {
  length: 'length',
  altitude: 'length',
  speed: 'speed',
  'vertical-speed': 'speed',
  time: 'time',
  'fuel-flow': 'fuel-flow',
  mass: 'mass',
  ratio: 'ratio',
};

/** Per cent, or the metric's own unit. */
function readMargin(
  written: string,
  kind: QuantityKind,
): { readonly value: number; readonly relative: boolean } | string {
  const relative = parseQuantity(written, 'ratio');
  if (relative.ok) {
    if (!(relative.quantity.value > 0 && relative.quantity.value <= 0.5))
      return `"${written}" is no margin: expected 0 to 50 %.`;
    return { value: relative.quantity.value, relative: true };
  }
  const absolute = parseQuantity(written, dimensionOfKind[kind] ?? 'ratio');
  if (!absolute.ok) return `${absolute.message} A margin may also be a percentage.`;
  if (!(absolute.quantity.value > 0)) return `"${written}" is no margin: expected more than zero.`;
  return { value: absolute.quantity.value, relative: false };
}

function question() {
  const short = key(
    z.string().transform((written, context): Question => {
      const facts = metricFacts.find((candidate) => candidate.name === written);
      if (facts === undefined) return refuse(context, 'spec-word', unknownMetric(written));
      if (facts.needs === 'height')
        return refuse(context, 'spec-question', 'Say over which height: "distance-over: 50 ft".');
      if (facts.needs === 'rate')
        return refuse(context, 'spec-question', 'Say which rate of climb: "climb-held-to: 500 ft/min".');
      return { metric: facts.name, primary: false };
    }),
    { doc: 'A metric by its name.', names: 'metrics', words: metricWords },
  );
  const long = key(
    z
      .strictObject({
        metric: key(z.string(), {
          doc: 'The metric, by its name.',
          names: 'metrics',
          words: metricWords,
          example: 'ground-roll',
        }).optional(),
        'distance-over': quantity('length', {
          doc: 'Distance over an obstacle of this height.',
          example: '50 ft',
          limits: { low: 5, high: 500, unit: 'ft' },
          alsoCalled: ['distance-over-obstacle', 'obstacle'],
        }).optional(),
        'climb-held-to': quantity('speed', {
          doc: 'Density altitude up to which this rate of climb is held.',
          example: '500 ft/min',
          limits: { low: 50, high: 4000, unit: 'ft/min' },
          alsoCalled: ['ceiling'],
        }).optional(),
        primary: flag({
          doc: 'True for the one question that was the reason of the change.',
          example: 'true',
        }).optional(),
        margin: key(z.string(), {
          doc: 'Difference that would not matter: within it the configurations are called equivalent. Decide it before you look.',
          example: '5 %',
          alsoCalled: ['equivalence-margin', 'tolerance'],
        }).optional(),
        worthwhile: key(z.string(), {
          doc: 'Difference that would matter to you; used to say how many more flying days would show it.',
          example: '10 %',
        }).optional(),
      })
      .transform((written, context): Question => {
        const heightM = written['distance-over'];
        const rateMps = written['climb-held-to'];
        const named = [written.metric, heightM, rateMps].filter((given) => given !== undefined);
        if (named.length !== 1) {
          return refuse(
            context,
            'spec-question',
            'A question names one thing: "metric: ground-roll", "distance-over: 50 ft" or "climb-held-to: 500 ft/min".',
          );
        }
        const name = written.metric ?? (heightM === undefined ? 'climb-held-to' : 'distance-over');
        const facts = metricFacts.find((candidate) => candidate.name === name);
        if (facts === undefined) {
          context.addIssue({
            code: 'custom',
            path: ['metric'],
            message: unknownMetric(name),
            params: { code: 'spec-word' },
          });
          return z.NEVER;
        }
        if (written.metric !== undefined && facts.needs !== undefined) {
          const example = facts.needs === 'height' ? 'distance-over: 50 ft' : 'climb-held-to: 500 ft/min';
          return refuse(context, 'spec-question', `Write it as "${example}".`);
        }
        const widths: { margin?: Question['margin']; worthwhile?: Question['worthwhile'] } = {};
        for (const width of ['margin', 'worthwhile'] as const) {
          const given = written[width];
          if (given === undefined) continue;
          const read = readMargin(given, facts.kind);
          if (typeof read === 'string') {
            context.addIssue({ code: 'custom', path: [width], message: read, params: { code: 'spec-quantity' } });
          } else widths[width] = read;
        }
        return {
          metric: heightM === undefined ? name : distanceOverName(heightM),
          primary: written.primary ?? false,
          ...widths,
          ...(heightM === undefined ? {} : { heightM }),
          ...(rateMps === undefined ? {} : { rateMps }),
        };
      }),
    { doc: 'A metric with its height, rate or margin.' },
  );
  return key(z.union([short, long]), { doc: 'What you want to know.', words: metricWords });
}

export function questions() {
  return key(
    z.array(question()).min(1, 'Ask at least one question, or leave the key out.').max(40, 'More than 40 questions.'),
    {
      doc: 'What you want to know, the reason of the change marked as primary; the usual set if not written.',
      alsoCalled: ['question', 'metrics', 'ask'],
    },
  );
}
