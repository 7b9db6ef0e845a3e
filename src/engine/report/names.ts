import type { Evaluation } from '../evaluate/index.ts';

/** Names as they stand in the report: as in the spec, or neutral ones when places shall not be told. */
export interface ShownNames {
  readonly file: (file: string) => string;
  readonly airfield: (name: string) => string;
  /** Free words of the pilot, which may tell a place; undefined when hidden. */
  readonly note: (note: string) => string | undefined;
  readonly hidden: boolean;
}

function numbered(names: readonly string[], word: string): (name: string) => string {
  const width = String(names.length).length;
  const known = new Map(names.map((name, index) => [name, `${word} ${String(index + 1).padStart(width, '0')}`]));
  return (name) => known.get(name) ?? word;
}

/** The last part of each path where that tells all of them apart; the whole path stands in the provenance. */
function shortest(files: readonly string[]): (file: string) => string {
  const last = (file: string): string => file.split('/').pop() ?? file;
  const distinct = new Set(files.map(last)).size === files.length;
  return distinct ? last : (file) => file;
}

export function shownNames({ spec, flights }: Evaluation): ShownNames {
  if (spec?.report.hidePositions !== true) {
    return {
      file: shortest(flights.map((flight) => flight.file)),
      airfield: (name) => name,
      note: (note) => note,
      hidden: false,
    };
  }
  const airfields = [...new Set(flights.flatMap(({ entry }) => entry.conditions.runway?.airfield ?? []))];
  return {
    file: numbered(
      flights.map((flight) => flight.file),
      'flight',
    ),
    airfield: numbered(airfields, 'airfield'),
    note: () => undefined,
    hidden: true,
  };
}
