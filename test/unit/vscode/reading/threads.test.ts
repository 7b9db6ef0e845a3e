import assert from 'node:assert/strict';
import { MessageChannel } from 'node:worker_threads';
import { Cancelled, type Port } from '../../../../shared/rpc.ts';
import { type ByteSource, bytesInMemory, type World } from '../../../../src/engine/world.ts';
import { ChosenWork } from '../../../../src/vscode/reading/choose-work.ts';
import type { FlightWork } from '../../../../src/vscode/reading/flight-work.ts';
import { flightsHere } from '../../../../src/vscode/reading/here.ts';
import { serveThread } from '../../../../src/vscode/reading/serve-thread.ts';
import type { RawThread } from '../../../../src/vscode/reading/thread.ts';
import { FlightThreads, type ThreadMaker } from '../../../../src/vscode/reading/threads.ts';
import { simulatedFlight, writeRecording } from '../../../synth/index.ts';

/** Threads that are none, but talk as they do: every message is cloned. */
class Channels implements ThreadMaker {
  readonly atOnce = 2;
  made = 0;
  readonly #closers: (() => void)[] = [];
  /** Ends the thread made last, as a crash does. */
  crash: (reason: string) => void = () => undefined;

  make(): RawThread {
    this.made++;
    const { port1, port2 } = new MessageChannel();
    const ends = { told: (_reason: string): void => undefined };
    const portOf = (port: typeof port1): Port => ({
      // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a port, not a window
      post: (message) => port.postMessage(message),
      listen(handler) {
        port.on('message', handler);
        return () => void port.off('message', handler);
      },
    });
    serveThread(portOf(port2));
    const close = (): void => {
      port1.close();
      port2.close();
    };
    this.#closers.push(close);
    this.crash = (reason) => {
      close();
      ends.told(reason);
    };
    return {
      ...portOf(port1),
      onEnd: (handler) => {
        ends.told = handler;
      },
      terminate: close,
    };
  }

  close(): void {
    for (const close of this.#closers) close();
  }
}

const shapes = { receiver: 'handheld', aeroplane: 'shortFieldTwoSeater', weather: 'fair', length: 'short' } as const;
const { recording } = simulatedFlight('thread', shapes);
const gpx = writeRecording(recording, 'gpx-speed').bytes;
const film = writeRecording(
  simulatedFlight('thread-film', { ...shapes, receiver: 'camera10' }).recording,
  'gpmf-gps9',
).bytes;
const text = (written: string): Uint8Array => new TextEncoder().encode(written);
const files: Readonly<Record<string, Uint8Array>> = {
  'flight.gpx': gpx,
  'cut.gpx': gpx.subarray(0, gpx.length * 0.6),
  'film.mp4': film,
  'damaged.csv': text('time,lat,lon\nx,y,z\n"2026'),
  'empty.gpx': text(''),
};

describe('reading in threads', () => {
  const channels = new Channels();
  let threads: FlightThreads;
  before(async () => {
    threads = await FlightThreads.start(channels);
  });
  after(() => {
    threads.dispose();
    channels.close();
  });
  const read = async (work: FlightWork, name: string) => {
    const kept = await work.read(bytesInMemory(name, files[name]), {});
    const { read: summary, columns, pending } = kept;
    const analysis = columns === undefined ? undefined : await kept.analyse([]);
    const later = pending?.takeoffs.length === 0 ? analysis?.takeoffs[0]?.liftoff?.timeS : undefined;
    const corrected =
      later === undefined
        ? undefined
        : await kept.analyse([{ event: 'liftoff', number: 1, timeS: later + 1, sigmaS: 0.2, why: 'seen' }]);
    kept.forget();
    return { summary, columns, pending, analysis, corrected };
  };

  for (const name of Object.keys(files)) {
    it(`gives the same as reading here: ${name}`, async () => {
      assert.deepEqual(await read(threads, name), await read(flightsHere, name));
    });
  }

  it('gives a flight in several recordings the same as reading here', async () => {
    const half = Math.floor(recording.fixes.length / 2);
    const part = (from: number, to: number): Uint8Array =>
      writeRecording({ ...recording, fixes: recording.fixes.slice(from, to) }, 'gpx-speed').bytes;
    const others = {
      further: { continuedIn: [{ file: 'b.gpx' }], alsoRecordedBy: [{ file: 'absent.csv', continuedIn: [] }] },
      open: (path: string) =>
        path === 'b.gpx'
          ? Promise.resolve(bytesInMemory(path, part(half, recording.fixes.length)))
          : Promise.reject(new Error('it is not there')),
    };
    const results = [];
    for (const work of [threads, flightsHere]) {
      const kept = await work.read(bytesInMemory('a.gpx', part(0, half)), {}, others);
      results.push({ facts: [kept.read, kept.columns, kept.pending], analysis: await kept.analyse([]) });
      kept.forget();
    }
    assert.deepEqual(results[0], results[1]);
    const parts = results[0].analysis.recording.parts ?? [];
    assert.deepEqual(
      parts.map(({ file, joined }) => [file, joined]),
      [
        ['a.gpx', true],
        ['b.gpx', true],
        ['absent.csv', false],
      ],
    );
    const whole = await flightsHere.read(bytesInMemory('flight.gpx', gpx), {});
    assert.equal(results[0].analysis.recording.samples, whole.pending?.recording.samples);
  });

  it('gives the problems with file and line', async () => {
    const { read: summary } = await threads.read(bytesInMemory('damaged.csv', files['damaged.csv']), {});
    assert.ok(summary.problems.some(({ at }) => at?.file === 'damaged.csv' && at.line !== undefined));
  });

  it('gives a comparison the same as reading here', async () => {
    const world: World = {
      open: (path) => Promise.resolve(bytesInMemory(path, files[path])),
      list: () => Promise.resolve([]),
    };
    const results = [];
    for (const work of [threads, flightsHere]) {
      const bench = work.bench(world);
      const found = [];
      for (const file of ['flight.gpx', 'film.mp4', 'empty.gpx']) {
        const named = { file, specPath: 'a.modproof.yaml' };
        const reading = await bench.read(named, {});
        const analysed = reading.startS === undefined ? undefined : await bench.analyse(named, {}, {});
        found.push({ reading, analysed });
      }
      bench.close();
      results.push(found);
    }
    assert.ok((results[0][0].analysed?.analysis.takeoffs.length ?? 0) > 0);
    assert.deepEqual(results[0], results[1]);
  });

  it('tells progress, in order', async () => {
    const told: number[] = [];
    await threads.read(bytesInMemory('film.mp4', film), { onProgress: (fraction) => told.push(fraction) });
    assert.ok(told.length > 0);
    assert.deepEqual(
      told,
      [...told].sort((a, b) => a - b),
    );
  });

  it('passes on what the file system says', async () => {
    const broken: ByteSource = {
      name: 'a.gpx',
      sizeBytes: 100,
      read: () => Promise.reject(new Error('card pulled out')),
    };
    await assert.rejects(threads.read(broken, {}), /card pulled out/);
  });

  it('stops reading when asked to, and reads on for others', async () => {
    let reads = 0;
    const stop = new AbortController();
    const endless: ByteSource = {
      name: 'a.gpx',
      sizeBytes: 1e12,
      read: async (offset, length) => {
        reads++;
        if (reads === 3) stop.abort();
        await new Promise((resolve) => setTimeout(resolve, 1));
        return offset === 0
          ? new Uint8Array([...text('<gpx><trk><trkseg>'), ...new Uint8Array(length - 18).fill(32)])
          : new Uint8Array(length).fill(32);
      },
    };
    await assert.rejects(threads.read(endless, { signal: stop.signal }), Cancelled);
    const atStop = reads;
    await new Promise((resolve) => setTimeout(resolve, 60));
    assert.ok(reads <= atStop + 1, `${reads - atStop} reads after the stop`);
    assert.equal((await read(threads, 'flight.gpx')).summary.format, 'gpx');
  });

  it('copies no more of a large memory than was asked for', async () => {
    const large = new Uint8Array(50_000_000);
    large.set(gpx.subarray(0, 200));
    let copied = 0;
    const watched: ThreadMaker = {
      atOnce: 1,
      make() {
        const raw = channels.make();
        return {
          ...raw,
          post(message) {
            const { result } = message as { readonly result?: unknown };
            if (result instanceof Uint8Array) copied = Math.max(copied, result.buffer.byteLength);
            raw.post(message);
          },
        };
      },
    };
    const one = await FlightThreads.start(watched);
    const { read: summary } = await one.read(bytesInMemory('a.bin', large), {});
    one.dispose();
    assert.ok(summary.problems.length > 0);
    assert.ok(copied > 0 && copied <= 2_000_000, `${copied} bytes in one message`);
  });

  it('says why when a thread ends in the middle, and takes another then', async () => {
    const own = new Channels();
    const some = await FlightThreads.start(own);
    const never: ByteSource = {
      name: 'a.gpx',
      sizeBytes: 1e9,
      read: () => {
        setTimeout(() => own.crash('Reading it takes more memory than there is'), 1);
        return new Promise(() => undefined);
      },
    };
    await assert.rejects(some.read(never, {}), /more memory than there is/);
    assert.equal((await read(some, 'flight.gpx')).summary.format, 'gpx');
    assert.equal(own.made, 2);
    const kept = await some.read(bytesInMemory('flight.gpx', gpx), {});
    own.crash('gone');
    await assert.rejects(kept.analyse([]), /gone/);
    some.dispose();
  });

  it('forgets what is not needed any more', async () => {
    const kept = await threads.read(bytesInMemory('flight.gpx', gpx), {});
    kept.forget();
    kept.forget();
    await assert.rejects(kept.analyse([]), /gone/);
  });
});

describe('where recordings are read', () => {
  const here = (): Promise<FlightWork> => Promise.resolve(flightsHere);

  it('is here where there are no threads, or none starts, and that is told once', async () => {
    const told: string[] = [];
    const none = new ChosenWork(undefined, here, (error) => told.push(String(error)));
    assert.equal(none.inThreads, undefined);
    assert.equal(await none.get(), flightsHere);
    assert.equal(none.inThreads, false);
    assert.equal(told.length, 0);
    const failing: ThreadMaker = {
      atOnce: 1,
      make: () => {
        throw new Error('not allowed');
      },
    };
    const refused = new ChosenWork(
      () => Promise.resolve(failing),
      here,
      (error) => told.push(String(error)),
    );
    assert.equal(await refused.get(), flightsHere);
    assert.equal(await refused.get(), flightsHere);
    const mute: ThreadMaker = {
      atOnce: 1,
      make: () => ({
        post: () => undefined,
        listen: () => () => undefined,
        onEnd: (handler) => void setTimeout(() => handler('no script'), 1),
        terminate: () => undefined,
      }),
    };
    const dead = new ChosenWork(
      () => Promise.resolve(mute),
      here,
      (error) => told.push(String(error)),
    );
    assert.equal(await dead.get(), flightsHere);
    assert.deepEqual(told, ['Error: not allowed', 'Error: no script']);
    dead.dispose();
  });

  it('is in threads where one starts', async () => {
    const channels = new Channels();
    const chosen = new ChosenWork(
      () => Promise.resolve(channels),
      here,
      (error) => assert.fail(String(error)),
    );
    assert.ok((await chosen.get()) instanceof FlightThreads);
    assert.equal(chosen.inThreads, true);
    chosen.dispose();
    channels.close();
  });
});
