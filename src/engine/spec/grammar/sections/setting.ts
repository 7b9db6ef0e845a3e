import * as z from 'zod';
import { findUnit, type Unit } from '../../../../../shared/units.ts';
import { key } from '../key-meta.ts';
import { refuse, text } from '../shapes.ts';

/** The setting of an adjustable part as written: "14.5 deg", "3 holes". */
export interface WrittenSetting {
  /** What is adjusted, where it is told. */
  readonly of?: string;
  readonly value: number;
  /** As written; a unit known here by its symbol. */
  readonly unit: string;
}

const settingPattern = String.raw`^\s*[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)\s*[^\s0-9.,].*$`;
const example = '14.5 deg';

function amount() {
  return key(
    z.string().transform((written, context): WrittenSetting => {
      const read = /^([-+]?(?:\d+\.?\d*|\.\d+))\s*(.*)$/s.exec(written.replace(/\u2212/g, '-').trim());
      if (read === null)
        return refuse(
          context,
          'spec-quantity',
          `"${written}" is no setting: expected a number and a unit, "14.5 deg".`,
        );
      const [, number, rest] = read;
      if (/^[,'\u2019]\d/.test(rest))
        return refuse(context, 'spec-quantity', `"${written}" has a comma: write a decimal point.`);
      if (rest === '')
        return refuse(
          context,
          'spec-quantity',
          `"${written}" has no unit: write one ("14.5 deg"), or what is counted ("3 holes").`,
        );
      if (/±|\+-|\+\/-/.test(rest))
        return refuse(context, 'spec-quantity', 'A setting is a choice, not a measurement: it has no uncertainty.');
      if (rest.length > 30 || /\d/.test(rest.replace(/(?:m|ft)[23]$/, '')))
        return refuse(context, 'spec-quantity', `"${rest}" is no unit of a setting: expected "14.5 deg" or "3 holes".`);
      return { value: Number(number), unit: findUnit(rest)?.symbol ?? rest };
    }),
    {
      doc: 'Its value: a number with its unit, or with what is counted.',
      example,
      jsonSchema: { type: 'string', pattern: settingPattern, examples: [example, '3 holes'] },
    },
  );
}

/** The setting in which an adjustable part was flown, by which configurations are put in order and drawn. */
export function setting() {
  return key(
    z.union([
      amount(),
      z
        .strictObject({
          of: text({
            doc: 'What is adjusted; the same words in every configuration.',
            example: 'blade angle',
            alsoCalled: ['part', 'name'],
          }).optional(),
          value: amount(),
        })
        .transform(({ of, value }): WrittenSetting => ({ ...value, ...(of === undefined ? {} : { of }) })),
    ]),
    {
      doc: 'Setting of an adjustable part, where the configurations differ by it: the report puts them in its order and draws the metrics against it.',
      example: `{ of: blade angle, value: ${example} }`,
      alsoCalled: ['blade-angle', 'adjustment', 'position'],
    },
  );
}

/** The factor from one unit of a setting to another; undefined where they cannot be compared. */
export function settingFactor(from: string, to: string): number | undefined {
  if (from === to) return 1;
  const [a, b]: readonly (Unit | undefined)[] = [findUnit(from), findUnit(to)];
  if (a === undefined || b === undefined || a.dimension !== b.dimension) return undefined;
  // A temperature has no ratio of settings: it is compared in one unit only.
  return a.offset !== undefined || b.offset !== undefined ? undefined : a.factor / b.factor;
}
