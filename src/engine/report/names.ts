import type { Evaluation } from '../evaluate/index.ts';

/** Names as they stand in the report: as in the spec, or neutral ones when places shall not be told. */
export interface ShownNames {
  readonly file: (file: string) => string;
  readonly airfield: (name: string) => string;
  /** A sentence, with the names of files in it as they are shown, and no airfield's name where they are hidden. */
  readonly text: (sentence: string) => string;
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

/** Replaces the names of recordings, or of airfields, in a sentence; the longest first, as one may be the end of another. */
function inText(files: readonly string[], file: (name: string) => string): (sentence: string) => string {
  const longestFirst = [...files].sort((a, b) => b.length - a.length);
  return (sentence) => longestFirst.reduce((text, name) => text.replaceAll(name, file(name)), sentence);
}

export function shownNames({ spec, flights }: Evaluation): ShownNames {
  const files = flights.map((flight) => flight.file);
  if (spec?.report.hidePositions !== true) {
    const file = shortest(files);
    return { file, airfield: (name) => name, text: inText(files, file), note: (note) => note, hidden: false };
  }
  const airfields = [...new Set(flights.flatMap(({ entry }) => entry.conditions.runway?.airfield ?? []))];
  const file = numbered(files, 'flight');
  const airfield = numbered(airfields, 'airfield');
  const [filesIn, airfieldsIn] = [inText(files, file), inText(airfields, airfield)];
  return {
    file,
    airfield,
    text: (sentence) => airfieldsIn(filesIn(sentence)),
    note: () => undefined,
    hidden: true,
  };
}
