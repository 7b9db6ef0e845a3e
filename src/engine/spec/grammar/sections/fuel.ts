import * as z from 'zod';
import { parseQuantity } from '../../../../../shared/quantity.ts';
import { reserveRule, reserveRules } from '../../../range/reserve.ts';
import { key } from '../key-meta.ts';
import { noted, quantity, refuse, text } from '../shapes.ts';

export interface WrittenReserve {
  readonly timeS: number;
  readonly title: string;
  readonly source?: string;
}

/** A named legal rule, or a time of the pilot's own. */
export function reserve() {
  const names = reserveRules.map((rule) => rule.id);
  return key(
    z.string().transform((written, context): WrittenReserve => {
      const rule = reserveRule(written.trim());
      if (rule !== undefined) return { timeS: rule.timeS, title: rule.title, source: rule.source };
      const time = parseQuantity(written, 'time');
      if (time.ok && time.quantity.value >= 0 && time.quantity.value <= 6 * 3600)
        return { timeS: time.quantity.value, title: `${written.trim()} at normal cruise, as chosen in the spec` };
      return refuse(
        context,
        'spec-word',
        `"${written}" is no reserve: expected ${names.join(', ')} or a time such as "40 min".`,
      );
    }),
    {
      doc: 'Fuel that must be left on landing: a named rule, or a time at normal cruise. A legal minimum, not a plan.',
      example: 'day-30-min',
      words: Object.fromEntries(reserveRules.map((rule) => [rule.id, `${rule.title} (${rule.source})`])),
      jsonSchema: { type: 'string' },
    },
  );
}

/** Flow as read from an instrument or an engine monitor: 3 % (common practice, no source). */
const flowSigma = (flow: number): number => 0.03 * flow;
const cruiseSpeedSigmaMps = 0.8;
/** Of a fill to the same mark: see `range/full-to-full.ts`. */
const fillSigmaM3 = 0.75 * 0.003785411784;

export function fuel() {
  return key(
    z.strictObject({
      reserve: reserve().optional(),
      allowance: quantity('volume', {
        doc: 'Fuel for start, taxi and what the climb takes beyond cruise.',
        example: '4 L',
        limits: { low: 0, high: 200, unit: 'L' },
      }).optional(),
      headwind: quantity('speed', {
        doc: 'Headwind along the course; 0 kt if not written.',
        example: '10 kt',
        limits: { low: -60, high: 60, unit: 'kt' },
        alsoCalled: ['wind'],
      }).optional(),
      cruise: key(
        z.array(
          z.strictObject({
            configuration: key(z.string(), { doc: 'Which configuration.', names: 'configurations' }),
            setting: text({ doc: 'Power setting, in the words of `cruise-setting`.', example: '2450 rpm' }),
            speed: noted('speed', cruiseSpeedSigmaMps, {
              doc: 'True airspeed; the measured one if not written.',
              example: '96 kt +- 1 kt',
              limits: { low: 20, high: 400, unit: 'kt' },
              alsoCalled: ['tas'],
            }).optional(),
            flow: noted('fuel-flow', flowSigma, {
              doc: 'Fuel flow; the recorded one, else that of the fills, if not written.',
              example: '25 L/h +- 1 L/h',
              limits: { low: 1, high: 600, unit: 'L/h' },
              alsoCalled: ['fuel-flow'],
            }).optional(),
          }),
        ),
        {
          doc: 'Cruise settings for range and endurance, with what the flights did not measure.',
          alsoCalled: ['settings'],
        },
      ).optional(),
      fills: key(
        z.array(
          z.strictObject({
            configuration: key(z.string(), { doc: 'Which configuration.', names: 'configurations' }),
            volume: noted('volume', fillSigmaM3, {
              doc: 'Fuel filled to the same mark.',
              example: '32 L',
              limits: { low: 1, high: 2000, unit: 'L' },
            }),
            time: quantity('time', {
              doc: 'Running time since the last fill to the mark.',
              example: '1.4 h',
              limits: { low: 0.1, high: 100, unit: 'h' },
              alsoCalled: ['hours', 'duration'],
            }),
          }),
        ),
        {
          doc: 'Full-to-full fills at the pump: the most reliable fuel flow there is.',
          alsoCalled: ['fill', 'refuels'],
        },
      ).optional(),
      'price-of-fuel': key(
        z
          .string()
          .transform(
            (written, context): { readonly perM3: number; readonly currency: string; readonly unit: string } => {
              const match = /^(\d+(?:\.\d+)?)\s*([A-Za-z]{3}|[$€£])?\s*(?:per|\/)\s*(.+)$/.exec(written.trim());
              const volume = match === null ? undefined : parseQuantity(`1 ${match[3]}`, 'volume');
              if (match === null || volume === undefined || !volume.ok)
                return refuse(context, 'spec-quantity', `"${written}" is no price: expected "2.40 EUR per L".`);
              return { perM3: Number(match[1]) / volume.quantity.value, currency: match[2] ?? '', unit: match[3] };
            },
          ),
        { doc: 'Price of fuel, for cost per hour and distance.', example: '2.40 EUR per L' },
      ).optional(),
      'other-cost': key(
        z.string().transform((written, context): number => {
          const match = /^(\d+(?:\.\d+)?)\s*(?:[A-Za-z]{3}|[$€£])?\s*(?:per|\/)\s*(?:h|hour)$/.exec(written.trim());
          if (match === null)
            return refuse(context, 'spec-quantity', `"${written}" is no cost by the hour: expected "30 EUR per h".`);
          return Number(match[1]);
        }),
        { doc: 'What an hour costs beside fuel, in the same currency.', example: '30 EUR per h' },
      ).optional(),
    }),
    { doc: 'Fuel, endurance and range with the reserve kept.', alsoCalled: ['range', 'endurance'] },
  );
}
