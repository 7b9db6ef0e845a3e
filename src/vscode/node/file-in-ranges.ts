import { open } from 'node:fs/promises';
import type * as vscode from 'vscode';
import { baseName } from '../paths.ts';
import type { OpenedBytes } from '../platform.ts';
import { openWholeFile } from '../whole-file.ts';

/** A film has gigabytes and its track a megabyte: on this machine's disk only the parts asked for are read. */
export async function openFileInRanges(uri: vscode.Uri): Promise<OpenedBytes> {
  if (uri.scheme !== 'file') return openWholeFile(uri);
  const handle = await open(uri.fsPath, 'r');
  const { size } = await handle.stat();
  return {
    source: {
      name: baseName(uri),
      sizeBytes: size,
      async read(offset, length) {
        const wanted = Math.max(0, Math.min(length, size - offset));
        const bytes = new Uint8Array(wanted);
        let filled = 0;
        while (filled < wanted) {
          const { bytesRead } = await handle.read(bytes, filled, wanted - filled, offset + filled);
          if (bytesRead === 0) break;
          filled += bytesRead;
        }
        return filled === wanted ? bytes : bytes.subarray(0, filled);
      },
    },
    close: () => handle.close(),
  };
}
