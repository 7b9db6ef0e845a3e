import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatDate, formatDirection, formatList } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Analysis, AnalysisOptions, EventOverride } from '../analysis.ts';
import type { AnalysedFlight } from '../compare/flight.ts';
import type { ComparisonResult } from '../compare/result.ts';
import { decide, type DecisionResult } from '../decision/index.ts';
import { eventFileName, parseEventFile, type RecordedSpan } from '../event-file/index.ts';
import { furtherFiles, furtherIdentity } from '../recordings/index.ts';
import { type FlightEntry, type ParsedSpec, parseSpec, type Spec, withDate } from '../spec/index.ts';
import { engineVersion } from '../version.ts';
import type { ByteSource, Work, World } from '../world.ts';
import { type BenchFile, benchHere, type BenchParts, type Workbench } from './bench.ts';
import { decodeResult, encodeResult, type ResultCache } from './cache.ts';
import { findTracks } from './find-tracks.ts';
import { type ContentHash, hashOf, sha256OfText } from './hash.ts';
import { joinOverrides, resolveOverrides } from './overrides.ts';
import type { RunProfile } from './run-profile.ts';

/** The three steps between a spec and its answer; a test may put others in their place. */
export interface EngineParts extends BenchParts {
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
  /** Where recordings are worked on; in this thread if not given. */
  readonly bench?: Workbench;
}

export interface EvaluatedFlight extends AnalysedFlight {
  /** One for each take-off of the analysis that could be drawn, else undefined. */
  readonly profiles: readonly (RunProfile | undefined)[];
  readonly hash?: ContentHash;
  readonly sizeBytes?: number;
  /** SHA-256 of the file of corrected events beside the recording, where there is one. */
  readonly correctionsSha256?: string;
  /** Further recordings of the flight that could be opened, joined or not. */
  readonly further?: readonly (ContentHash & { readonly file: string; readonly sizeBytes: number })[];
}

/** Where an answer came from, so that it can be had again. */
export interface Provenance {
  readonly engineVersion: string;
  readonly specFile: string;
  readonly specSha256: string;
  readonly recordings: readonly (ContentHash & {
    readonly file: string;
    readonly sizeBytes: number;
    readonly correctionsSha256?: string;
    /** Of a further recording of a flight: the recording that is named first. */
    readonly ofFlight?: string;
  })[];
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
  const bench = request.bench ?? benchHere(parts, world);
  const flights = await evaluateAll(tracks.entries, { ...request, bench }, parsed);
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
      ...sameTime(flights),
      ...result.problems,
    ],
    provenance: {
      ...provenance,
      recordings: flights.flatMap(({ hash, file, sizeBytes, correctionsSha256, further }) =>
        hash === undefined || sizeBytes === undefined
          ? []
          : [
              { ...hash, file, sizeBytes, ...(correctionsSha256 === undefined ? {} : { correctionsSha256 }) },
              ...(further ?? []).map((one) => ({ ...one, ofFlight: file })),
            ],
      ),
    },
  };
}

/** Evaluates flights in the order of the spec, as many at once as the bench has places. */
async function evaluateAll(
  entries: readonly FlightEntry[],
  request: EvaluationRequest & { readonly bench: Workbench },
  parsed: ParsedSpec,
): Promise<readonly EvaluatedFlight[]> {
  const { work = {}, bench } = request;
  const flights: EvaluatedFlight[] = [];
  const done = entries.map(() => 0);
  let next = 0;
  const place = async (): Promise<void> => {
    for (let index = next++; index < entries.length; index = next++) {
      work.signal?.throwIfAborted();
      const onProgress = (fraction: number): void => {
        done[index] = Math.max(done[index], fraction);
        work.onProgress?.(done.reduce((sum, part) => sum + part, 0) / entries.length);
      };
      flights[index] = await evaluateFlight(entries[index], { ...request, work: { ...work, onProgress } }, parsed);
      onProgress(1);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, Math.min(bench.atOnce, entries.length)) }, place));
  return flights;
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

/** Two recordings of one aeroplane that overlap by more than this are of one flight (or one has a wrong clock). */
const leastTogetherS = 60;

/** One flight in two entries would count twice, and its scatter would seem smaller than it is. */
function sameTime(flights: readonly EvaluatedFlight[]): Problem[] {
  const spans = flights.flatMap(({ entry, file, analysis }) =>
    analysis === undefined ? [] : [{ entry, file, ...analysis.recording }],
  );
  const problems: Problem[] = [];
  spans.sort((a, b) => a.startS - b.startS);
  for (const [index, later] of spans.entries()) {
    const earlier = spans
      .slice(0, index)
      .find(({ endS, startS }) => Math.min(endS, later.endS) - Math.max(startS, later.startS) > leastTogetherS);
    if (earlier === undefined) continue;
    problems.push({
      code: 'recording-same-time',
      severity: 'warning',
      message: `"${later.file}" was recorded at the same time as "${earlier.file}": one flight in two entries counts twice. If it is one, name the second under "also-recorded-by" of the first.`,
      at: later.entry.at,
    });
  }
  return problems;
}

async function evaluateFlight(
  written: FlightEntry,
  request: EvaluationRequest & { readonly bench: Workbench },
  parsed: ParsedSpec,
): Promise<EvaluatedFlight> {
  const { world, specPath, work = {}, cache, bench } = request;
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
  const further = await hashesOf(written, request);
  const identity = {
    hash,
    sizeBytes: source.sizeBytes,
    contentHash: hash.sha256,
    ...(further.length === 0 ? {} : { further }),
  };
  try {
    const { csv, date } = written;
    const benchFile: BenchFile = {
      file,
      specPath,
      csv,
      date,
      ...(written.further === undefined ? {} : { further: written.further }),
    };
    const others =
      written.further === undefined
        ? {}
        : {
            further: furtherIdentity(written.further),
            hashes: further.map(({ file: name, sha256 }) => [name, sha256]),
          };
    const readKey = await keyOf('reading', hash.sha256, { csv, date, file, ...others });
    const reading = await remembered(cache, readKey, () => bench.read(benchFile, work));
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
    const otherDay = notItsDay(written, reading.startS);
    const { startS, endS, films } = reading;
    const corrected = await overridesOf(dated, { startS, endS, file, ...(films && { films }) }, request);
    const entry: FlightEntry = { ...dated, overrides: corrected.overrides };
    const options = analysisOptions(entry, parsed.spec);
    const analyseKey = await keyOf('analysis', hash.sha256, { options, csv, date, file, ...others });
    const { analysis, profiles } = await remembered(cache, analyseKey, () => bench.analyse(benchFile, options, work));
    return {
      entry,
      file,
      ...identity,
      ...(corrected.sha256 === undefined ? {} : { correctionsSha256: corrected.sha256 }),
      format: reading.format,
      analysis,
      profiles,
      day,
      problems: [
        ...reading.problems.map((problem) => whereNamed(problem, written)),
        ...otherDay,
        ...corrected.problems,
        ...analysis.problems,
        ...notItsRunway(entry, analysis),
      ].map((problem) => placed(problem, file)),
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

/** Fingerprints of the further recordings of a flight; one that cannot be opened is told when it is read. */
async function hashesOf(
  { further }: FlightEntry,
  { world, specPath }: EvaluationRequest,
): Promise<NonNullable<EvaluatedFlight['further']>> {
  const hashes = await Promise.all(
    furtherFiles(further).map(async ({ file }) => {
      try {
        const source = await world.open(file, specPath);
        return [{ ...(await hashOf(source)), file, sizeBytes: source.sizeBytes }];
      } catch {
        return [];
      }
    }),
  );
  return hashes.flat();
}

/** A day by the local calendar differs from the UTC date by one at most; more is a slip that brings another day's weather. */
function notItsDay({ track: file, date, at }: FlightEntry, startS: number): Problem[] {
  if (date === undefined) return [];
  const daysApart = Math.abs(Math.floor(startS / 86_400) - Date.parse(`${date}T00:00:00Z`) / 86_400_000);
  if (!(daysApart > 1)) return [];
  return [
    {
      code: 'track-other-day',
      severity: 'warning',
      message: `"${file}" was recorded on ${formatDate(startS)} (UTC), but ${date} is written as its day: is it the right one?`,
      at,
    },
  ];
}

/** Recorded direction and true heading of a runway agree within a few degrees; the next runway is 10 degrees away or more. */
const sameRunwayRad = (30 * Math.PI) / 180;

/** Every flown take-off away from the heading written: the runway of another strip has another slope and elevation. */
function notItsRunway(entry: FlightEntry, analysis: Analysis): Problem[] {
  const written = entry.conditions.runway?.headingRad;
  const flown = analysis.takeoffs.filter(({ outcome }) => outcome !== 'rejected');
  if (written === undefined || flown.length === 0) return [];
  const off = (headingRad: number): number => Math.acos(Math.cos(headingRad - written));
  if (flown.some(({ headingRad }) => off(headingRad) <= sameRunwayRad)) return [];
  const heading = formatDirection;
  return [
    {
      code: 'track-other-runway',
      severity: 'warning',
      message: `The take-off of "${entry.track}" was in the direction of ${heading(flown[0].headingRad)}, but the runway written has a heading of ${heading(written)}: is it the right runway? Its slope and elevation count.`,
      at: entry.at,
    },
  ];
}

/** A problem of the analysis may not know in which file it is. */
function placed(problem: Problem, file: string): Problem {
  return problem.at?.file === undefined ? { ...problem, at: { ...problem.at, file } } : problem;
}

/** That a further recording was not joined is told where it is named. */
function whereNamed(problem: Problem, { further }: FlightEntry): Problem {
  if (!/^(?:recording|chapters)-/.test(problem.code)) return problem;
  const named = furtherFiles(further).find(({ file }) => file === problem.at?.file);
  return named?.at === undefined ? problem : { ...problem, at: named.at };
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
  span: RecordedSpan,
  { world, specPath }: EvaluationRequest,
): Promise<{
  readonly overrides: readonly EventOverride[];
  readonly problems: readonly Problem[];
  /** Of the event file, where there is one. */
  readonly sha256?: string;
}> {
  const ofSpec = resolveOverrides(entry, span, entry.track);
  const name = eventFileName(entry.track);
  let text: string;
  try {
    const source = await world.open(name, specPath);
    text = new TextDecoder().decode(await source.read(0, source.sizeBytes));
  } catch {
    return ofSpec;
  }
  const ofFile = parseEventFile(text, name, span);
  return {
    overrides: joinOverrides(ofSpec.overrides, ofFile.overrides),
    problems: [...ofSpec.problems, ...ofFile.problems],
    sha256: await sha256OfText(text),
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
