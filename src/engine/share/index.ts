export type { CopyFormat } from './copy-text.ts';
export { parsePlace } from './place.ts';
export { smallestRadiusM } from './radius.ts';
export { secretOf, seedOf } from './secret.ts';
export {
  type RecordingToShare,
  type Shared,
  type SharedCopy,
  type SharedPlaces,
  shareRecordings,
  type ShareOptions,
} from './share.ts';
export { whatRemains } from './what-remains.ts';
