import * as z from 'zod';
import { slopeSigma } from '../../defaults.ts';
import { key } from '../key-meta.ts';
import { direction, noted, quantity, refuse } from '../shapes.ts';
import { surface } from './surface.ts';

/** From below the Dead Sea's shore to above the highest airfields. */
const elevationLimits = { low: -1500, high: 15000, unit: 'ft' };

export function runwayShape() {
  return z.strictObject({
    heading: direction({
      doc: 'Heading in the direction of the take-off; true unless it says magnetic. Without it the recorded direction is used.',
      example: '133 deg',
      alsoCalled: ['direction', 'true-heading', 'course'],
    }).optional(),
    elevation: quantity('length', {
      doc: 'Elevation of the threshold where the take-off starts.',
      example: '1056 ft',
      limits: elevationLimits,
      alsoCalled: ['altitude', 'height'],
    }).optional(),
    slope: noted('ratio', slopeSigma, {
      doc: 'Slope, positive uphill in the direction of the take-off.',
      example: '0.8 %',
      limits: { low: -15, high: 15, unit: '%' },
      alsoCalled: ['gradient'],
    }).optional(),
    surface: surface('Surface: paved, grass, gravel, dirt, snow or water, with wet, soft or long.').optional(),
  });
}

/** "3 deg east": positive to the east. */
function variation() {
  return key(
    z.string().transform((written, context): number => {
      const match = /^(\d+(?:\.\d+)?)\s*(?:deg|°)\s*(east|west|e|w)$/i.exec(written.trim());
      if (match === null || Number(match[1]) > 90) {
        return refuse(
          context,
          'spec-quantity',
          `"${written}" is no magnetic variation: expected "3 deg east" or "3 deg west".`,
        );
      }
      return ((/^e/i.test(match[2]) ? 1 : -1) * Number(match[1]) * Math.PI) / 180;
    }),
    {
      doc: 'Magnetic variation, needed where a direction is written as magnetic.',
      example: '3 deg east',
      dimension: 'angle',
      alsoCalled: ['variation', 'declination'],
    },
  );
}

export function airfieldShape() {
  return z.strictObject({
    elevation: quantity('length', {
      doc: 'Elevation of the airfield, where the runways do not give their own.',
      example: '1056 ft',
      limits: elevationLimits,
    }).optional(),
    'magnetic-variation': variation().optional(),
    surface: surface('Surface of its runways, where they do not give their own.').optional(),
    runways: key(z.record(z.string(), runwayShape()), {
      doc: 'Runways by name, one entry for each direction of take-off, e.g. 13 and 31.',
      alsoCalled: ['runway'],
    }).optional(),
  });
}

export function airfields() {
  return key(z.record(z.string(), airfieldShape()), {
    doc: 'Airfields by name, with what is fixed there: elevation and runways.',
    alsoCalled: ['airfield', 'fields', 'airports', 'aerodromes', 'places'],
  });
}
