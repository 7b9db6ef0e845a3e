import type { Analysis, EventOverride } from '../../../shared/analysis.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';
import { analyse } from '../../engine/analyse.ts';
import { readRecording } from '../../engine/readers/index.ts';
import type { ReadResult } from '../../engine/readers/reader.ts';
import { readFlight } from '../../engine/recordings/index.ts';
import { type DerivedMotion, deriveMotion } from '../../engine/track/derive-motion.ts';
import { analysisPending, columnsOf } from '../../engine/view/index.ts';
import type { ByteSource, Work, World } from '../../engine/world.ts';
import type { FurtherToRead } from '../reading/flight-work.ts';

/** A recording read once: what every viewer of it shares. */
export interface Recording {
  readonly read: ReadResult;
  /** Absent when no fix is usable. */
  readonly columns?: TrackColumns;
  readonly derived?: DerivedMotion;
  /** Of the recording alone: phases and events still to be found. */
  readonly pending?: Analysis;
}

/** With further recordings: the flight joined from all of them. */
export async function readRecordingForView(source: ByteSource, work: Work, others?: FurtherToRead): Promise<Recording> {
  const { name } = source;
  const open: World['open'] = (path) =>
    others === undefined || path === name ? Promise.resolve(source) : others.open(path);
  const flight = { file: name, ...(others && { further: others.further }) };
  const read = await readFlight(flight, undefined, readRecording, { open }, work);
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
