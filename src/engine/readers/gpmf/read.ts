import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { GpsStreams } from './gps-stream.ts';
import { gpsTrack } from './gps-track.ts';

/** A bare stream is read a device at a time; one that declares more than this is damage. */
const mostDeviceBytes = 4 * 1024 * 1024;

const readBytes = 1024 * 1024;

/** True for bytes that begin with a nest of a device. */
export function beginsWithDevice(head: Uint8Array): boolean {
  return (
    head.length >= 12 &&
    head[0] === 0x44 &&
    head[1] === 0x45 &&
    head[2] === 0x56 &&
    head[3] === 0x43 &&
    head[4] === 0 &&
    head[5] !== 0
  );
}

/** Reads payloads of GPMF that were taken out of their film: `DEVC` nests one after the other. */
export const gpmfReader: Reader = {
  format: 'gpmf',
  recognises: (head) => beginsWithDevice(head),
  read: readBareStream,
};

async function readBareStream(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  const contents: string[] = ['Telemetry without its film: there is no time into the video.'];
  const streams = new GpsStreams();
  let at = 0;
  let window: Uint8Array = new Uint8Array(0);
  let windowAt = 0;
  while (at + 8 <= source.sizeBytes) {
    options.signal?.throwIfAborted();
    if (at + 8 > windowAt + window.length) {
      window = await source.read(at, readBytes);
      windowAt = at;
    }
    const head = window.subarray(at - windowAt, at - windowAt + 12);
    const length = 8 + Math.ceil((head[5] * ((head[6] << 8) | head[7])) / 4) * 4;
    if (!beginsWithDevice(head) || length > mostDeviceBytes) {
      problems.warning(
        'gpmf-damaged',
        'The telemetry goes on with something else than a device: the rest was left out.',
        {
          byte: at,
        },
      );
      break;
    }
    if (at + length > windowAt + window.length) {
      window = await source.read(at, Math.max(length, readBytes));
      windowAt = at;
    }
    const untimed = { videoS: Number.NaN, durationS: Number.NaN };
    streams.add(window.subarray(at - windowAt, at - windowAt + length), untimed, at);
    at += length;
    options.onProgress?.(Math.min(1, at / source.sizeBytes));
  }
  const track = gpsTrack(streams, undefined, problems, contents);
  return { format: 'gpmf', ...(track ? { track } : {}), problems: problems.toArray(), contents };
}
