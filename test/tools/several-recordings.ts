/**
 * How well recordings of one flight are joined, over simulated flights written to files and read back:
 * `node --import=tsx test/tools/several-recordings.ts [flights a pair]`. Prints how many true offsets of clocks lie in their
 * 95 % intervals, how many recordings of different flights were joined by mistake, and what splitting a film does to events.
 */
import { analyse } from '../../src/engine/analyse.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import { readFlight } from '../../src/engine/recordings/index.ts';
import { joinRecordings } from '../../src/engine/track/join-recordings.ts';
import type { Track } from '../../src/engine/track/track.ts';
import { bytesInMemory } from '../../src/engine/world.ts';
import { type ReceiverName, receiverKinds } from '../synth/receiver-kinds.ts';
import { simulatedFlight } from '../synth/simulated-flights.ts';
import type { FileFormat } from '../synth/write/index.ts';
import { memoryWorld } from './memory-world.ts';
import { recordedAgain } from './two-recorders.ts';

const pairs: readonly (readonly [ReceiverName, FileFormat, ReceiverName, FileFormat])[] = [
  ['camera10', 'gpmf-gps9', 'panel', 'csv-aviation'],
  ['handheld', 'gpx-speed', 'panel', 'csv-aviation'],
  ['good5', 'nmea', 'logger', 'igc'],
  ['phone', 'gpx-speed', 'panel', 'csv-metric'],
  ['camera18', 'gpmf-gps5', 'handheld-no-speed', 'gpx'],
];

/** Whole seconds, as some formats write no others; two of them a time zone. */
const latesS = [0, 7, -42, 1, 95, -3, 3600, -18_000];

async function read(bytes: Uint8Array, name: string): Promise<Track> {
  const { track, problems } = await readRecording(bytesInMemory(name, bytes), {});
  if (track === undefined) throw new Error(JSON.stringify(problems));
  return track;
}

/** A receiver's velocity is late by this; the difference of two is part of the offset between them. */
function lagS(receiver: ReceiverName): number {
  return receiverKinds[receiver].velocity?.lagS ?? receiverKinds[receiver].positionLagS;
}

async function offsets(count: number): Promise<void> {
  const sum = { pairs: 0, joined: 0, inside: 0, strangers: 0, mistaken: 0, squares: 0 };
  for (const [p, [first, firstFormat, second, secondFormat]] of pairs.entries()) {
    let stranger: Track | undefined;
    const own = { pairs: 0, joined: 0, inside: 0, worst: 0 };
    for (let k = 0; k < count; k++) {
      const length = k % 2 === 0 ? 'circuits' : 'short';
      const flight = simulatedFlight(`offsets ${p} ${k}`, { receiver: first, length });
      const lateS = latesS[k % latesS.length];
      const a = await read(recordedAgain(flight, first, firstFormat, `a${k}`), 'a');
      const b = await read(recordedAgain(flight, second, secondFormat, `b${k}`, { lateS }), 'b');
      own.pairs++;
      const { clockOffsetS } = joinRecordings(a, b);
      if (clockOffsetS !== undefined) {
        const error = clockOffsetS.value - (-lateS + lagS(first) - lagS(second));
        own.joined++;
        own.inside += Number(
          clockOffsetS.low - clockOffsetS.value <= -error && -error <= clockOffsetS.high - clockOffsetS.value,
        );
        own.worst = Math.max(own.worst, Math.abs(error));
        sum.squares += error ** 2;
      }
      if (stranger !== undefined) {
        const byS = a.timeS[0] - stranger.timeS[0];
        sum.strangers++;
        sum.mistaken += Number(
          joinRecordings(a, { ...stranger, timeS: stranger.timeS.map((t) => t + byS) }).track !== undefined,
        );
      }
      stranger = b;
    }
    console.log(
      `${first} and ${second}: ${own.inside} of ${own.joined} offsets in their interval, ${own.pairs} pairs, worst error ${own.worst.toFixed(2)} s`,
    );
    sum.pairs += own.pairs;
    sum.joined += own.joined;
    sum.inside += own.inside;
  }
  console.log(
    `all: ${sum.joined} of ${sum.pairs} joined, ${sum.inside} in their interval, root mean square error ${Math.sqrt(sum.squares / sum.joined).toFixed(3)} s; of different flights ${sum.mistaken} of ${sum.strangers} joined`,
  );
}

async function splits(count: number, receiver: ReceiverName, format: FileFormat): Promise<void> {
  const shifts: number[] = [];
  let lost = 0;
  for (let k = 0; k < count; k++) {
    const flight = simulatedFlight(`split ${k}`, { receiver, length: 'circuits' });
    const whole = analyse(await read(recordedAgain(flight, receiver, format, 'film'), 'whole.mp4'));
    // The first seam lies in the middle of the first ground roll.
    const takeoff = flight.truth.takeoffs[0];
    const { timeS } = flight.table;
    const middle =
      ((takeoff.rollStartS + (takeoff.liftoffS ?? takeoff.rollStartS)) / 2 - timeS[0]) /
      (timeS[timeS.length - 1] - timeS[0]);
    const part = (from: number, to: number): Uint8Array =>
      recordedAgain(flight, receiver, format, 'film', { from, to });
    const world = memoryWorld({ 'a.mp4': part(0, middle), 'b.mp4': part(middle, 0.7), 'c.mp4': part(0.7, 1) });
    const further = { continuedIn: [{ file: 'b.mp4' }, { file: 'c.mp4' }], alsoRecordedBy: [] };
    const { track } = await readFlight({ file: 'a.mp4', further }, undefined, readRecording, world);
    const joined = track === undefined ? undefined : analyse(track);
    for (const [index, { rollStart, liftoff }] of whole.takeoffs.entries()) {
      const same = joined?.takeoffs[index];
      if (same === undefined || liftoff === undefined || same.liftoff === undefined) {
        lost++;
        continue;
      }
      shifts.push(Math.abs(same.rollStart.timeS - rollStart.timeS), Math.abs(same.liftoff.timeS - liftoff.timeS));
    }
  }
  shifts.sort((a, b) => a - b);
  console.log(
    `split films of ${receiver}: ${shifts.length / 2} take-offs as in the whole film, ${lost} lost; events move by ${shifts[Math.floor(shifts.length / 2)]?.toFixed(3)} s in the median, ${shifts.at(-1)?.toFixed(2)} s at most`,
  );
}

const count = Number(process.argv[2] ?? 8);
await offsets(count);
await splits(Math.ceil(count / 2), 'camera10', 'gpmf-gps9');
await splits(Math.ceil(count / 2), 'camera18', 'gpmf-gps5');
