import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const beside = fileURLToPath(new URL('../../../shared', import.meta.url));

/**
 * Path of a file of the recordings kept beside the repository (not part of it: other licences), or `undefined` where
 * they are absent. `MODPROOF_SHARED` names another folder. Tests that use it must skip and say so.
 */
export function sharedData(path: string): string | undefined {
  const full = resolve(process.env.MODPROOF_SHARED ?? beside, path);
  return existsSync(full) ? full : undefined;
}
