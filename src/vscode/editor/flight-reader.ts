import type { Analysis, EventOverride } from '../../../shared/analysis.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';
import { analyse } from '../../engine/analyse.ts';
import { readRecording } from '../../engine/readers/index.ts';
import type { ReadResult } from '../../engine/readers/reader.ts';
import { type DerivedMotion, deriveMotion } from '../../engine/track/derive-motion.ts';
import { analysisPending, columnsOf } from '../../engine/view/index.ts';
import type { ByteSource, Work } from '../../engine/world.ts';

/** A recording read once: what every viewer of it shares. */
export interface Recording {
  readonly read: ReadResult;
  /** Absent when no fix is usable. */
  readonly columns?: TrackColumns;
  readonly derived?: DerivedMotion;
  /** Of the recording alone: phases and events still to be found. */
  readonly pending?: Analysis;
}

export async function readRecordingForView(source: ByteSource, work: Work): Promise<Recording> {
  const read = await readRecording(source, work);
  if (read.track === undefined) return { read };
  const derived = deriveMotion(read.track);
  const { motion } = derived;
  return { read, derived, columns: columnsOf(motion, read.track), pending: analysisPending(read.track, motion) };
}

/** Phases, events and metrics, with what the pilot corrected. */
export function analyseForView(
  { read, derived }: Recording,
  overrides: readonly EventOverride[],
  signal?: AbortSignal,
): Analysis {
  if (read.track === undefined) throw new Error('There is no track to analyse.');
  return analyse(read.track, { overrides, signal }, derived);
}
