import * as z from 'zod';
import { key } from '../key-meta.ts';
import { quantity, word } from '../shapes.ts';

export const footingWords = {
  'own-weight': 'each configuration at its own `weight`, where the weight itself is what differs',
  'equal-weight': 'the same total weight before and after',
  'equal-load': "each configuration's own empty weight plus the same people, baggage and fuel",
} as const;

/** Which pairs of three or more configurations are asked about; fewer questions at once are answered more sharply. */
export const pairWords = {
  all: 'every configuration with every other; what is asked at once shares one level',
  'against-baseline': 'each configuration with the baseline only: fewer questions, so each is answered more sharply',
} as const;

const densityAltitudeLimits = { low: -5000, high: 25000, unit: 'ft' };

export function reference() {
  return key(
    z.strictObject({
      weight: quantity('mass', {
        doc: 'Total weight of the comparison at equal weight.',
        example: '790 kg',
        limits: { low: 100, high: 19000, unit: 'kg' },
      }).optional(),
      load: quantity('mass', {
        doc: 'People, baggage and fuel on top of the empty weight, for the comparison at equal load.',
        example: '262 kg',
        limits: { low: 30, high: 9000, unit: 'kg' },
      }).optional(),
      'density-altitude': quantity('length', {
        doc: 'Density altitude of take-off and landing; choose one near your flights. If not written: the elevation of the airfield where there is only one, else 0 ft.',
        example: '1000 ft',
        limits: densityAltitudeLimits,
      }).optional(),
      'climb-density-altitude': quantity('length', {
        doc: 'Density altitude of the rate of climb; as `density-altitude` if not written.',
        example: '3000 ft',
        limits: densityAltitudeLimits,
      }).optional(),
      'cruise-density-altitude': quantity('length', {
        doc: 'Density altitude of level speed and fuel flow.',
        example: '5000 ft',
        limits: densityAltitudeLimits,
      }).optional(),
      headwind: quantity('speed', {
        doc: 'Headwind; 0 kt if not written.',
        example: '0 kt',
        limits: { low: -20, high: 40, unit: 'kt' },
        alsoCalled: ['wind'],
      }).optional(),
      slope: quantity('ratio', {
        doc: 'Runway slope, positive uphill; 0 % if not written.',
        example: '0 %',
        limits: { low: -10, high: 10, unit: '%' },
      }).optional(),
      'compare-at': key(
        z
          .array(word(footingWords, { doc: 'On which footing the configurations are compared.' }))
          .min(1, 'Name at least one footing, or leave the key out.'),
        {
          doc: 'On which footing the configurations are compared, besides as flown. If not written: at equal weight and equal load, or, where configurations have a `weight`, at own weight and equal weight.',
          example: '[equal-weight, equal-load]',
        },
      ).optional(),
      pairs: word(pairWords, {
        doc: 'Which of three or more configurations are compared with which; all if not written. Decide it before you look.',
        example: 'against-baseline',
        alsoCalled: ['compare-pairs', 'compare-with'],
      }).optional(),
    }),
    {
      doc: 'The conditions to which every run is brought before it is compared.',
      alsoCalled: ['standard', 'reference-conditions'],
    },
  );
}
