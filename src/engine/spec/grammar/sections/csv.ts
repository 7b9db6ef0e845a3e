import * as z from 'zod';
import type { CsvMapping } from '../../../readers/reader.ts';
import { key } from '../key-meta.ts';
import { refuse, word } from '../shapes.ts';

/** How a table is to be understood. */
export function csv() {
  return key(
    z.strictObject({
      columns: key(z.record(z.string(), key(z.string(), { doc: 'What the column holds, with its unit.' })), {
        doc: 'Column heading to what it holds, with its unit.',
        example: '{ Alt: altitude ft, GS: ground speed kt }',
      }).optional(),
      'date-order': word(
        { 'day-month': '03/04 is 3 April', 'month-day': '03/04 is 4 March' },
        { doc: 'Order of day and month, where the file leaves it open.' },
      ).optional(),
      'utc-offset': key(
        z.string().transform((written, context) => {
          const clean = written === 'Z' ? '+00:00' : written;
          return /^[+-](?:0\d|1[0-4]):[0-5]\d$/.test(clean)
            ? clean
            : refuse(context, 'spec-time', `"${written}" is no offset from UTC: expected "-05:00" or "+01:00".`);
        }),
        { doc: 'Offset of local times from UTC.', example: '"-05:00"' },
      ).optional(),
    }),
    { doc: 'How to understand a table whose headings do not say it.' },
  );
}

/** As a reader takes it. */
export function csvMapping(written: z.output<ReturnType<typeof csv>>): CsvMapping {
  return { columns: written.columns, dateOrder: written['date-order'], utcOffset: written['utc-offset'] };
}
