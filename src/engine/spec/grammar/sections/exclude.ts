import * as z from 'zod';
import { factsOf, metricFacts } from '../../../../../shared/metric.ts';
import { nearest } from '../../nearest.ts';
import { key } from '../key-meta.ts';
import { ordinal, refuse, text } from '../shapes.ts';

/** Docs of the metric words for completion. */
export const metricWords: Readonly<Record<string, string>> = Object.fromEntries(
  metricFacts.map((facts) => [facts.name, facts.doc]),
);

export function unknownMetric(written: string): string {
  const names = Object.keys(metricWords);
  const near = nearest(written, names);
  return `"${written}" is no metric.${near === undefined ? ` Known: ${names.join(', ')}.` : ` Did you mean "${near}"?`}`;
}

export function exclude() {
  return key(
    z.array(
      z.strictObject({
        track: key(z.string(), {
          doc: 'The recording that is left out, as written under `flights` or as found by a pattern there.',
          names: 'tracks',
          alsoCalled: ['file', 'flight', 'recording'],
        }),
        metric: key(
          z.string().transform((written, context) => {
            return factsOf(written) === undefined ? refuse(context, 'spec-word', unknownMetric(written)) : written;
          }),
          {
            doc: 'Only this metric is left out; all of them if not written. `distance-over` means every height.',
            names: 'metrics',
            words: metricWords,
            example: 'ground-roll',
          },
        ).optional(),
        number: ordinal({
          doc: 'Only this take-off, landing or climb of the recording, from 1.',
          example: '2',
        }).optional(),
        because: text({
          doc: 'Why it is left out. It stands in the report: leaving out runs after seeing the answer is how people fool themselves.',
          example: 'brakes were dragging',
          alsoCalled: ['reason', 'why'],
        }),
      }),
    ),
    {
      doc: 'What is left out of the comparison, each with its reason.',
      alsoCalled: ['exclusions', 'excluded', 'skip', 'leave-out'],
    },
  );
}
