import type { Evaluation } from '../evaluate/index.ts';
import { lastPart, withoutRegistrations } from './hidden-words.ts';
import { furtherFiles } from '../recordings/index.ts';

/** Names as they stand in the report: as in the spec, or neutral ones when places shall not be told. */
export interface ShownNames {
  readonly file: (file: string) => string;
  readonly airfield: (name: string) => string;
  /** A runway by its designator, which is its direction; a number where places are hidden. */
  readonly runway: (name: string) => string;
  /** A sentence, with the names of files in it as they are shown; without names of airfields, needs and the spec, and without registrations, where they are hidden. */
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

/** The further recordings of each flight, joined or not. */
function furtherNames({ entry }: Evaluation['flights'][number]): readonly string[] {
  return furtherFiles(entry.further).map(({ file }) => file);
}

export function shownNames({ spec, flights, parsed, provenance, decision }: Evaluation): ShownNames {
  const own = flights.map((flight) => flight.file);
  const files = [...own, ...flights.flatMap(furtherNames)];
  if (spec?.report.hidePositions !== true) {
    const file = shortest(files);
    return {
      file,
      airfield: (name) => name,
      runway: (name) => name,
      text: inText(files, file),
      note: (note) => note,
      hidden: false,
    };
  }
  const runways = flights.flatMap(({ entry }) => entry.conditions.runway ?? []);
  const airfields = [
    ...new Set([...runways.flatMap((runway) => runway.airfield ?? []), ...Object.keys(parsed.shared?.airfields ?? {})]),
  ];
  const needs = [...new Set((decision?.missions ?? []).map(({ need }) => need))];
  const designators = [...new Set(runways.flatMap((runway) => runway.name ?? []))];
  const flightName = numbered(own, 'flight');
  const furtherName = new Map(
    flights.flatMap((flight) =>
      furtherNames(flight).map((name, index) => [name, `${flightName(flight.file)}, recording ${index + 2}`] as const),
    ),
  );
  const file = (name: string): string => furtherName.get(name) ?? flightName(name);
  const airfield = numbered(airfields, 'airfield');
  // A message may name the last part of a path alone.
  const ofLastPart = new Map(files.map((name) => [lastPart(name), file(name)]));
  const filesIn = inText([...files, ...ofLastPart.keys()], (name) => ofLastPart.get(name) ?? file(name));
  const [airfieldsIn, needsIn] = [inText(airfields, airfield), inText(needs, numbered(needs, 'need'))];
  return {
    file,
    airfield,
    runway: numbered(designators, 'runway'),
    text: (sentence) =>
      withoutRegistrations(needsIn(airfieldsIn(filesIn(sentence.replaceAll(provenance.specFile, 'the comparison'))))),
    note: () => undefined,
    hidden: true,
  };
}

/** The evaluation as if its spec asked to hide the places. */
export function withHiddenPlaces(evaluation: Evaluation): Evaluation {
  const { spec } = evaluation;
  if (spec === undefined) return evaluation;
  return { ...evaluation, spec: { ...spec, report: { ...spec.report, hidePositions: true } } };
}
