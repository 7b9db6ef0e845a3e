import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatDate, formatList } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import { takeoffCurve } from '../../../shared/run-curve.ts';
import type { Analysis, AnalysisOptions, EventOverride } from '../analysis.ts';
import type { AnalysedFlight } from '../compare/flight.ts';
import type { ComparisonResult } from '../compare/result.ts';
import { decide, type DecisionResult } from '../decision/index.ts';
import { eventFileName, parseEventFile } from '../event-file/index.ts';
import type { ReadOptions, ReadResult } from '../readers/reader.ts';
import { type FlightEntry, type ParsedSpec, parseSpec, type Spec, withDate } from '../spec/index.ts';
import { deriveMotion } from '../track/derive-motion.ts';
import type { Track } from '../track/track.ts';
import { engineVersion } from '../version.ts';
import { columnsOf } from '../view/index.ts';
import type { ByteSource, Work, World } from '../world.ts';
import { decodeResult, encodeResult, type ResultCache } from './cache.ts';
import { findTracks } from './find-tracks.ts';
import { type ContentHash, hashOf, sha256OfText } from './hash.ts';
import { joinOverrides, resolveOverrides } from './overrides.ts';
import { profileOf, type RunProfile } from './run-profile.ts';

/** The three steps between a spec and its answer; a test may put others in their place. */
export interface EngineParts {
  readonly readRecording: (source: ByteSource, options: ReadOptions) => Promise<ReadResult>;
  readonly analyse: (track: Track, options: AnalysisOptions) => Analysis;
  readonly compare: (spec: Spec, flights: readonly AnalysedFlight[]) => ComparisonResult;
}

export interface EvaluationRequest {
  readonly specText: string;
  /** Path of the spec as the world knows it: tracks are relative to it. */
  readonly specPath: string;
  readonly world: World;
  readonly work?: Work;
  readonly cache?: ResultCache;
  /** Display units instead of those of the spec. */
  readonly units?: DisplayUnits;
}

export interface EvaluatedFlight extends AnalysedFlight {
  /** One for each take-off of the analysis that could be drawn, else undefined. */
  readonly profiles: readonly (RunProfile | undefined)[];
  readonly hash?: ContentHash;
  readonly sizeBytes?: number;
}

/** Where an answer came from, so that it can be had again. */
export interface Provenance {
  readonly engineVersion: string;
  readonly specFile: string;
  readonly specSha256: string;
  readonly recordings: readonly (ContentHash & { readonly file: string; readonly sizeBytes: number })[];
}

export interface Evaluation {
  /** With the tracks expanded and the conditions of each recording's day merged in. Absent when the spec has errors. */
  readonly spec?: Spec;
  readonly parsed: ParsedSpec;
  readonly flights: readonly EvaluatedFlight[];
  /** Absent when the spec has errors. */
  readonly result?: ComparisonResult;
  /** Loading, range, candidates, missions and plan, where the spec asks for them. */
  readonly decision?: DecisionResult;
  /** Of the spec, the recordings and the comparison, in this order. */
  readonly problems: readonly Problem[];
  readonly provenance: Provenance;
}

/** What of a reading is needed without the track itself. */
interface Reading {
  readonly format?: ReadResult['format'];
  readonly problems: readonly Problem[];
  readonly startS?: number;
  readonly endS?: number;
  readonly videoStartS?: number;
}

interface Analysed {
  readonly analysis: Analysis;
  readonly profiles: readonly (RunProfile | undefined)[];
}

/**
 * From a spec to its answer: reads and analyses each recording, then compares. A recording that fails is reported and
 * left out; it does not sink the rest. Rejects only when `work.signal` aborts. The same inputs give the same result.
 */
export async function evaluate(request: EvaluationRequest, parts: EngineParts): Promise<Evaluation> {
  const { specText, specPath, world, work = {} } = request;
  const specFile = specPath.split(/[\\/]/).pop() ?? specPath;
  const parsed = parseSpec(specText, specPath);
  const provenance = { engineVersion, specFile, specSha256: await sha256OfText(specText) };
  const { spec, shared } = parsed;
  if (spec === undefined || shared === undefined) {
    return { parsed, flights: [], problems: parsed.problems, provenance: { ...provenance, recordings: [] } };
  }
  const tracks = await findTracks(spec.flights, world, specPath);
  const flights: EvaluatedFlight[] = [];
  for (const [index, entry] of tracks.entries.entries()) {
    work.signal?.throwIfAborted();
    const onProgress = (fraction: number): void => work.onProgress?.((index + fraction) / tracks.entries.length);
    flights.push(await evaluateFlight(entry, { ...request, work: { ...work, onProgress } }, parsed, parts));
    onProgress(1);
  }
  work.signal?.throwIfAborted();
  const report = request.units === undefined ? spec.report : { ...spec.report, units: request.units };
  const whole: Spec = { ...spec, report, flights: flights.map((flight) => flight.entry) };
  const result = parts.compare(whole, flights);
  const decision = whole.decision === undefined ? undefined : decide(whole, result, flights);
  return {
    spec: whole,
    parsed,
    flights,
    result,
    ...(decision === undefined ? {} : { decision }),
    problems: [
      ...parsed.problems,
      ...tracks.problems,
      ...unusedDays(parsed, flights, specPath),
      ...flights.flatMap((flight) => flight.problems),
      ...result.problems,
    ],
    provenance: {
      ...provenance,
      recordings: flights.flatMap(({ hash, file, sizeBytes }) =>
        hash === undefined || sizeBytes === undefined ? [] : [{ ...hash, file, sizeBytes }],
      ),
    },
  };
}

/** A day that no flight belongs to is most often a slip of the date, and its notes would silently count for nothing. */
function unusedDays(parsed: ParsedSpec, flights: readonly EvaluatedFlight[], specPath: string): Problem[] {
  const used = new Set(flights.map(({ entry, day }) => entry.day ?? day));
  const unused = Object.keys(parsed.shared?.days ?? {}).filter((day) => !used.has(day));
  if (unused.length === 0) return [];
  return [
    {
      code: 'spec-unused',
      severity: 'warning',
      message: `No recording belongs to ${formatList(unused.map((day) => `"${day}"`))} under "days". A recording is given to the UTC date of its first fix, unless its entry has "day".`,
      at: { file: specPath },
    },
  ];
}

async function evaluateFlight(
  written: FlightEntry,
  request: EvaluationRequest,
  parsed: ParsedSpec,
  parts: EngineParts,
): Promise<EvaluatedFlight> {
  const { world, specPath, work = {}, cache } = request;
  const file = written.track;
  const failed = (problem: Problem, rest: Partial<EvaluatedFlight> = {}): EvaluatedFlight => ({
    entry: written,
    file,
    profiles: [],
    day: written.date,
    ...rest,
    problems: [...(rest.problems ?? []), problem],
  });
  let source: ByteSource;
  let hash: ContentHash;
  try {
    source = await world.open(file, specPath);
    hash = await hashOf(source);
  } catch {
    return failed({
      code: 'track-not-found',
      severity: 'error',
      message: `"${file}" cannot be opened: is the name right, relative to the spec?`,
      at: written.at,
    });
  }
  const identity = { hash, sizeBytes: source.sizeBytes, contentHash: hash.sha256 };
  try {
    // The track itself is read at most once, and not at all when both steps are known already.
    let track: Track | undefined;
    const read = async (): Promise<Reading> => {
      const options: ReadOptions = {
        ...work,
        ...(written.csv === undefined ? {} : { csv: written.csv }),
        ...(written.date === undefined ? {} : { date: written.date }),
      };
      const result = await parts.readRecording(source, options);
      track = result.track;
      return {
        format: result.format,
        problems: result.problems,
        startS: track?.timeS[0],
        endS: track?.timeS[track.timeS.length - 1],
        videoStartS: track?.videoStartS,
      };
    };
    const readKey = await keyOf('reading', hash.sha256, { csv: written.csv, date: written.date, file });
    const reading = await remembered(cache, readKey, read);
    if (reading.startS === undefined || reading.endS === undefined) {
      const reason: Problem = {
        code: 'track-unusable',
        severity: 'error',
        message: `"${file}" holds no usable track.`,
        at: written.at,
      };
      return failed(reason, { ...identity, format: reading.format, problems: reading.problems });
    }
    const day = written.date ?? formatDate(reading.startS);
    const dated = parsed.shared === undefined ? written : withDate(written, parsed.shared, day);
    const corrected = await overridesOf(dated, { ...reading, startS: reading.startS, endS: reading.endS }, request);
    const entry: FlightEntry = { ...dated, overrides: corrected.overrides };
    const options = analysisOptions(entry, parsed.spec);
    const analyse = async (): Promise<Analysed> => {
      if (track === undefined) await read();
      if (track === undefined) throw new Error('the track is gone');
      work.signal?.throwIfAborted();
      const analysis = parts.analyse(track, { ...options, signal: work.signal });
      return { analysis, profiles: profilesOf(track, analysis) };
    };
    const analyseKey = await keyOf('analysis', hash.sha256, { options, csv: written.csv, date: written.date, file });
    const { analysis, profiles } = await remembered(cache, analyseKey, analyse);
    return {
      entry,
      file,
      ...identity,
      format: reading.format,
      analysis,
      profiles,
      day,
      problems: [...reading.problems, ...corrected.problems, ...analysis.problems].map((problem) =>
        placed(problem, file),
      ),
    };
  } catch (error) {
    work.signal?.throwIfAborted();
    return failed(
      {
        code: 'track-failed',
        severity: 'error',
        message: `"${file}" could not be analysed: ${error instanceof Error ? error.message : String(error)}.`,
        at: written.at,
      },
      identity,
    );
  }
}

/** A problem of the analysis may not know in which file it is. */
function placed(problem: Problem, file: string): Problem {
  return problem.at?.file === undefined ? { ...problem, at: { ...problem.at, file } } : problem;
}

async function keyOf(step: string, contentHash: string, options: unknown): Promise<string> {
  return `${step}-${await sha256OfText(encodeResult([engineVersion, contentHash, options]))}`;
}

async function remembered<T>(cache: ResultCache | undefined, key: string, work: () => Promise<T>): Promise<T> {
  const kept = await cache?.get(key).catch(() => undefined);
  const known = kept === undefined ? undefined : (decodeResult(kept) as T | undefined);
  if (known !== undefined) return known;
  const fresh = await work();
  // A cache that cannot keep is no reason to lose the answer.
  await cache?.put(key, encodeResult(fresh)).catch(() => undefined);
  return fresh;
}

async function overridesOf(
  entry: FlightEntry,
  span: { readonly startS: number; readonly endS: number; readonly videoStartS?: number },
  { world, specPath }: EvaluationRequest,
): Promise<{ readonly overrides: readonly EventOverride[]; readonly problems: readonly Problem[] }> {
  const ofSpec = resolveOverrides(entry, span, entry.track);
  const name = eventFileName(entry.track);
  let text: string;
  try {
    const source = await world.open(name, specPath);
    text = new TextDecoder().decode(await source.read(0, source.sizeBytes));
  } catch {
    return ofSpec;
  }
  const ofFile = parseEventFile(text, name);
  return {
    overrides: joinOverrides(ofSpec.overrides, ofFile.overrides),
    problems: [...ofSpec.problems, ...ofFile.problems],
  };
}

/** What the notes tell the analysis: heights that are asked for, corrected events, slope, and headwind. */
function analysisOptions(entry: FlightEntry, spec: Spec | undefined): AnalysisOptions {
  const asked = (spec?.questions.ask ?? []).flatMap((question) =>
    question.heightM === undefined ? [] : [question.heightM],
  );
  const usual = [15.24, 30.48];
  const { wind, runway } = entry.conditions;
  const headingRad = runway?.headingRad;
  return {
    screenHeightsM: [...new Set([...usual, ...asked])].sort((a, b) => a - b),
    ...(entry.overrides.length === 0 ? {} : { overrides: entry.overrides }),
    ...(runway?.slope === undefined ? {} : { runwaySlope: runway.slope.value }),
    ...(wind === undefined || headingRad === undefined
      ? {}
      : { headwindMps: { value: wind.speedMps * Math.cos(wind.fromRad - headingRad), sigma: wind.sigmaMps } }),
  };
}

function profilesOf(track: Track, analysis: Analysis): readonly (RunProfile | undefined)[] {
  if (analysis.takeoffs.length === 0) return [];
  const columns = columnsOf(deriveMotion(track).motion, track);
  return analysis.takeoffs.map((takeoff) =>
    columns === undefined || takeoff.liftoff === undefined ? undefined : profileOf(takeoffCurve(columns, takeoff)),
  );
}
