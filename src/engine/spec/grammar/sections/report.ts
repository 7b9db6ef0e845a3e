import * as z from 'zod';
import { displayUnitChoices } from '../../../../../shared/display-units.ts';
import { key } from '../key-meta.ts';
import { flag, text, word } from '../shapes.ts';

export const unitSetWords = {
  icao: 'metres on the ground, feet in the air, kt, ft/min, kg, L, degC, hPa',
  us: 'ft, kt, ft/min, lb, US gal, degC, inHg',
  metric: 'm, km/h, m/s, kg, L, degC, hPa',
} as const;

function choice<const S extends string>(symbols: readonly S[], doc: string) {
  const words = Object.fromEntries(symbols.map((symbol) => [symbol, symbol])) as unknown as Record<S, string>;
  return word(words, { doc }).optional();
}

function unitsKey() {
  return key(
    z.union([
      word(unitSetWords, { doc: 'A ready-made set.' }),
      z.strictObject({
        length: choice(displayUnitChoices.length, 'Distances along the ground.'),
        altitude: choice(displayUnitChoices.altitude, 'Altitudes.'),
        speed: choice(displayUnitChoices.speed, 'Speeds.'),
        'vertical-speed': choice(displayUnitChoices.verticalSpeed, 'Rates of climb.'),
        weight: choice(displayUnitChoices.mass, 'Weights.'),
        volume: choice(displayUnitChoices.volume, 'Fuel.'),
        temperature: choice(displayUnitChoices.temperature, 'Temperatures.'),
        pressure: choice(displayUnitChoices.pressure, 'Pressures.'),
      }),
    ]),
    { doc: 'Units of the report: a ready-made set, or each by itself.', words: unitSetWords, example: 'us' },
  );
}

export function report() {
  return key(
    z.strictObject({
      file: text({
        doc: 'Markdown file that is written, relative to this file; its figures lie beside it (`report.md` has `report-figures`).',
        example: 'report.md',
        alsoCalled: ['output', 'path'],
      }).optional(),
      'insert-into': text({
        doc: 'Existing notes file: the report is written between its two marker comments and nothing else is touched.',
        example: 'notes.md',
      }).optional(),
      units: unitsKey().optional(),
      figures: flag({ doc: 'Whether figures are drawn; true if not written.', example: 'true' }).optional(),
      trade: flag({
        doc: 'Whether the trade between metrics is told and drawn: what each configuration gains and loses; for three configurations or more if not written.',
        example: 'true',
      }).optional(),
      'hide-positions': flag({
        doc: 'Leave positions and file names with places out of the report, to share it.',
        example: 'true',
      }).optional(),
    }),
    { doc: 'Where the report goes and how it looks.' },
  );
}
