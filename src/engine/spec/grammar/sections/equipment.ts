import * as z from 'zod';
import { key } from '../key-meta.ts';
import { noted, quantity, text } from '../shapes.ts';

/** Arms of light aeroplanes: no station lies further from its datum. */
export const armLimits = { low: -15, high: 15, unit: 'm' };

/** A mass on a scale of its own is known to a per cent, or 100 g: common practice, no source. */
const itemSigmaKg = (massKg: number): number => Math.max(0.1, 0.01 * massKg);

export function arm(doc: string, example = '418 mm') {
  return quantity('length', { doc, example, limits: armLimits, alsoCalled: ['station', 'moment-arm'] });
}

function item() {
  return z.strictObject({
    item: text({ doc: 'What it is.', example: 'left wheel fairing', alsoCalled: ['name', 'what'] }),
    weight: noted('mass', itemSigmaKg, {
      doc: 'Its weight, positive in both lists.',
      example: '2.1 kg',
      limits: { low: 0, high: 2000, unit: 'kg' },
      alsoCalled: ['mass'],
    }),
    arm: arm('Its arm aft of the datum; negative forward of it.', '60 mm'),
  });
}

const items = (doc: string, alsoCalled: string[]) => key(z.array(item()), { doc, alsoCalled }).optional();

/** Weight, arm and equipment of a configuration, or of a candidate. */
export function equipmentKeys() {
  return {
    removed: items('Equipment taken out, each with weight and arm.', ['remove', 'removes', 'out']),
    installed: items('Equipment put in, each with weight and arm.', ['install', 'added', 'add', 'in']),
  };
}

export const propellerDiameterLimits = { low: 0.8, high: 4, unit: 'm' };

/** Geometric pitch of fixed-pitch propellers of light aeroplanes: about 0.4 to 2 m. */
const propellerPitchLimits = { low: 0.3, high: 3, unit: 'm' };

/** Pitch of a fixed-pitch propeller as stamped on its hub. */
export function propellerPitch(when: string) {
  return quantity('length', {
    doc: `Geometric pitch of a fixed-pitch propeller, as stamped on its hub${when}.`,
    example: '1.45 m',
    limits: propellerPitchLimits,
    alsoCalled: ['pitch'],
  });
}
