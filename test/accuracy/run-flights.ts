import type { Analysis, AnalysisOptions } from '../../src/engine/analysis.ts';
import type { ReadOptions, ReadResult } from '../../src/engine/readers/reader.ts';
import type { Track } from '../../src/engine/track/track.ts';
import { type ByteSource, bytesInMemory } from '../../src/engine/world.ts';
import { Random } from '../synth/random.ts';
import { formatsOf, type ReceiverName, receiverKinds, simulatedFlight, writeRecording } from '../synth/index.ts';
import { blindOfRecording, blindOfShared } from './blind-spots.ts';
import { knownFromShared, knownFromSimulation, type SharedCampaign } from './known-answers.ts';
import { tracksOf } from './memory-world.ts';
import { scoreFlight } from './score-flight.ts';
import type { Tally } from './tally.ts';

/** The two steps of the engine that are judged here. */
export interface FlightEngine {
  readonly readRecording: (source: ByteSource, options?: ReadOptions) => Promise<ReadResult>;
  readonly analyse: (track: Track, options?: AnalysisOptions) => Analysis;
}

/** Screen heights asked for: those whose truth is known. */
const screenHeightsM = [15.24, 30.48];

export interface FlightRun {
  readonly flights: number;
  readonly recordingSeconds: number;
  readonly readMs: number;
  readonly analyseMs: number;
}

/** Analyses bytes as the command would, without any note of the pilot. */
async function analyseBytes(
  engine: FlightEngine,
  name: string,
  bytes: Uint8Array,
  tally: Tally,
  spent: { readMs: number; analyseMs: number },
): Promise<Analysis | undefined> {
  const started = performance.now();
  try {
    const { track, problems } = await engine.readRecording(bytesInMemory(name, bytes), {});
    const read = performance.now();
    spent.readMs += read - started;
    if (!track) {
      tally.count('recording opened', 'all', 'missed');
      tally.notes.push(`no track in ${name}: ${problems.map((problem) => problem.message).join(' ')}`);
      return undefined;
    }
    const analysis = engine.analyse(track, { screenHeightsM });
    spent.analyseMs += performance.now() - read;
    tally.count('recording opened', 'all', 'found');
    return analysis;
  } catch (error) {
    tally.count('recording opened', 'all', 'missed');
    tally.notes.push(`failed on ${name}: ${error instanceof Error ? error.message : String(error)}`);
    return undefined;
  }
}

/** Flights drawn at random, `each` for every kind of recorder. */
export async function runSimulatedFlights(
  engine: FlightEngine,
  tally: Tally,
  seed: string,
  each: number,
  until: () => boolean,
): Promise<FlightRun> {
  const spent = { readMs: 0, analyseMs: 0 };
  let flights = 0;
  let recordingSeconds = 0;
  for (let i = 0; i < each; i++) {
    for (const receiver of Object.keys(receiverKinds) as ReceiverName[]) {
      if (until()) return { flights, recordingSeconds, ...spent };
      const id = `${seed}/${receiver}/${i}`;
      const flight = simulatedFlight(id, { receiver });
      const format = new Random(id).pick(formatsOf[receiver]);
      const file = writeRecording(flight.recording, format);
      const name = `${id} ${format} (${flight.name}).${file.extension}`;
      const analysis = await analyseBytes(engine, name, file.bytes, tally, spent);
      flights++;
      recordingSeconds += flight.truth.phases.at(-1)!.endS - flight.truth.epochS;
      if (!analysis) continue;
      const known = knownFromSimulation({ ...flight, name }, receiver);
      // Recorders of whole seconds keep what they are called, so that rates are compared like with like.
      scoreFlight(
        analysis,
        format === 'fit' ? { ...known, group: 'handheld (FIT)' } : known,
        blindOfRecording(flight.recording),
        tally,
      );
    }
  }
  return { flights, recordingSeconds, ...spent };
}

export async function runSharedFlights(
  engine: FlightEngine,
  tally: Tally,
  campaign: SharedCampaign,
): Promise<FlightRun> {
  const spent = { readMs: 0, analyseMs: 0 };
  const files = tracksOf(campaign.folder);
  let recordingSeconds = 0;
  let flights = 0;
  for (const flight of campaign.truth.flights) {
    const bytes = files.get(flight.file);
    if (!bytes) throw new Error(`${flight.file} is named in truth.json and absent`);
    const analysis = await analyseBytes(engine, flight.file, bytes, tally, spent);
    flights++;
    const last = flight.phases[flight.phases.length - 1];
    recordingSeconds += last.t1;
    if (analysis) scoreFlight(analysis, knownFromShared(flight), blindOfShared(flight), tally);
  }
  return { flights, recordingSeconds, ...spent };
}
