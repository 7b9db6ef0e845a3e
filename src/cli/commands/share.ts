import { dirname, join, relative, resolve } from 'node:path';
import { type EngineParts, findTracks, hashOf } from '../../engine/evaluate/index.ts';
import {
  parsePlace,
  readRadius,
  type RecordingToShare,
  secretOf,
  seedOf,
  type Shared,
  shareChoices,
  shareRecordings,
  whatRemains,
} from '../../engine/share/index.ts';
import { readFlight } from '../../engine/recordings/index.ts';
import { type FlightEntry, parseSpec, type ShareSettings } from '../../engine/spec/index.ts';
import { formatCount } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import { exitCodes } from '../exit-codes.ts';
import { CommandFailure, type CommandIo } from '../io.ts';
import { progressOn } from '../progress.ts';
import { readSpec } from '../read-spec.ts';
import { problemJson, problemLines } from '../show-problems.ts';
import { listTracks } from '../track-list.ts';
import { writeNew } from '../write-file.ts';

/** As written on the command line; each instead of what the spec says. */
export interface ShareWords {
  readonly json: boolean;
  readonly verbose: boolean;
  readonly output?: string;
  readonly cut?: string;
  readonly around: readonly string[];
  readonly heights?: string;
  readonly dates?: string;
  readonly format?: string;
  readonly secret?: string;
}

const isSpecName = /\.modproof\.ya?ml$/i;

function oneOf<const W extends string>(
  option: string,
  written: string | undefined,
  words: readonly W[],
): W | undefined {
  if (written === undefined) return undefined;
  const found = words.find((word) => word === written);
  if (found === undefined)
    throw new CommandFailure(`--${option} ${written}: expected ${words.join(' or ')}.`, exitCodes.usage);
  return found;
}

function placesOf(words: readonly string[]): Pick<ShareSettings, 'around'> {
  if (words.length === 0) return {};
  const around = words.map((written) => {
    const place = parsePlace(written);
    if (typeof place === 'string') throw new CommandFailure(`--around: ${place}`, exitCodes.usage);
    return place;
  });
  return { around };
}

function radiusOf(written: string | undefined): Pick<ShareSettings, 'places' | 'radiusM'> {
  if (written === undefined) return {};
  const radiusM = readRadius(written);
  if (typeof radiusM === 'string') throw new CommandFailure(`--cut ${written}: ${radiusM}`, exitCodes.usage);
  return { places: 'cut', radiusM };
}

/** What the command line says, over what the spec says. */
function settingsOf(words: ShareWords, spec: ShareSettings | undefined): ShareSettings {
  const heights = oneOf('heights', words.heights, ['kept', 'relative']);
  const dates = oneOf('dates', words.dates, ['kept', 'moved']);
  const format = oneOf('format', words.format, ['gpx', 'csv']);
  return {
    ...spec,
    ...radiusOf(words.cut),
    ...placesOf(words.around),
    ...(heights === undefined ? {} : { heights }),
    ...(dates === undefined ? {} : { dates }),
    ...(format === undefined ? {} : { format }),
    ...(words.secret === undefined ? {} : { secret: words.secret }),
  };
}

interface ToRead {
  /** As the world opens it. */
  readonly path: string;
  /** A spec, where the path is relative to it. */
  readonly from?: string;
  readonly entry?: FlightEntry;
}

interface Asked {
  readonly files: readonly ToRead[];
  readonly settings: ShareSettings;
  /** Absolute. */
  readonly folder: string;
  readonly problems: readonly Problem[];
}

async function askedFor(words: readonly string[], options: ShareWords, io: CommandIo): Promise<Asked> {
  const [spec] = words.filter((word) => isSpecName.test(word));
  if (spec === undefined) {
    const files = (await listTracks(words, io)).map(({ file }) => ({ path: file }));
    return {
      files,
      settings: settingsOf(options, undefined),
      folder: resolve(io.workingFolder, options.output ?? 'shared'),
      problems: [],
    };
  }
  if (words.length > 1) throw new CommandFailure('modproof share takes recordings, or one spec.', exitCodes.usage);
  const parsed = parseSpec(await readSpec(spec, io), spec);
  if (parsed.spec === undefined) {
    io.tell(problemLines(parsed.problems, true, spec));
    throw new CommandFailure(`${spec} has errors: nothing was written.`, exitCodes.problems);
  }
  const found = await findTracks(parsed.spec.flights, io.world, spec);
  const besideSpec = dirname(resolve(io.workingFolder, spec));
  return {
    files: found.entries.map((entry) => ({ path: entry.track, from: spec, entry })),
    settings: settingsOf(options, parsed.spec.share),
    folder:
      options.output === undefined
        ? resolve(besideSpec, parsed.spec.share?.folder ?? 'shared')
        : resolve(io.workingFolder, options.output),
    problems: found.problems,
  };
}

interface Read {
  readonly recordings: readonly RecordingToShare[];
  readonly hashes: readonly string[];
  readonly problems: readonly Problem[];
}

async function readAll(files: readonly ToRead[], parts: EngineParts, io: CommandIo): Promise<Read> {
  const recordings: RecordingToShare[] = [];
  const hashes: string[] = [];
  const problems: Problem[] = [];
  const progress = progressOn(io);
  for (const [index, { path, from, entry }] of files.entries()) {
    io.signal.throwIfAborted();
    const failed = (code: string, message: string): void => {
      problems.push({ code, severity: 'error', message, at: { file: path } });
    };
    try {
      const source = await io.world.open(path, from);
      const hash = await hashOf(source);
      const { csv, date, further } = entry ?? {};
      // A flight in several recordings is given away as one, with the channels of all of them.
      const flight = { file: path, ...(csv && { csv }), ...(date && { date }), ...(further && { further }) };
      const read = await readFlight(flight, from, parts.readRecording, io.world, {
        signal: io.signal,
        onProgress: (fraction) => progress.show((index + fraction) / files.length, path),
      });
      problems.push(...read.problems.map((problem) => ({ ...problem, at: { file: path, ...problem.at } })));
      if (read.track === undefined) failed('track-unusable', 'This file holds no usable track.');
      else {
        recordings.push({ file: path, track: read.track });
        hashes.push(hash.sha256);
      }
    } catch (error) {
      io.signal.throwIfAborted();
      failed('track-not-found', `This file cannot be read: ${error instanceof Error ? error.message : String(error)}.`);
    }
  }
  progress.clear();
  return { recordings, hashes, problems };
}

/** Refuses before anything is written when a name is taken; what appears meanwhile is not overwritten either. */
async function writeCopies(folder: string, shared: Shared, io: CommandIo): Promise<void> {
  const shown = relative(io.workingFolder, folder) || folder;
  const taken = await io.world.list(folder).catch(() => []);
  const stem = (name: string): string => name.replace(/\.[^.]*$/, '');
  const names = new Map(taken.map((path) => path.split('/').pop() ?? path).map((name) => [stem(name), name]));
  const refuse = (name: string): never => {
    throw new CommandFailure(
      `${join(shown, name)} exists and is not overwritten. Choose another folder: --output other-folder`,
      exitCodes.failed,
    );
  };
  // A flight-1.csv of another time beside a new flight-1.gpx would be taken for the same flight.
  for (const { name } of shared.copies) {
    const old = names.get(stem(name));
    if (old !== undefined) refuse(old);
  }
  for (const { name, text } of shared.copies) {
    io.signal.throwIfAborted();
    try {
      await writeNew(join(folder, name), text);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EEXIST') refuse(name);
      throw error;
    }
  }
}

/** Writes copies of recordings without their places. */
export async function shareCommand(
  words: readonly string[],
  options: ShareWords,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const asked = await askedFor(words, options, io);
  const read = await readAll(asked.files, parts, io);
  const problems = [...asked.problems, ...read.problems];
  io.tell(problemLines(problems, options.verbose, asked.files[0]?.from ?? asked.files[0]?.path ?? words[0]));
  if (read.recordings.length === 0)
    throw new CommandFailure('None of these could be read as a recording; nothing was written.', exitCodes.failed);
  const ofRecordings = asked.settings.secret === undefined;
  const secret = asked.settings.secret ?? (await secretOf(read.hashes));
  const how = shareChoices(asked.settings);
  const shared = shareRecordings(read.recordings, { ...how, seed: await seedOf(secret) });
  await writeCopies(asked.folder, shared, io);
  const remains = whatRemains(how);
  const shown = relative(io.workingFolder, asked.folder) || asked.folder;
  if (options.json) {
    const copies = shared.copies.map(({ of, name, remarks }) => ({ of, name, remarks }));
    const told = { folder: shown, copies, refused: shared.refused, remains, problems: problems.map(problemJson) };
    io.write(`${JSON.stringify(told, null, 2)}\n`);
  } else {
    for (const { of, name, remarks } of shared.copies) {
      io.write(`${join(shown, name)}  from ${of}\n${remarks.map((remark) => `  ${remark}\n`).join('')}`);
    }
    for (const { of, reason } of shared.refused) io.write(`${of}: not shared. ${reason}\n`);
    io.write(
      `\n${formatCount(shared.copies.length, 'copy', 'copies')} without places. What a determined reader can still find:\n`,
    );
    for (const sentence of remains) io.write(`- ${sentence}\n`);
    if (how.places === 'cut' && ofRecordings) {
      io.write(`\nTo cut the same circles next time: --secret ${secret} (keep it to yourself).\n`);
    }
  }
  const errors = problems.some(({ severity }) => severity === 'error') || shared.refused.length > 0;
  return shared.copies.length === 0 ? exitCodes.failed : errors ? exitCodes.problems : exitCodes.ok;
}
