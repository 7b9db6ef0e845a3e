import type { Analysis, EventOverride } from '../../../shared/analysis.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';
import type { Workbench } from '../../engine/evaluate/index.ts';
import type { FurtherRecordings } from '../../engine/recordings/index.ts';
import type { ReadSummary } from '../../engine/view/index.ts';
import type { ByteSource, Work, World } from '../../engine/world.ts';

/** What a recording gives without its track, which stays where it was read. */
export interface RecordingFacts {
  readonly read: ReadSummary;
  /** Absent when no fix is usable. */
  readonly columns?: TrackColumns;
  /** Of the recording alone: phases and events still to be found. */
  readonly pending?: Analysis;
}

/** A recording that was read and is kept, so that it can be analysed again and again. */
export interface KeptRecording extends RecordingFacts {
  /** Phases, events and metrics, with what the pilot corrected. */
  analyse(overrides: readonly EventOverride[], signal?: AbortSignal): Promise<Analysis>;
  /** It is not needed any more. */
  forget(): void;
}

/** Recordings being read and analysed for one comparison. */
export interface ComparisonBench extends Workbench {
  close(): void;
}

/** The further recordings of a flight, and what opens them. */
export interface FurtherToRead {
  readonly further: FurtherRecordings;
  readonly open: World['open'];
}

/** Where recordings are read and analysed: in threads of their own, or here. Both give the same. */
export interface FlightWork {
  /** With further recordings: of the flight joined from all of them. */
  read(source: ByteSource, work: Work, others?: FurtherToRead): Promise<KeptRecording>;
  bench(world: World): ComparisonBench;
}
