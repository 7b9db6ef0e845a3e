import { findUnit, type Unit } from '../../../../shared/units.ts';
import type { SampleColumn, SampleTable } from '../samples/sample-table.ts';
import { type Extension, fieldNumber } from './b-record.ts';

const degreeRad = Math.PI / 180;
const kilometrePerHourMps = 1 / 3.6;
const zeroCelsiusK = 273.15;

interface Rule {
  readonly column: SampleColumn;
  readonly factor: number;
  readonly offset?: number;
  /** Digits before the implied decimal point; further ones are decimals. `undefined`: all are whole. */
  readonly wholeDigits?: number;
}

/**
 * Extensions of the B record that are used, with the units of the FAI/IGC flight-recorder specification, appendix of
 * three-letter codes. FXA is an error of two sigma (95.45 %). Speeds are in km/h; recorders that give more than three
 * digits add decimals. Left out on purpose: VAT and VAR (a compensated variometer is no vertical speed, and the decimals
 * of both differ between makers), HDM (magnetic), VXA (a DOP, no length).
 */
const rules: Readonly<Record<string, Rule>> = {
  FXA: { column: 'horizontalSigmaM', factor: 0.5 },
  ENL: { column: 'engineNoise', factor: 1 },
  MOP: { column: 'engineNoise', factor: 1 },
  RPM: { column: 'engineSpeedRpm', factor: 1 },
  TRT: { column: 'trackRad', factor: degreeRad, wholeDigits: 3 },
  HDT: { column: 'headingRad', factor: degreeRad, wholeDigits: 3 },
  // Stored as it stands in the file, in km/h: the check against the positions settles it.
  GSP: { column: 'groundSpeedMps', factor: 1, wholeDigits: 3 },
  TAS: { column: 'trueAirspeedMps', factor: kilometrePerHourMps, wholeDigits: 3 },
  IAS: { column: 'indicatedAirspeedMps', factor: kilometrePerHourMps, wholeDigits: 3 },
  OAT: { column: 'outsideAirTemperatureK', factor: 1, offset: zeroCelsiusK, wholeDigits: 3 },
  WDI: { column: 'windFromRad', factor: degreeRad, wholeDigits: 3 },
  WSP: { column: 'windSpeedMps', factor: kilometrePerHourMps, wholeDigits: 3 },
};

export const igcSpeedUnit: Unit | undefined = findUnit('km/h', 'speed');

/** Which of a file's extensions are used: of the two engine sensors the one inside the recorder, where there are both. */
export function usedExtensions(extensions: readonly Extension[]): readonly Extension[] {
  const hasNoise = extensions.some(({ code }) => code === 'ENL');
  return extensions.filter(({ code }) => Object.hasOwn(rules, code) && !(code === 'MOP' && hasNoise));
}

/** Stores the values of one B record. */
export function storeExtensions(record: string, used: readonly Extension[], table: SampleTable, row: number): void {
  for (const { code, start, end } of used) {
    const { column, factor, offset = 0, wholeDigits } = rules[code];
    const value = fieldNumber(record, start, end);
    // An accuracy of 0 is none.
    if (value === 0 && code === 'FXA') continue;
    const decimals = wholeDigits === undefined ? 0 : Math.max(0, end - start - wholeDigits);
    table.set(column, row, (value / 10 ** decimals) * factor + offset);
  }
}
