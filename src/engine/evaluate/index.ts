export { type Analysed, type BenchFile, benchHere, type BenchParts, type Reading, type Workbench } from './bench.ts';
export { decodeResult, encodeResult, type ResultCache } from './cache.ts';
export {
  type EngineParts,
  type EvaluatedFlight,
  type Evaluation,
  type EvaluationRequest,
  evaluate,
  type Provenance,
} from './evaluate.ts';
export { findTracks } from './find-tracks.ts';
export { type ContentHash, hashOf, sha256OfText } from './hash.ts';
export type { RunProfile } from './run-profile.ts';
