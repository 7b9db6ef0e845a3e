import { formatTime } from '../../shared/format.ts';
import type { RecordingPart } from '../../shared/recording-part.ts';
import type { Analysis } from '../engine/analysis.ts';
import { measuredJson, told } from './inspect-json.ts';

type Json = Record<string, unknown>;

/** One file of a flight in several, as JSON.md describes it. */
export function partJson(part: RecordingPart): Json {
  const { file, role, continues, format, startS, endS, joined, clockOffsetS, clockOffsetBy, brings, remarks } = part;
  return told({
    file,
    role,
    continues,
    format,
    start: startS === undefined ? undefined : formatTime(startS),
    end: endS === undefined ? undefined : formatTime(endS),
    joined,
    clockOffsetS: measuredJson(clockOffsetS),
    clockOffsetBy,
    brings,
    remarks: remarks.length === 0 ? undefined : remarks,
  });
}

/** The files of a flight; `undefined` where it is in one. */
export function recordingsJson(analysis: Analysis | undefined): Json[] | undefined {
  return analysis?.recording.parts?.map(partJson);
}
