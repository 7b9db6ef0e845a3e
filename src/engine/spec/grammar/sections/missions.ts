import * as z from 'zod';
import * as usual from '../../defaults.ts';
import { key } from '../key-meta.ts';
import { noted, quantity, text } from '../shapes.ts';
import { reserve } from './fuel.ts';
import { surface } from './surface.ts';

const massLimits = { low: 30, high: 19000, unit: 'kg' };

function weightKeys() {
  return {
    weight: quantity('mass', {
      doc: 'Total weight; or give the load.',
      example: '790 kg',
      limits: massLimits,
    }).optional(),
    load: quantity('mass', {
      doc: "People, baggage and fuel on top of each configuration's own empty weight.",
      example: '262 kg',
      limits: massLimits,
    }).optional(),
  };
}

function air() {
  return {
    elevation: quantity('length', {
      doc: 'Elevation of the strip.',
      example: '2300 ft',
      limits: { low: -1500, high: 15000, unit: 'ft' },
    }),
    'air-temperature': noted('temperature', usual.airTemperatureSigmaK, {
      doc: 'Air temperature to plan for.',
      example: '28 degC',
      limits: { low: -60, high: 60, unit: 'degC' },
      alsoCalled: ['temperature', 'oat'],
    }),
    'altimeter-setting': noted('pressure', usual.altimeterSettingSigmaPa, {
      doc: 'Altimeter setting to plan for; 1013.25 hPa if not written.',
      example: '1010 hPa',
      limits: { low: 870, high: 1085, unit: 'hPa' },
      alsoCalled: ['qnh'],
    }).optional(),
  };
}

export function missions() {
  const strip = z.strictObject({
    strip: text({ doc: 'A strip to take off from, by name.', example: 'river bar' }),
    available: quantity('length', {
      doc: 'Distance from the start of the roll to the obstacle.',
      example: '480 m',
      limits: { low: 50, high: 5000, unit: 'm' },
      alsoCalled: ['length', 'distance', 'runway-length'],
    }),
    obstacle: quantity('length', {
      doc: 'Height of the obstacle; 50 ft if not written.',
      example: '50 ft',
      limits: { low: 5, high: 500, unit: 'ft' },
    }).optional(),
    ...air(),
    slope: quantity('ratio', {
      doc: 'Slope, positive uphill in the direction of the take-off; 0 % if not written.',
      example: '1 %',
      limits: { low: -15, high: 15, unit: '%' },
    }).optional(),
    surface: surface('Surface: published factors apply between it and what was flown.').optional(),
    headwind: quantity('speed', {
      doc: 'Reported wind along the strip; half of a headwind is counted, one and a half times a tailwind (negative).',
      example: '5 kt',
      limits: { low: -30, high: 50, unit: 'kt' },
      alsoCalled: ['wind'],
    }).optional(),
    ...weightKeys(),
  });
  const leg = z.strictObject({
    leg: text({ doc: 'A leg to fly, by name.', example: 'home without a stop' }),
    distance: quantity('length', {
      doc: 'Its length.',
      example: '260 NM',
      limits: { low: 1, high: 5000, unit: 'NM' },
      alsoCalled: ['length'],
    }),
    payload: quantity('mass', { doc: 'People and baggage.', example: '180 kg', limits: massLimits }),
    headwind: quantity('speed', {
      doc: 'Headwind along it; if not written that under `fuel`, else still air.',
      example: '10 kt',
      limits: { low: -60, high: 60, unit: 'kt' },
      alsoCalled: ['wind'],
    }).optional(),
    reserve: reserve().optional(),
  });
  const climb = z.strictObject({
    climb: text({ doc: 'A climb that is needed, by name.', example: 'over the pass' }),
    rate: quantity('speed', {
      doc: 'Rate of climb needed.',
      example: '300 ft/min',
      limits: { low: 20, high: 5000, unit: 'ft/min' },
    }),
    'density-altitude': quantity('length', {
      doc: 'Density altitude at which it is needed.',
      example: '8000 ft',
      limits: { low: -5000, high: 30000, unit: 'ft' },
      alsoCalled: ['altitude'],
    }),
    ...weightKeys(),
  });
  return key(
    z.array(
      key(z.union([strip, leg, climb]), {
        doc: 'A need: a `strip` with its length, a `leg` with its payload, or a `climb` with its rate.',
      }),
    ),
    {
      doc: 'What the aeroplane is needed for; answered for every configuration with yes, no or not enough data.',
      alsoCalled: ['mission', 'needs'],
    },
  );
}
