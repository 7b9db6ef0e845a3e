import * as z from 'zod';
import type { Surface, SurfaceKind } from '../../types.ts';
import { key } from '../key-meta.ts';
import { refuse } from '../shapes.ts';

const kinds: Readonly<Record<string, SurfaceKind>> = {
  paved: 'paved',
  asphalt: 'paved',
  concrete: 'paved',
  tarmac: 'paved',
  grass: 'grass',
  turf: 'grass',
  gravel: 'gravel',
  dirt: 'dirt',
  earth: 'dirt',
  sand: 'dirt',
  clay: 'dirt',
  snow: 'snow',
  ice: 'snow',
  water: 'water',
  other: 'other',
};

const qualities = new Set(['dry', 'wet', 'soft', 'firm', 'hard', 'long', 'short', 'damp', 'runway', 'and', 'mown']);

/** "grass", "wet grass", "grass, wet, long", "soft dirt"; a sentence if it is no surface. */
export function parseSurface(written: string): Surface | string {
  const words = written
    .toLowerCase()
    .split(/[\s,]+/)
    .filter((word) => word !== '');
  const found = new Set(words.flatMap((word) => (Object.hasOwn(kinds, word) ? [kinds[word]] : [])));
  const strange = words.find((word) => !Object.hasOwn(kinds, word) && !qualities.has(word));
  const choices = 'paved, grass, gravel, dirt, snow, water or other, with wet, soft or long where it was so';
  if (strange !== undefined) return `"${strange}" is no word for a surface: expected ${choices}.`;
  if (found.size !== 1)
    return `"${written}" names ${found.size === 0 ? 'no' : 'more than one'} surface: expected ${choices}.`;
  return {
    kind: [...found][0],
    wet: words.includes('wet') || words.includes('damp'),
    soft: words.includes('soft'),
    long: words.includes('long'),
  };
}

/** What is proposed; the other words that are understood mean one of these. */
const surfaceWords = {
  paved: 'asphalt, concrete',
  grass: 'short and dry',
  'wet grass': 'with dew or rain on it',
  'long grass': 'more than a hand high',
  'soft grass': 'the wheels sink in',
  gravel: 'loose stones',
  dirt: 'earth, sand, clay',
  snow: 'snow, ice',
  water: 'water',
} as const;

export function surface(doc: string) {
  return key(
    z.string().transform((written, context): Surface => {
      const found = parseSurface(written);
      return typeof found === 'string' ? refuse(context, 'spec-surface', found) : found;
    }),
    { doc, example: 'wet grass', words: surfaceWords },
  );
}
