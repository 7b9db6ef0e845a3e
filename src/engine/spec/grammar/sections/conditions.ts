import * as z from 'zod';
import * as usual from '../../defaults.ts';
import { key } from '../key-meta.ts';
import { noted, text, word } from '../shapes.ts';
import { runwayShape } from './airfields.ts';
import { surface } from './surface.ts';
import { wind } from './wind.ts';

export const startWords = {
  standing: 'from standstill, brakes released under power',
  rolling: 'rolled on to the runway and kept going',
} as const;

/** How it was flown: may stand in a configuration, a day or a flight. */
export function techniqueKeys() {
  return {
    technique: text({
      doc: 'How the take-off was flown, in words of your own; runs of another technique are told apart.',
      example: 'three-point, flaps 20',
    }).optional(),
    start: word(startWords, {
      doc: 'How the take-off began, where you know; otherwise it is told from the recording.',
      example: 'standing',
    }).optional(),
    'cruise-setting': text({
      doc: 'Power setting of the level runs, in words of your own; only equal settings are compared.',
      example: '2450 rpm',
      alsoCalled: ['power-setting', 'rpm', 'cruise-power'],
    }).optional(),
    'climb-speed': noted('speed', usual.climbSpeedSigmaMps, {
      doc: 'Indicated airspeed that was held in the climb.',
      example: '63 kt',
      limits: { low: 15, high: 250, unit: 'kt' },
      alsoCalled: ['climb-ias', 'climb-airspeed'],
    }).optional(),
  };
}

/** What a pilot notes of a flight: may stand in a day or a flight. */
export function conditionKeys() {
  return {
    airfield: key(z.string(), {
      doc: 'Airfield of the take-off, by its name under `airfields`; may be left out when there is only one.',
      names: 'airfields',
      alsoCalled: ['place', 'airport', 'field', 'from'],
    }).optional(),
    runway: key(
      z.union([
        key(z.string(), { doc: 'Name of a runway of the airfield.', names: 'runways', example: '"13"' }),
        key(runwayShape(), { doc: 'A runway that is described here and not under `airfields`.' }),
      ]),
      {
        doc: 'Runway in the direction of the take-off: its name at the airfield, or its description.',
        names: 'runways',
        example: '"13"',
        jsonSchema: { type: ['string', 'integer', 'object'] },
      },
    ).optional(),
    surface: surface('Surface as it was on the day, where it differs: wet, soft or long grass.').optional(),
    'air-temperature': noted('temperature', usual.airTemperatureSigmaK, {
      doc: 'Air temperature at the field at the time of the take-off.',
      example: '14 degC',
      limits: { low: -60, high: 60, unit: 'degC' },
      alsoCalled: ['oat', 'temperature', 'temp', 'outside-air-temperature', 'sat'],
    }).optional(),
    'dew-point': noted('temperature', usual.dewPointSigmaK, {
      doc: 'Dew point at the field; moist air is thinner.',
      example: '9 degC',
      limits: { low: -80, high: 40, unit: 'degC' },
      alsoCalled: ['dewpoint'],
    }).optional(),
    'altimeter-setting': noted('pressure', usual.altimeterSettingSigmaPa, {
      doc: 'Altimeter setting (QNH) at the time of the take-off.',
      example: '1016 hPa',
      limits: { low: 870, high: 1085, unit: 'hPa' },
      alsoCalled: ['qnh', 'pressure', 'altimeter', 'baro'],
    }).optional(),
    wind: wind().optional(),
    weight: noted('mass', usual.takeoffMassSigmaKg, {
      doc: 'Weight at take-off.',
      example: '720 kg +- 10 kg',
      limits: { low: 100, high: 19000, unit: 'kg' },
      alsoCalled: ['mass', 'takeoff-weight', 'take-off-weight', 'tow', 'takeoff-mass'],
    }).optional(),
    'fuel-at-start': noted('volume', usual.fuelAtStartSigmaM3, {
      doc: 'Fuel on board at engine start.',
      example: '60 L',
      limits: { low: 0, high: 5000, unit: 'L' },
      alsoCalled: ['fuel', 'fuel-on-board'],
    }).optional(),
    'fuel-used': noted('volume', usual.fuelUsedSigmaM3, {
      doc: 'Fuel filled up afterwards to the same level.',
      example: '14 L',
      limits: { low: 0, high: 5000, unit: 'L' },
      alsoCalled: ['fuel-burned', 'fuel-burnt'],
    }).optional(),
    ...techniqueKeys(),
    note: text({
      doc: 'Anything else worth keeping; shown in the report.',
      alsoCalled: ['notes', 'remark', 'comment'],
    }).optional(),
  };
}

export function days() {
  return key(z.record(z.string(), z.strictObject(conditionKeys())), {
    doc: 'What was the same for all flights of a day, by date (local); "2024-04-13 evening" when a day had two weathers.',
    alsoCalled: ['day', 'dates'],
  });
}
