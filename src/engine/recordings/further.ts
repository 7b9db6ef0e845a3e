import type { Place } from '../../../shared/problem.ts';
import type { CsvMapping } from '../readers/reader.ts';

/** A further file of a flight, as it is named beside the first. */
export interface FurtherFile {
  readonly file: string;
  readonly at?: Place;
}

/** What another recorder wrote of the same flight. */
export interface SecondRecording extends FurtherFile {
  /** Its own parts, where that recorder split it. */
  readonly continuedIn: readonly FurtherFile[];
  /** To be added to its times to get those of the first recording, seconds, with its standard deviation; estimated if absent. */
  readonly clockOffsetS?: { readonly value: number; readonly sigma: number };
  readonly csv?: CsvMapping;
}

/** The files that belong to one flight beside the first. */
export interface FurtherRecordings {
  /** Parts of the first recording that its recorder split, in any order. */
  readonly continuedIn: readonly FurtherFile[];
  readonly alsoRecordedBy: readonly SecondRecording[];
}

/** All files, those of other recorders with their parts. */
export function furtherFiles(further: FurtherRecordings | undefined): readonly FurtherFile[] {
  if (further === undefined) return [];
  return [...further.continuedIn, ...further.alsoRecordedBy.flatMap((second) => [second, ...second.continuedIn])];
}

/** A path that is relative to the folder of a file, as it would be written where that file is named; absolute ones stay. */
export function besideFile(file: string, path: string): string {
  const wanted = path.replace(/\\/g, '/');
  if (wanted.startsWith('/') || /^[A-Za-z]:\//.test(wanted)) return wanted;
  const folder = file.replace(/\\/g, '/').split('/').slice(0, -1);
  const parts = [...folder];
  for (const part of wanted.split('/')) {
    if (part === '..' && parts.length > 0 && parts.at(-1) !== '..' && parts.at(-1) !== '') parts.pop();
    else if (part !== '.' && part !== '') parts.push(part);
  }
  return parts.join('/');
}

/** The same files named from where the first one is named, instead of from its own folder. */
export function furtherBeside(first: string, further: FurtherRecordings): FurtherRecordings {
  const moved = <F extends FurtherFile>(one: F): F => ({ ...one, file: besideFile(first, one.file) });
  return {
    continuedIn: further.continuedIn.map(moved),
    alsoRecordedBy: further.alsoRecordedBy.map((second) => ({
      ...moved(second),
      continuedIn: second.continuedIn.map(moved),
    })),
  };
}

/** What a reading depends on: names, offsets and mappings, without the places where they are written. */
export function furtherIdentity({ continuedIn, alsoRecordedBy }: FurtherRecordings): unknown {
  const names = (files: readonly FurtherFile[]): readonly string[] => files.map(({ file }) => file);
  return {
    continuedIn: names(continuedIn),
    alsoRecordedBy: alsoRecordedBy.map(({ file, continuedIn: parts, clockOffsetS, csv }) => ({
      file,
      continuedIn: names(parts),
      clockOffsetS,
      csv,
    })),
  };
}
