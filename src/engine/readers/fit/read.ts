import { median } from '../../stats/sample.ts';
import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { fitChecksum } from './checksum.ts';
import type { FitMessage } from './decode.ts';
import { decodeFit } from './decode.ts';
import { GpsMetadata, gpsMetadataMessage } from './gps-metadata.ts';

/** A day at one record a second with all fields is 10 MB; more than this is no recording of a flight. */
const mostFileBytes = 256 * 1024 * 1024;

/** 1989-12-31T00:00:00Z, from which FIT counts, in Unix time. */
const fitEpochS = 631_065_600;

/** Degrees of one semicircle unit. */
const degreesPerSemicircle = 180 / 2 ** 31;

/** Global numbers of the messages that are used. */
const eventMessage = 21;
const recordMessage = 20;

/** Fields of a record. */
const field = {
  latitude: 0,
  longitude: 1,
  altitude: 2,
  speed: 6,
  compressedSpeedDistance: 8,
  gpsAccuracy: 31,
  verticalSpeed: 32,
  time128: 48,
  enhancedSpeed: 73,
  enhancedAltitude: 78,
} as const;

/** Reads the records of FIT files, also chained, unfinished and cut ones. */
export const fitReader: Reader = {
  format: 'fit',
  recognises: (head) => hasSignature(head, 0),
  read: readFit,
};

function hasSignature(bytes: Uint8Array, at: number): boolean {
  return (
    bytes.length >= at + 12 &&
    bytes[at] >= 12 &&
    bytes[at + 8] === 0x2e &&
    bytes[at + 9] === 0x46 &&
    bytes[at + 10] === 0x49 &&
    bytes[at + 11] === 0x54
  );
}

interface Records {
  readonly table: SampleTable;
  records: number;
  withPosition: number;
  readonly metadata: GpsMetadata;
  paused: boolean;
}

async function readFit(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  const contents: string[] = [];
  if (source.sizeBytes > mostFileBytes) {
    problems.error(
      'fit-too-large',
      `The file has ${source.sizeBytes} bytes; a FIT file of a flight has a few million.`,
    );
    return { format: 'fit', problems: problems.toArray(), contents };
  }
  const bytes = await source.read(0, source.sizeBytes);
  const metadata = new GpsMetadata();
  const found: Records = { table: new SampleTable(), records: 0, withPosition: 0, metadata, paused: false };
  const take = (message: FitMessage): void => takeMessage(message, found);
  let parts = 0;
  let at = 0;
  while (hasSignature(bytes, at)) {
    options.signal?.throwIfAborted();
    if (parts > 0) {
      found.table.breakHere();
      metadata.breakHere();
    }
    at = readPart(bytes, at, take, problems);
    parts++;
    options.onProgress?.(Math.min(1, at / bytes.length));
  }
  if (at < bytes.length && !problems.has('fit-cut')) {
    problems.warning('fit-bytes-behind', `${bytes.length - at} bytes behind the end of the recording were left out.`, {
      byte: at,
    });
  }
  if (parts > 1) contents.push(`${parts} FIT files chained in one.`);
  contents.push(describe(found));
  if (found.withPosition === 0 && metadata.positions === 0) {
    problems.error('fit-no-positions', noPositions(found));
    return { format: 'fit', problems: problems.toArray(), contents };
  }
  const assumptions = [
    'FIT does not state the datum of its altitudes; most recorders write heights above mean sea level.',
  ];
  let { table } = found;
  if (metadata.positions > found.withPosition) {
    const finer = metadata.table(fitEpochS);
    table = finer.table;
    assumptions.push(...finer.assumptions);
    contents.push(`Taken instead of them: ${metadata.positions} positions of the receiver itself (GPS metadata).`);
  }
  table.writtenUnits.set('latitude', degreesPerSemicircle);
  const track = buildTrack(table, { assumptions }, problems);
  return { format: 'fit', ...(track ? { track } : {}), problems: problems.toArray(), contents };
}

/** One file of a chain: header, messages, checksum. Answers where the next one begins. */
function readPart(bytes: Uint8Array, from: number, take: (message: FitMessage) => void, problems: ProblemList): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const dataByte = from + bytes[from];
  const declaredBytes = view.getUint32(from + 4, true);
  const dataEnd = dataByte + declaredBytes;
  const unfinished = declaredBytes === 0 || dataEnd + 2 > bytes.length;
  const end = declaredBytes === 0 ? bytes.length : Math.min(dataEnd, bytes.length);
  if (!unfinished && fitChecksum(bytes.subarray(from, dataEnd + 2)) !== 0) {
    problems.warning('fit-checksum', 'The checksum of the file is wrong: some of its values may be damaged.', {
      byte: dataEnd,
    });
  }
  const stop = decodeFit(bytes, Math.min(dataByte, end), end, take);
  if (unfinished || stop) {
    const why = unfinished ? 'the recorder did not finish it, or the copy was cut off' : 'it is damaged';
    const where = stop ? `: ${stop.reason}` : '';
    problems.warning('fit-cut', `The recording is incomplete (${why}${where}). What could be read is used.`, {
      byte: stop?.byte ?? end,
    });
  }
  return unfinished ? bytes.length : dataEnd + 2;
}

function takeMessage(message: FitMessage, found: Records): void {
  if (message.globalNumber === gpsMetadataMessage) found.metadata.take(message, degreesPerSemicircle);
  // Event 0 is the timer; type 0 starts it, 1 and 4 stop it.
  if (message.globalNumber === eventMessage && message.field(0) === 0) {
    found.paused ||= message.field(1) === 1 || message.field(1) === 4;
  }
  if (message.globalNumber !== recordMessage) return;
  found.records++;
  const { table } = found;
  if (found.paused) {
    table.breakHere();
    found.metadata.breakHere();
  }
  found.paused = false;
  const latitude = message.field(field.latitude);
  const longitude = message.field(field.longitude);
  const placed = latitude !== undefined && longitude !== undefined;
  if (placed) found.withPosition++;
  const timeS = message.timestamp + fitEpochS + (message.field(field.time128) ?? 0) / 128;
  const row = table.add(
    timeS,
    placed ? latitude * degreesPerSemicircle : Number.NaN,
    placed ? longitude * degreesPerSemicircle : Number.NaN,
  );
  const altitude = message.field(field.enhancedAltitude) ?? message.field(field.altitude);
  if (altitude !== undefined) table.set('altitude-unknown', row, altitude / 5 - 500);
  table.set('groundSpeedMps', row, speedOf(message));
  table.set('verticalSpeedMps', row, (message.field(field.verticalSpeed) ?? Number.NaN) / 1000);
  table.set('horizontalSigmaM', row, message.field(field.gpsAccuracy) ?? Number.NaN);
}

function speedOf(message: FitMessage): number {
  const stated = message.field(field.enhancedSpeed) ?? message.field(field.speed);
  if (stated !== undefined) return stated / 1000;
  const packed = message.values(field.compressedSpeedDistance);
  if (packed.length !== 3 || packed.every((byte) => byte === 0xff)) return Number.NaN;
  return (packed[0] | ((packed[1] & 0x0f) << 8)) / 100;
}

function describe(found: Records): string {
  const time = found.table.timeS.view(found.table.rows);
  const steps: number[] = [];
  for (let i = 1; i < time.length; i++) if (time[i] > time[i - 1]) steps.push(time[i] - time[i - 1]);
  const usual = steps.length > 0 ? median(steps) : 0;
  const longer = steps.filter((step) => step > 1.5 * usual).length;
  // A recorder that writes only when something changes leaves many long steps, not a few gaps.
  const uneven = longer > steps.length / 10 ? ', at uneven steps (the recorder leaves points out)' : '';
  const every = steps.length > 0 ? ` every ${usual} s` : '';
  return `${found.records} records${every}, ${found.withPosition} with a position${uneven}.`;
}

function noPositions({ records, metadata }: Records): string {
  return records === 0 && metadata.messages === 0
    ? 'The FIT file holds no records: it is not a recording of an activity.'
    : `None of the ${records} records has a position: the receiver was off or absent.`;
}
