import type { Analysis, AnalysisOptions, EventOverride } from '../../../shared/analysis.ts';
import type { Analysed, BenchFile, Reading } from '../../engine/evaluate/index.ts';
import type { FurtherRecordings } from '../../engine/recordings/index.ts';
import type { RecordingFacts } from './flight-work.ts';

/**
 * What a thread answers. `job` names a recording of a viewer or a comparison, from its first request until it is forgotten;
 * the thread reads the files of a job through the host, so that any file system of the editor will do.
 */
export interface ThreadMethods {
  /** Answers once the thread can work. */
  hello(): boolean;
  read(argument: { readonly job: number; readonly file: string; readonly further?: FurtherRecordings }): RecordingFacts;
  analyse(argument: { readonly job: number; readonly overrides: readonly EventOverride[] }): Analysis;
  benchRead(argument: { readonly job: number; readonly step: number; readonly file: BenchFile }): Reading;
  benchAnalyse(argument: {
    readonly job: number;
    readonly file: BenchFile;
    readonly options: AnalysisOptions;
  }): Analysed;
  forget(argument: { readonly job: number }): void;
}

/** A file of a job, as the thread names it. */
export interface ThreadFile {
  readonly job: number;
  readonly path: string;
  readonly from?: string;
}

/** What the host answers. */
export interface ThreadHostMethods {
  open(argument: ThreadFile): { readonly name: string; readonly sizeBytes: number };
  /** Fewer bytes than asked mean the end of the file. */
  bytes(argument: ThreadFile & { readonly offset: number; readonly length: number }): Uint8Array;
  progress(argument: { readonly job: number; readonly step: number; readonly fraction: number }): void;
}

/** The step of a job that is the reading for a viewer. */
export const viewerStep = 0;
