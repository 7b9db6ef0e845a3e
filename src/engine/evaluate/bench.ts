import type { FilmPart } from '../../../shared/film-time.ts';
import { takeoffCurve } from '../../../shared/run-curve.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Analysis, AnalysisOptions } from '../analysis.ts';
import type { ReadOptions, ReadResult } from '../readers/reader.ts';
import { type FlightToRead, readFlight } from '../recordings/index.ts';
import { deriveMotion } from '../track/derive-motion.ts';
import { recordedSpan } from '../track/summary.ts';
import type { Track } from '../track/track.ts';
import { columnsOf } from '../view/index.ts';
import type { ByteSource, Work, World } from '../world.ts';
import { profileOf, type RunProfile } from './run-profile.ts';

/** What of a reading is needed without the track itself. */
export interface Reading {
  readonly format?: ReadResult['format'];
  readonly problems: readonly Problem[];
  /** Absent when no fix is usable. */
  readonly startS?: number;
  readonly endS?: number;
  /** Of a film, or of a flight with films. */
  readonly films?: readonly FilmPart[];
}

export interface Analysed {
  readonly analysis: Analysis;
  readonly profiles: readonly (RunProfile | undefined)[];
}

/** A flight to be worked on: its recording as its spec names it, further ones, and what the spec says of reading them. */
export interface BenchFile extends FlightToRead {
  readonly specPath: string;
}

/**
 * Where recordings are read and analysed: here, or in other threads. The two steps are apart because what the analysis is
 * told may depend on the date that the reading found. Plain data goes in and out.
 */
export interface Workbench {
  /** How many recordings may usefully be worked on at once. */
  readonly atOnce: number;
  readonly read: (file: BenchFile, work: Work) => Promise<Reading>;
  readonly analyse: (file: BenchFile, options: AnalysisOptions, work: Work) => Promise<Analysed>;
}

export interface BenchParts {
  readonly readRecording: (source: ByteSource, options: ReadOptions) => Promise<ReadResult>;
  readonly analyse: (track: Track, options: AnalysisOptions) => Analysis;
}

/** A workbench in this thread. Keeps the track from reading to analysis, so that a file is read once. */
export function benchHere(parts: BenchParts, world: World): Workbench {
  const kept = new Map<string, Track>();
  const read = async (file: BenchFile, work: Work): Promise<{ readonly reading: Reading; readonly track?: Track }> => {
    const { track, format, problems } = await readFlight(file, file.specPath, parts.readRecording, world, work);
    const reading: Reading = {
      format,
      problems,
      startS: track?.timeS[0],
      endS: track?.timeS[track.timeS.length - 1],
      films: track === undefined ? undefined : recordedSpan(track).films,
    };
    return { reading, ...(track === undefined ? {} : { track }) };
  };
  return {
    atOnce: 1,
    read: async (file, work) => {
      const { reading, track } = await read(file, work);
      if (track !== undefined) kept.set(file.file, track);
      return reading;
    },
    analyse: async (file, options, work) => {
      const track = kept.get(file.file) ?? (await read(file, work)).track;
      kept.delete(file.file);
      if (track === undefined) throw new Error('the track is gone');
      work.signal?.throwIfAborted();
      const analysis = parts.analyse(track, { ...options, signal: work.signal });
      return { analysis, profiles: profilesOf(track, analysis) };
    },
  };
}

function profilesOf(track: Track, analysis: Analysis): readonly (RunProfile | undefined)[] {
  if (analysis.takeoffs.length === 0) return [];
  const columns = columnsOf(deriveMotion(track).motion, track);
  return analysis.takeoffs.map((takeoff) =>
    columns === undefined || takeoff.liftoff === undefined ? undefined : profileOf(takeoffCurve(columns, takeoff)),
  );
}
