import * as z from 'zod';
import { largestRadiusM, smallestRadiusM } from '../../../share/radius.ts';
import { parsePlace } from '../../../share/place.ts';
import type { Place } from '../../../track/privacy.ts';
import { key } from '../key-meta.ts';
import { quantity, refuse, text, word } from '../shapes.ts';

function place() {
  return key(
    z.string().transform((written, context): Place => {
      const found = parsePlace(written);
      return typeof found === 'string' ? refuse(context, 'spec-quantity', found) : found;
    }),
    { doc: 'Latitude and longitude, degrees.', example: '"12.345 N 30.123 W"' },
  );
}

export function share() {
  return key(
    z
      .strictObject({
        places: word(
          {
            moved: 'the whole flight is moved to an ocean; distances and directions stay',
            cut: 'positions stay real, what lies around the fields is left out, with take-offs and landings',
          },
          { doc: 'How the places go out of the copies; moved if not written.' },
        ).optional(),
        radius: quantity('length', {
          doc: 'Of the circles that are cut out; wide enough that several fields lie in them.',
          example: '8 km',
          limits: { low: smallestRadiusM / 1000, high: largestRadiusM / 1000, unit: 'km' },
        }).optional(),
        around: key(z.array(place()).max(50), {
          doc: 'Places to hide, each as latitude and longitude; where the recordings begin and end if not written.',
          example: '["12.345 N 30.123 W"]',
          alsoCalled: ['home', 'place', 'centre'],
        }).optional(),
        heights: word(
          { kept: 'as recorded', relative: 'above the place where each recording begins; density altitude is lost' },
          { doc: 'Heights of the copies; kept if not written.' },
        ).optional(),
        dates: word(
          { kept: 'as recorded', moved: 'by whole days, the first flight to 2010-01-01' },
          { doc: 'Dates of the copies; kept if not written.', alsoCalled: ['date'] },
        ).optional(),
        format: word(
          { gpx: 'positions, one height, speed and course', csv: 'all that was recorded, with units' },
          { doc: 'Format of the copies; by what a recording holds if not written.' },
        ).optional(),
        folder: text({
          doc: 'Folder of the copies, relative to this file; "shared" if not written. Nothing in it is ever replaced.',
          example: 'shared',
          alsoCalled: ['output', 'file'],
        }).optional(),
        secret: text({
          doc: 'Words of your own from which the circles follow: later copies then have the same ones. Never share them.',
          example: 'any words of your own',
          alsoCalled: ['seed', 'password'],
        }).optional(),
      })
      .transform((written, context) => {
        if (written.places !== 'cut' || written.radius !== undefined) return written;
        return refuse(context, 'spec-missing-key', 'Places that are cut need a radius, e.g. "radius: 8 km".');
      }),
    { doc: 'How `modproof share` makes copies of the recordings without their places.', alsoCalled: ['privacy'] },
  );
}
