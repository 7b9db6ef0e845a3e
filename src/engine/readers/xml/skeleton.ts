import { XMLParser } from 'fast-xml-parser';
import { runMarker } from './sample-lift.ts';

/** One element of a skeleton: what a recording holds beside its samples. */
export interface SkeletonElement {
  /** Local name, without prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SkeletonElement[];
  /** Its own text, entities decoded. */
  readonly text: string;
  /** For a marker: which run of samples stood here. */
  readonly run?: number;
}

type Parsed = Record<string, unknown>;

const textKey = '#text';
const attributesKey = ':@';
const prefix = '@_';

/**
 * The root elements of a skeleton (see `SampleLift`). Entities other than the five predefined ones and character
 * references stay as they are. Throws when the text cannot be parsed.
 */
export function parseSkeleton(skeleton: string): SkeletonElement[] {
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: prefix,
    parseTagValue: false,
    parseAttributeValue: false,
    ignoreDeclaration: true,
    ignorePiTags: true,
    removeNSPrefix: true,
    processEntities: false,
  });
  return elements(parser.parse(skeleton) as Parsed[]);
}

function elements(parsed: readonly Parsed[]): SkeletonElement[] {
  return parsed.flatMap((entry) => {
    const name = Object.keys(entry).find((key) => key !== attributesKey);
    if (name === undefined || name === textKey) return [];
    const inside = (entry[name] ?? []) as Parsed[];
    const attributes = Object.fromEntries(
      Object.entries((entry[attributesKey] ?? {}) as Record<string, unknown>).map(([key, value]) => [
        key.slice(prefix.length),
        decodeEntities(String(value)),
      ]),
    );
    const text = inside.flatMap((part) => (textKey in part ? [decodeEntities(String(part[textKey]))] : [])).join('');
    return [
      {
        name,
        attributes,
        children: elements(inside),
        text,
        run: name === runMarker ? Number(attributes.n) : undefined,
      },
    ];
  });
}

const named: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function decodeEntities(text: string): string {
  if (!text.includes('&')) return text;
  return text.replace(
    /&(?:#(\d{1,7})|#[xX]([0-9a-fA-F]{1,6})|(amp|lt|gt|quot|apos));/g,
    (whole, decimal, hex, name) => {
      if (name !== undefined) return named[name as string];
      const code = decimal === undefined ? Number.parseInt(hex as string, 16) : Number(decimal);
      return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole;
    },
  );
}

/** All elements of a name, at any depth, in the order of the file. */
export function descendants(roots: readonly SkeletonElement[], name: string): SkeletonElement[] {
  return roots.flatMap((element) => [
    ...(element.name === name ? [element] : []),
    ...descendants(element.children, name),
  ]);
}

export function child(element: SkeletonElement, name: string): SkeletonElement | undefined {
  return element.children.find((candidate) => candidate.name === name);
}
