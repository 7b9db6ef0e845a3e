import type { Place } from '../../../../shared/problem.ts';
import { yamlText } from '../assist.ts';
import { trackKey } from '../check.ts';
import { isDate } from '../grammar/shapes.ts';
import { type Path, readYaml, type YamlTree } from '../yaml-tree.ts';
import { bare, covers, walkTree } from './tree-walk.ts';

/** What the writer of a spec gives names to. A track is named by its path and defined by its entry under `flights`. */
export type NameKind = 'configurations' | 'airfields' | 'runways' | 'days' | 'stations' | 'tracks';

export interface NamedThing {
  readonly kind: NameKind;
  readonly name: string;
  /** Where it is defined; more than one place only where that is a mistake or the airfield of a runway is not told. */
  readonly definitions: readonly Place[];
  /** Everywhere else it stands. */
  readonly uses: readonly Place[];
  /** Of the word at the position that was asked. */
  readonly at: Place;
}

interface Occurrence {
  readonly kind: NameKind;
  readonly name: string;
  /** Airfield of a runway, where it can be told. */
  readonly scope?: string;
  readonly defines: boolean;
  readonly at: Place;
}

type Mapping = Readonly<Record<string, unknown>>;

function mappingAt(root: unknown, ...path: readonly (string | number)[]): Mapping | undefined {
  let at: unknown = root;
  for (const step of path) at = typeof at === 'object' && at !== null ? (at as Mapping)[step] : undefined;
  return typeof at === 'object' && at !== null && !Array.isArray(at) ? (at as Mapping) : undefined;
}

/** The airfield that the conditions at a path (`flights[3]`, `days.2024-04-13`) speak of. */
function airfieldAround(root: unknown, path: Path): string | undefined {
  const own = mappingAt(root, ...path);
  const day = typeof own?.day === 'string' ? mappingAt(root, 'days', own.day) : undefined;
  const written = own?.airfield ?? day?.airfield;
  if (typeof written === 'string') return written;
  const all = Object.keys(mappingAt(root, 'airfields') ?? {});
  return all.length === 1 ? all[0] : undefined;
}

function occurrences(tree: YamlTree): Occurrence[] {
  const found: Occurrence[] = [];
  const define = (kind: NameKind, path: Path, scope?: string): void => {
    const name = String(path[path.length - 1]);
    found.push({
      kind,
      name,
      defines: true,
      at: bare(tree.placeOfKey(path)),
      ...(scope === undefined ? {} : { scope }),
    });
  };
  // A name whose facts are still blank is a name, too.
  const paths: Path[] = [...tree.blanks];
  walkTree(tree, ({ path, value, names }) => {
    paths.push(path);
    if (typeof value !== 'string' || names === undefined || names === 'metrics') return;
    const [section, , key] = path;
    const at = bare(tree.placeOf(path));
    if (names === 'tracks') {
      const defines = section === 'flights' && key === 'track';
      found.push({ kind: names, name: trackKey(value), defines, at });
    } else if (names === 'runways') {
      const scope = airfieldAround(tree.value, path.slice(0, -1));
      found.push({ kind: names, name: value, defines: false, at, ...(scope === undefined ? {} : { scope }) });
    } else found.push({ kind: names, name: value, defines: false, at });
  });
  for (const path of paths) {
    const [section, name, third] = path;
    if (path.length === 2 && (section === 'configurations' || section === 'airfields' || section === 'days'))
      define(section, path);
    if (path.length === 4 && section === 'airfields' && third === 'runways') define('runways', path, String(name));
    if (section !== 'loading') continue;
    if (path.length === 3 && name === 'stations') define('stations', path);
    if (path.length === 5 && name === 'cases' && path[3] === 'load') {
      // A load is written at the name of its station.
      const at = bare(tree.placeOfKey(path));
      found.push({ kind: 'stations', name: String(path[4]), defines: false, at });
    }
  }
  return found;
}

/** The name at a position with all its places; undefined where there is none, or while the text is no YAML. */
export function nameAt(text: string, line: number, column: number): NamedThing | undefined {
  const all = occurrences(readYaml(text, ''));
  const here = all.find(({ at }) => covers(at, line, column));
  if (here === undefined) return undefined;
  const same = all.filter(
    ({ kind, name, scope }) =>
      kind === here.kind &&
      name === here.name &&
      (kind !== 'runways' || scope === undefined || here.scope === undefined || scope === here.scope),
  );
  return {
    kind: here.kind,
    name: here.name,
    definitions: same.filter(({ defines }) => defines).map(({ at }) => at),
    uses: same.filter(({ defines }) => !defines).map(({ at }) => at),
    at: here.at,
  };
}

export interface Rename {
  readonly edits: readonly { readonly at: Place; readonly text: string }[];
}

const singular: Readonly<Record<NameKind, string>> = {
  configurations: 'configuration',
  airfields: 'airfield',
  runways: 'runway',
  days: 'day',
  stations: 'station',
  tracks: 'track',
};

/** Why the thing cannot be renamed here; undefined when it can. */
export function renameRefusal(thing: NamedThing): string | undefined {
  if (thing.kind === 'tracks') return 'A track has the name of its file: rename the file, then change its entry.';
  if (thing.definitions.length === 0) return `The ${singular[thing.kind]} "${thing.name}" is not defined in this file.`;
  if (thing.definitions.length > 1)
    return `More than one airfield has a runway "${thing.name}": say which is meant with "airfield", or rename by hand.`;
  return undefined;
}

/** As it was quoted before, where that still can be; a date needs no quotes. */
function written(name: string, before: string): string {
  const quote = before[0];
  if (quote === '"') return JSON.stringify(name);
  if (quote === "'") return `'${name.replaceAll("'", "''")}'`;
  return /^\d{4}-\d{2}-\d{2}(?: [\w-]+)*$/.test(name) ? name : yamlText(name);
}

/** Edits that give a thing another name wherever it stands; a sentence when that cannot be. */
export function renameThing(text: string, thing: NamedThing, newName: string): Rename | string {
  const refusal = renameRefusal(thing);
  if (refusal !== undefined) return refusal;
  const name = newName.trim();
  if (name === '' || /[\r\n]/.test(name)) return 'A name is one line of text.';
  if (['__proto__', 'constructor', 'prototype'].includes(name)) return `"${name}" cannot be used as a name.`;
  if (thing.kind === 'days' && !isDate(name.slice(0, 10)))
    return `"${name}" is no day: expected a date such as 2024-04-13, with words after it if a day had two weathers.`;
  const all = occurrences(readYaml(text, ''));
  const own = all.find(({ defines, at }) => defines && at.line === thing.definitions[0].line);
  const taken = all.some(
    (other) =>
      other.defines && other.kind === thing.kind && other.scope === own?.scope && other.name === name && other !== own,
  );
  if (taken && name !== thing.name) return `There is a ${singular[thing.kind]} "${name}" already.`;
  const lines = text.split(/\r?\n/);
  return {
    edits: [...thing.definitions, ...thing.uses].map((at) => ({
      at,
      text: written(name, (lines[(at.line ?? 1) - 1] ?? '').slice((at.column ?? 1) - 1)),
    })),
  };
}

export interface WrittenTrack {
  /** As written. */
  readonly track: string;
  /** Of the path, without its quotes. */
  readonly at: Place;
  /** Index of the entry under `flights`, or undefined for one that is excluded. */
  readonly index?: number;
}

/** The tracks that a spec names, in its order, also while other parts of it are wrong. */
export function writtenTracks(text: string): readonly WrittenTrack[] {
  const tree = readYaml(text, '');
  const lines = text.split(/\r?\n/);
  const found: WrittenTrack[] = [];
  walkTree(tree, ({ path, value, names }) => {
    if (names !== 'tracks' || typeof value !== 'string' || value === '') return;
    const at = bare(tree.placeOf(path));
    const quoted = /["']/.test(lines[(at.line ?? 1) - 1]?.[(at.column ?? 1) - 1] ?? '') ? 1 : 0;
    found.push({
      track: value,
      at: { ...at, column: (at.column ?? 1) + quoted, endColumn: (at.endColumn ?? 1) - quoted },
      ...(path[0] === 'flights' && typeof path[1] === 'number' ? { index: path[1] } : {}),
    });
  });
  return found;
}
