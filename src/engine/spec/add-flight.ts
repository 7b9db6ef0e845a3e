import { CannotEdit, openList, type TextEdit } from '../yaml-text/index.ts';
import { furtherFiles } from '../recordings/index.ts';
import { yamlText } from './assist.ts';
import { trackKey } from './check.ts';
import { parseSpec } from './parse.ts';

/** A flight to be added to a spec: texts as the pilot writes them, with their units; empty ones are left out. */
export interface FlightToAdd {
  readonly track: string;
  /** Left as a blank when absent. */
  readonly configuration?: string;
  /** Key of a flight (`air-temperature`, `wind` ...) to text. */
  readonly conditions: Readonly<Record<string, string>>;
  /** A description of the runway, where its name is not known. */
  readonly runway?: Readonly<Record<string, string>>;
}

/** Quantities and plain words stay as they are; anything else is quoted. */
function value(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  return /^[+-]?[\w.%]+(?: [\w.%/+-]+)*$/.test(plain) ? plain : yamlText(plain);
}

/**
 * The edit that adds a flight at the end of the spec's list of flights, in the indentation used there. Nothing else
 * changes. Throws {@link CannotEdit} when the list is not written as lines, or the track is in it already.
 */
export function addFlight(text: string, flight: FlightToAdd): TextEdit {
  const list = openList(text, 'flights');
  if (list.items.some((item) => item.get('track') === flight.track)) {
    throw new CannotEdit(`${flight.track} is in this comparison already.`);
  }
  const { further } =
    parseSpec(text, '').spec?.flights.find((one) =>
      furtherFiles(one.further).some(({ file }) => trackKey(file) === trackKey(flight.track)),
    ) ?? {};
  if (further !== undefined) {
    throw new CannotEdit(`${flight.track} is in this comparison already, as a further recording of a flight.`);
  }
  const given = ([, one]: readonly [string, string]): boolean => one.trim() !== '';
  const runway = Object.entries(flight.runway ?? {}).filter(given);
  return list.append([
    `track: ${yamlText(flight.track)}`,
    flight.configuration === undefined ? 'configuration:' : `configuration: ${yamlText(flight.configuration)}`,
    ...(runway.length === 0 ? [] : [`runway: { ${runway.map(([key, one]) => `${key}: ${value(one)}`).join(', ')} }`]),
    ...Object.entries(flight.conditions)
      .filter(given)
      .map(([key, one]) => `${key}: ${value(one)}`),
  ]);
}
