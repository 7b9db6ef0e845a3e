import { closeSync, ftruncateSync, openSync, writeSync } from 'node:fs';
import type { FileLayout } from '../synth/film.ts';

/** Writes a file with holes where no piece lies: many gigabytes need little room. */
export function writeSparse(path: string, { sizeBytes, pieces }: FileLayout): void {
  const file = openSync(path, 'w');
  ftruncateSync(file, sizeBytes);
  for (const { offsetByte, bytes } of pieces) writeSync(file, bytes, 0, bytes.length, offsetByte);
  closeSync(file);
}
