export type { CopyFormat } from './copy-text.ts';
export { parsePlace } from './place.ts';
export { readRadius, smallestRadiusM } from './radius.ts';
export { secretOf, seedOf } from './secret.ts';
export {
  type RecordingToShare,
  type Shared,
  type SharedCopy,
  type SharedPlaces,
  shareChoices,
  shareRecordings,
  type ShareOptions,
} from './share.ts';
export { whatRemains } from './what-remains.ts';
