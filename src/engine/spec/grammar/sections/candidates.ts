import * as z from 'zod';
import { parseQuantity } from '../../../../../shared/quantity.ts';
import { key } from '../key-meta.ts';
import { quantity, refuse, text, word } from '../shapes.ts';
import { propellerWords } from './aircraft.ts';
import { equipmentKeys, propellerDiameterLimits, propellerPitch } from './equipment.ts';

/** "-5 %" as a factor of 0.95. */
function change(doc: string, example: string, alsoCalled: string[]) {
  return key(
    z.string().transform((written, context): number => {
      const share = parseQuantity(written, 'ratio');
      if (!share.ok || Math.abs(share.quantity.value) > 0.6)
        return refuse(
          context,
          'spec-quantity',
          `"${written}" is no change in per cent: expected for instance "${example}".`,
        );
      return 1 + share.quantity.value;
    }),
    { doc, example, alsoCalled, dimension: 'ratio' },
  );
}

export function candidates() {
  return key(
    z.record(
      z.string(),
      z.strictObject({
        description: text({ doc: 'What would be changed.', example: 'larger engine' }).optional(),
        from: key(z.string(), {
          doc: 'Configuration that would be changed; the baseline if not written.',
          names: 'configurations',
        }).optional(),
        flown: key(z.string(), {
          doc: 'Configuration in which it was flown since: prediction and measurement then stand side by side.',
          names: 'configurations',
          alsoCalled: ['became', 'measured-as'],
        }).optional(),
        'rated-power': quantity('power', {
          doc: 'Rated power afterwards.',
          example: '150 hp',
          limits: { low: 10, high: 2000, unit: 'hp' },
          alsoCalled: ['power'],
        }).optional(),
        propeller: word(propellerWords, { doc: 'Kind of propeller afterwards.' }).optional(),
        'propeller-diameter': quantity('length', {
          doc: 'Propeller diameter afterwards.',
          example: '1.95 m',
          limits: propellerDiameterLimits,
          alsoCalled: ['diameter'],
        }).optional(),
        'propeller-pitch': propellerPitch(
          ' afterwards; the same pitch again says that the propeller is kept',
        ).optional(),
        'wing-span': quantity('length', {
          doc: 'Wing span afterwards.',
          example: '10.9 m',
          limits: { low: 3, high: 40, unit: 'm' },
        }).optional(),
        drag: change('Claimed change of the drag that does not come from lift.', '-5 %', ['parasite-drag']).optional(),
        lift: change('Claimed change of the greatest lift coefficient.', '+8 %', ['lift-coefficient']).optional(),
        'rolling-friction': change('Claimed change of the rolling friction, as by other tyres or wheels.', '-15 %', [
          'wheel-friction',
          'rolling-resistance',
        ]).optional(),
        'fuel-flow': change('Claimed change of the fuel flow at the same setting.', '+10 %', []).optional(),
        ...equipmentKeys(),
        price: text({ doc: 'What it costs, in words; shown in the table.', example: '3,200 EUR fitted' }).optional(),
      }),
    ),
    {
      doc: 'Changes under consideration, by name: predicted from the measured configuration by physics, with honest width.',
      alsoCalled: ['candidate', 'options', 'ideas'],
    },
  );
}
