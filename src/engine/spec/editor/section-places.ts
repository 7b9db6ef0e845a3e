import type { Place } from '../../../../shared/problem.ts';
import { readYaml } from '../yaml-tree.ts';
import { bare } from './tree-walk.ts';

export interface SectionEntry {
  /** Of a mission what it is called by its kind ("strip: river bar"), of a candidate its key. */
  readonly name: string;
  /** How many entries of the same name stand before it. */
  readonly occurrence: number;
  readonly at: Place;
}

export interface SectionPlace {
  readonly section: string;
  /** Of its key. */
  readonly at: Place;
  /** Entries of `missions` and `candidates`; none elsewhere. */
  readonly entries: readonly SectionEntry[];
}

const needKeys = ['strip', 'leg', 'climb'] as const;

function needName(entry: unknown): string | undefined {
  if (typeof entry !== 'object' || entry === null) return undefined;
  const written = entry as Readonly<Record<string, unknown>>;
  const key = needKeys.find((one) => typeof written[one] === 'string');
  return key === undefined ? undefined : String(written[key]).trim();
}

/** Where the wanted sections of a spec stand, with their entries, also while other parts of it are wrong; empty while it is no YAML. */
export function sectionPlaces(text: string, wanted: readonly string[]): readonly SectionPlace[] {
  const tree = readYaml(text, '');
  if (typeof tree.value !== 'object' || tree.value === null || Array.isArray(tree.value)) return [];
  const root = tree.value as Readonly<Record<string, unknown>>;
  return wanted.flatMap((section): SectionPlace[] => {
    const blank = tree.blanks.some((path) => path.length === 1 && path[0] === section);
    if (!Object.hasOwn(root, section) && !blank) return [];
    const value = root[section];
    const seen = new Map<string, number>();
    const entry = (name: string, at: Place): SectionEntry => {
      const occurrence = seen.get(name) ?? 0;
      seen.set(name, occurrence + 1);
      return { name, occurrence, at: bare(at) };
    };
    const entries =
      section === 'missions' && Array.isArray(value)
        ? value.flatMap((one: unknown, index): SectionEntry[] => {
            const name = needName(one);
            return name === undefined ? [] : [entry(name, tree.placeOf([section, index]))];
          })
        : section === 'candidates' && typeof value === 'object' && value !== null
          ? Object.keys(value).map((name) => entry(name, tree.placeOfKey([section, name])))
          : [];
    return [{ section, at: bare(tree.placeOfKey([section])), entries }];
  });
}
