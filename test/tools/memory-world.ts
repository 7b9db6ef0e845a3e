import { globMatcher, isPattern } from '../../src/engine/glob.ts';
import { bytesInMemory, type World } from '../../src/engine/world.ts';

/** A world of files in memory, all in one folder tree; paths are relative to the spec. Counts what was opened. */
export function memoryWorld(
  files: Readonly<Record<string, string | Uint8Array>>,
): World & { readonly opened: string[] } {
  const opened: string[] = [];
  const clean = (path: string): string => path.replace(/^\.\//, '').replace(/\/$/, '');
  return {
    opened,
    open: (path) => {
      const content = files[clean(path)];
      if (content === undefined) return Promise.reject(new Error(`${path} is absent`));
      opened.push(clean(path));
      return Promise.resolve(
        bytesInMemory(path, typeof content === 'string' ? new TextEncoder().encode(content) : content),
      );
    },
    list: (pattern) => {
      const wanted = clean(pattern);
      const names = Object.keys(files).sort();
      if (isPattern(wanted)) return Promise.resolve(names.filter(globMatcher(wanted)));
      if (Object.hasOwn(files, wanted)) return Promise.resolve([wanted]);
      return Promise.resolve(
        names.filter((name) => name.startsWith(`${wanted}/`) && !name.slice(wanted.length + 1).includes('/')),
      );
    },
  };
}
