import { isPattern } from '../engine/glob.ts';
import type { CommandIo } from './io.ts';

/** Lie beside recordings and are none. */
const passedOver = /\.(?:ya?ml|md|markdown|txt|svg|png|jpe?g|json|pdf|html?)$/i;

export interface ListedTrack {
  readonly file: string;
  /** False when nothing of that name was found. */
  readonly found: boolean;
}

/** The recordings that the words of a command line stand for: files as named, folders and patterns expanded, each once. */
export async function listTracks(words: readonly string[], io: CommandIo): Promise<readonly ListedTrack[]> {
  const listed = new Map<string, ListedTrack>();
  for (const word of words) {
    const found = await io.world.list(word);
    const base = word.replace(/\\/g, '/').replace(/\/+$/, '').split('/').pop();
    const itself = !isPattern(word) && found.length === 1 && found[0].split('/').pop() === base;
    if (itself) listed.set(found[0], { file: word, found: true });
    else if (found.length === 0) {
      // A name with brackets may be a file all the same.
      const exists = await io.world.open(word).then(
        () => true,
        () => false,
      );
      listed.set(word, { file: word, found: exists });
    } else {
      const recordings = found.filter((file) => !passedOver.test(file));
      for (const file of recordings) if (!listed.has(file)) listed.set(file, { file, found: true });
      if (recordings.length === 0) listed.set(word, { file: word, found: false });
    }
  }
  return [...listed.values()];
}
