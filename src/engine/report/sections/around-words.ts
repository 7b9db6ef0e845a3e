import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { formatFixed, formatSigned, inShownUnit, shownUnit } from '../../../../shared/format.ts';

/** Sections are put together from parts that may be empty: no more than one empty line stays between them. */
export function joined(lines: readonly string[]): string {
  return `${lines
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trimEnd()}\n`;
}

/** With a capital and a full stop. */
export const sentence = (text: string): string => {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
};

/** "418 mm" or "16.5 in": arms are read to a millimetre, not in metres. */
export function armText(armM: number, units: DisplayUnits, signed = false): string {
  const write = signed ? formatSigned : formatFixed;
  return units.length === 'm' ? `${write(armM * 1000, 0)} mm` : `${write(armM / 0.0254, 2)} in`;
}

export function massText(massKg: number, units: DisplayUnits, signed = false): string {
  const write = signed ? formatSigned : formatFixed;
  return `${write(inShownUnit(massKg, 'mass', units), 1)} ${shownUnit('mass', units).symbol}`;
}
