import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** First of these programs on PATH. */
export function onPath(names: readonly string[]): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  const endings = process.platform === 'win32' ? ['.exe'] : [''];
  for (const name of names) {
    for (const folder of folders) {
      for (const ending of endings) {
        const path = join(folder, name + ending);
        if (folder !== '' && existsSync(path)) return path;
      }
    }
  }
  return undefined;
}

/** A Chromium that is already here: named by MODPROOF_CHROMIUM, or on PATH. */
export function chromiumOnPath(): string | undefined {
  return process.env.MODPROOF_CHROMIUM ?? onPath(['chromium', 'chromium-browser', 'google-chrome', 'chrome']);
}

/** Flags for a headless Chromium that talks to this machine alone. */
export const chromiumFlags: readonly string[] = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-dev-shm-usage',
];

/** Path of a Chromium to run: that of {@link chromiumOnPath}, else the portable one that `install.ts` fetched. */
export async function chromiumExecutable(portableScript?: string): Promise<string> {
  const found = chromiumOnPath();
  if (found !== undefined) return found;
  if (portableScript === undefined) throw new Error('no Chromium on PATH, and no portable one installed');
  const module = (await import(pathToFileURL(portableScript).href)) as {
    default: { executablePath(): Promise<string> };
  };
  return module.default.executablePath();
}
