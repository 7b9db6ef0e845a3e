import type { AnalysisOptions } from '../engine/analysis.ts';
import type { Analysed, BenchFile, Reading } from '../engine/evaluate/index.ts';

/** What the main thread asks of a worker. One answer follows, and progress before it. */
export type BenchRequest =
  | { readonly id: number; readonly step: 'read'; readonly file: BenchFile }
  | { readonly id: number; readonly step: 'analyse'; readonly file: BenchFile; readonly options: AnalysisOptions };

export type BenchReply =
  | { readonly id: number; readonly kind: 'progress'; readonly fraction: number }
  | { readonly id: number; readonly kind: 'done'; readonly value: Reading | Analysed }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };

/** Marks a worker as one of ours, and tells it where relative paths start. */
export interface BenchWorkerData {
  readonly modproofBench: true;
  readonly workingFolder: string;
}

export function isBenchWorkerData(data: unknown): data is BenchWorkerData {
  return typeof data === 'object' && data !== null && 'modproofBench' in data;
}
