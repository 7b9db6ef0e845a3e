import { isPattern } from '../glob.ts';
import { type Report, trackKey } from './check.ts';
import type { WrittenFlight, WrittenSpec } from './grammar/language.ts';
import type { Path } from './yaml-tree.ts';

interface NamedFile {
  readonly file: string;
  /** Where it stands; a value that is written without a list is found by the path above. */
  readonly path: Path;
}

/** The further recordings that an entry names. */
export function namedFurther(flight: WrittenFlight, index: number): readonly NamedFile[] {
  const parts = (files: readonly string[] | undefined, path: Path): NamedFile[] =>
    (files ?? []).map((file, at) => ({ file, path: [...path, 'continued-in', at] }));
  const own: Path = ['flights', index];
  return [
    ...parts(flight['continued-in'], own),
    ...(flight['also-recorded-by'] ?? []).flatMap((second, at) => {
      const path: Path = [...own, 'also-recorded-by', at];
      return [{ file: second.track, path: [...path, 'track'] }, ...parts(second['continued-in'], path)];
    }),
  ];
}

/** Each file belongs to one flight, once; and further recordings belong to one recording, not to a pattern of them. */
export function checkRecordings(spec: WrittenSpec, report: Report, line: (path: Path) => number | undefined): void {
  const flights = new Map(spec.flights.map((flight, index) => [trackKey(flight.track), index]));
  const taken = new Map<string, Path>();
  spec.flights.forEach((flight, index) => {
    const further = namedFurther(flight, index);
    if (further.length > 0 && isPattern(flight.track)) {
      report(
        'spec-recordings',
        further[0].path,
        `"${flight.track}" stands for all recordings of a pattern, so that it is not clear which of them was recorded in "${further[0].file}" as well: write an entry of its own for that flight.`,
      );
    }
    for (const { file, path } of further) {
      const name = trackKey(file);
      if (name === '' || isPattern(file)) {
        report(
          'spec-recordings',
          path,
          'Name the files of a flight one by one: a pattern may take in those of another.',
        );
        continue;
      }
      const own = flights.get(name);
      const before = taken.get(name);
      if (own === index) report('spec-duplicate-track', path, `"${file}" is the recording itself.`);
      else if (own !== undefined) {
        report(
          'spec-duplicate-track',
          path,
          `"${file}" is a flight of its own in line ${line(['flights', own, 'track'])}: take that entry out, or this name.`,
        );
      } else if (before !== undefined)
        report('spec-duplicate-track', path, `"${file}" is named already, in line ${line(before)}: each file once.`);
      else taken.set(name, path);
    }
  });
}

/** The flight that a file is a further recording of. */
export function flightOfFurther(spec: WrittenSpec, file: string): WrittenFlight | undefined {
  const name = trackKey(file);
  return spec.flights.find((flight, index) => namedFurther(flight, index).some((one) => trackKey(one.file) === name));
}
