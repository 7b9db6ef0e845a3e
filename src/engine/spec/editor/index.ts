export {
  type NamedThing,
  type NameKind,
  nameAt,
  renameRefusal,
  renameThing,
  type WrittenTrack,
  writtenTracks,
} from './names.ts';
export { type Fold, foldsOf, type OutlineItem, outlineOf } from './outline.ts';
export { type QuickFix, quickFixes, type TextEditAt } from './quick-fixes.ts';
export { type SectionEntry, type SectionPlace, sectionPlaces } from './section-places.ts';
export { type Snippet, snippetsAt } from './snippets.ts';
