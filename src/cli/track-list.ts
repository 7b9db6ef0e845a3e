import { isAbsolute, resolve } from 'node:path';
import { isPattern } from '../engine/glob.ts';
import type { CommandIo } from './io.ts';

/** Lie beside recordings and are none. */
const passedOver = /\.(?:ya?ml|md|markdown|txt|svg|png|jpe?g|json|pdf|html?)$/i;

/** Names of recordings in the folders below one that was named: there much else may lie. */
const recordingName = /\.(?:gpx|igc|kml|kmz|nmea|nma|fit|csv|tsv|mp4|mov|m4v|360|zip)(?:\.gz)?$/i;

/** So many folders deep is looked below a folder: a card's `DCIM/100MEDIA`, or year, month, day and flight. */
export const foldersBelow = 4;

export interface ListedTrack {
  readonly file: string;
  /** False when nothing of that name was found. */
  readonly found: boolean;
}

/**
 * The recordings that the words of a command line stand for: files as named, folders (with those below them) and patterns
 * expanded, each once. Names are as a person wrote them: relative for relative words, absolute for absolute ones.
 */
export async function listTracks(words: readonly string[], io: CommandIo): Promise<readonly ListedTrack[]> {
  const listed = new Map<string, ListedTrack>();
  for (const word of words) {
    const shown = (file: string): string =>
      isAbsolute(word) ? resolve(io.workingFolder, file).replaceAll('\\', '/') : file;
    const found = await io.world.list(word);
    const base = word.replace(/\\/g, '/').replace(/\/+$/, '').split('/').pop();
    const itself = !isPattern(word) && found.length === 1 && found[0].split('/').pop() === base;
    if (itself) {
      listed.set(found[0], { file: word, found: true });
      continue;
    }
    const recordings = found.filter((file) => !passedOver.test(file));
    if (!isPattern(word)) recordings.push(...(await recordingsBelow(word, io)));
    for (const file of recordings) if (!listed.has(file)) listed.set(file, { file: shown(file), found: true });
    if (recordings.length > 0) continue;
    // A name with brackets may be a file all the same.
    const exists =
      found.length === 0 &&
      (await io.world.open(word).then(
        () => true,
        () => false,
      ));
    listed.set(word, { file: word, found: exists });
  }
  return [...listed.values()];
}

async function recordingsBelow(folder: string, io: CommandIo): Promise<string[]> {
  const found: string[] = [];
  let pattern = folder.replace(/\\/g, '/').replace(/\/+$/, '');
  for (let depth = 0; depth < foldersBelow; depth++) {
    pattern += '/*';
    found.push(...(await io.world.list(`${pattern}/*`)).filter((file) => recordingName.test(file)));
  }
  return found.sort((a, b) => (a < b ? -1 : Number(a > b)));
}
