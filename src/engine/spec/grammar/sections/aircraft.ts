import * as z from 'zod';
import * as usual from '../../defaults.ts';
import { key } from '../key-meta.ts';
import { flag, noted, quantity, text, word } from '../shapes.ts';
import { techniqueKeys } from './conditions.ts';
import { arm, equipmentKeys, propellerDiameterLimits, propellerPitch } from './equipment.ts';
import { setting } from './setting.ts';

export const propellerWords = {
  'fixed-pitch': 'the blades do not move; also ground-adjustable ones',
  'constant-speed': 'a governor keeps the rpm',
} as const;

const massLimits = { low: 100, high: 19000, unit: 'kg' };
const powerLimits = { low: 10, high: 2000, unit: 'hp' };

export function aircraft() {
  return key(
    z.strictObject({
      name: text({
        doc: 'Type or call-name; a registration is not needed.',
        example: 'Tern T2',
        alsoCalled: ['type', 'model'],
      }).optional(),
      propeller: word(propellerWords, {
        doc: 'Kind of propeller: it decides how the ground roll depends on density and weight.',
        example: 'fixed-pitch',
      }),
      turbocharged: flag({
        doc: 'Whether the engine keeps its power with height up to a critical altitude.',
        example: 'false',
      }).optional(),
      'reference-weight': quantity('mass', {
        doc: 'Weight to which everything is brought for "equal weight", unless `reference` says another.',
        example: '790 kg',
        limits: massLimits,
      }).optional(),
      'maximum-weight': quantity('mass', {
        doc: 'Maximum take-off weight of the flight manual.',
        example: '850 kg',
        limits: massLimits,
        alsoCalled: ['mtow', 'max-weight', 'gross-weight'],
      }).optional(),
      'usable-fuel': quantity('volume', {
        doc: 'Usable fuel.',
        example: '120 L',
        limits: { low: 1, high: 5000, unit: 'L' },
      }).optional(),
      'fuel-density': quantity('density', {
        doc: 'Density of the fuel.',
        example: '0.72 kg/L',
        limits: { low: 0.6, high: 0.9, unit: 'kg/L' },
      }).optional(),
      'wing-area': quantity('area', {
        doc: 'Wing area.',
        example: '15.9 m2',
        limits: { low: 2, high: 200, unit: 'm2' },
      }).optional(),
      'wing-span': quantity('length', {
        doc: 'Wing span.',
        example: '10.6 m',
        limits: { low: 3, high: 40, unit: 'm' },
        alsoCalled: ['span'],
      }).optional(),
      'rated-power': quantity('power', {
        doc: 'Rated power of the engine.',
        example: '125 hp',
        limits: powerLimits,
        alsoCalled: ['power', 'engine-power'],
      }).optional(),
      'propeller-diameter': quantity('length', {
        doc: 'Propeller diameter; needed to predict a change on paper.',
        example: '1.90 m',
        limits: propellerDiameterLimits,
      }).optional(),
      'propeller-pitch': propellerPitch('; it narrows what is predicted on paper').optional(),
    }),
    { doc: 'The aeroplane: what stays the same, or was so before.', alsoCalled: ['airplane', 'aeroplane', 'plane'] },
  );
}

export function configurationShape() {
  return z.strictObject({
    description: text({ doc: 'What is different, in a few words.', example: 'wheel fairings on' }).optional(),
    baseline: flag({
      doc: 'True for the one configuration that the others are compared with.',
      example: 'true',
      alsoCalled: ['reference', 'before'],
    }).optional(),
    setting: setting().optional(),
    weight: quantity('mass', {
      doc: 'Total weight at which this configuration is judged, where the weight itself is what differs: it is then compared at its own weight.',
      example: '850 kg',
      limits: massLimits,
      alsoCalled: ['mass', 'own-weight', 'takeoff-weight'],
    }).optional(),
    'empty-weight': noted('mass', usual.emptyMassSigmaKg, {
      doc: 'Empty weight as weighed; needed to compare at equal load.',
      example: '528 kg +- 1 kg',
      limits: massLimits,
      alsoCalled: ['empty-mass', 'bew'],
    }).optional(),
    'empty-arm': arm('Centre of gravity when empty, aft of the datum.').optional(),
    'changed-from': key(z.string(), {
      doc: 'Configuration from which this one was made by the equipment removed and installed; its empty weight is then worked out unless it was weighed.',
      names: 'configurations',
    }).optional(),
    ...equipmentKeys(),
    propeller: word(propellerWords, { doc: 'Kind of propeller, where it differs from the aircraft.' }).optional(),
    'propeller-diameter': quantity('length', {
      doc: 'Propeller diameter, where it differs from the aircraft.',
      limits: propellerDiameterLimits,
    }).optional(),
    'propeller-pitch': propellerPitch(', where it differs from the aircraft').optional(),
    'rated-power': quantity('power', {
      doc: 'Rated power, where it differs from the aircraft.',
      limits: powerLimits,
    }).optional(),
    ...techniqueKeys(),
  });
}

export function configurations() {
  return key(z.record(z.string(), configurationShape()), {
    doc: 'The states of the aeroplane that are compared, by a short name; one of them is the baseline.',
    alsoCalled: ['configuration', 'configs', 'variants', 'states'],
  });
}
