import * as z from 'zod';
import { fromSi } from '../../../../../shared/units.ts';
import { parseQuantity } from '../../../../../shared/quantity.ts';
import { key } from '../key-meta.ts';
import { flag, quantity, refuse } from '../shapes.ts';
import { arm } from './equipment.ts';

/** A load as written: by mass, or (fuel) by volume. */
export interface WrittenLoad {
  readonly massKg?: number;
  readonly volumeM3?: number;
  /** One sigma in the same unit, where stated. */
  readonly sigma?: number;
}

export function load(doc: string) {
  return key(
    z.string().transform((written, context): WrittenLoad => {
      const mass = parseQuantity(written, 'mass');
      if (mass.ok && mass.quantity.value >= 0) return { massKg: mass.quantity.value, sigma: mass.quantity.sigma };
      const volume = parseQuantity(written, 'volume');
      if (volume.ok && volume.quantity.value >= 0)
        return { volumeM3: volume.quantity.value, sigma: volume.quantity.sigma };
      return refuse(
        context,
        'spec-quantity',
        `"${written}" is no load: expected a weight such as "160 kg", or for fuel a volume such as "80 L".`,
      );
    }),
    { doc, example: '160 kg', dimension: 'mass', jsonSchema: { type: 'string' } },
  );
}

/** "500 kg at 350 mm": a corner of the envelope. */
export interface WrittenCorner {
  readonly massKg: number;
  readonly cgM: number;
}

function corner() {
  return key(
    z.string().transform((written, context): WrittenCorner => {
      const [first, second, ...rest] = written.split(/\s+at\s+/i);
      const mass = parseQuantity(first ?? '', 'mass');
      const cg = parseQuantity(second ?? '', 'length');
      if (rest.length > 0 || !mass.ok || !cg.ok) {
        return refuse(
          context,
          'spec-quantity',
          `"${written}" is no corner of an envelope: expected a weight and an arm, "500 kg at 350 mm".`,
        );
      }
      if (!(mass.quantity.value > 0 && Math.abs(fromSi(cg.quantity.value, 'm')) < 15))
        return refuse(context, 'spec-impossible', `"${written}" cannot be right.`);
      return { massKg: mass.quantity.value, cgM: cg.quantity.value };
    }),
    { doc: 'A corner: weight and centre of gravity.', example: '500 kg at 350 mm' },
  );
}

export function loading() {
  return key(
    z.strictObject({
      stations: key(
        z.record(
          z.string(),
          z.strictObject({
            arm: arm('Its arm aft of the datum.', '500 mm'),
            limit: quantity('mass', {
              doc: 'Greatest weight allowed there.',
              example: '200 kg',
              limits: { low: 1, high: 5000, unit: 'kg' },
              alsoCalled: ['max', 'maximum'],
            }).optional(),
            fuel: flag({ doc: 'True for a tank: what is in it burns off.', alsoCalled: ['tank'] }).optional(),
            pilot: flag({ doc: 'True for the seat of the pilot, who is always on board.' }).optional(),
          }),
        ),
        { doc: 'Places for people, baggage and fuel, by name.', alsoCalled: ['station', 'places'] },
      ),
      cases: key(
        z.record(
          z.string(),
          z.strictObject({
            load: key(z.record(z.string(), load('What is put at this station.')), {
              doc: 'What is put where, by station.',
              alsoCalled: ['loads'],
              keyNames: 'stations',
            }),
            'fuel-burnt': load('Fuel burnt between take-off and landing.').optional(),
          }),
        ),
        { doc: 'Loadings to look at, by name, worked for every configuration and candidate.', alsoCalled: ['case'] },
      ).optional(),
      'lightest-pilot': quantity('mass', {
        doc: 'Weight of the lightest pilot, for the most adverse loadings.',
        example: '60 kg',
        limits: { low: 30, high: 200, unit: 'kg' },
      }).optional(),
      envelope: key(z.array(corner()).min(3, 'An envelope has at least three corners.'), {
        doc: 'Corners of the envelope of the flight manual, in order around it. The manual rules.',
        alsoCalled: ['cg-envelope', 'limits'],
      }).optional(),
      'leading-edge': arm('Leading edge of the mean aerodynamic chord, aft of the datum.', '210 mm').optional(),
      chord: quantity('length', {
        doc: 'Length of the mean aerodynamic chord.',
        example: '1500 mm',
        limits: { low: 0.3, high: 6, unit: 'm' },
        alsoCalled: ['mac', 'mean-aerodynamic-chord'],
      }).optional(),
    }),
    {
      doc: 'Weight and balance: places, loadings and the envelope of the flight manual.',
      alsoCalled: ['weight-and-balance', 'balance', 'loadings'],
    },
  );
}
