import { type Connection, connect, type Implementation, type Port } from '../../../shared/rpc.ts';
import { analyse } from '../../engine/analyse.ts';
// Not its index, which would bring the language of specs into the thread.
import { benchHere, type Workbench } from '../../engine/evaluate/bench.ts';
import { readRecording } from '../../engine/readers/index.ts';
import { readSummary } from '../../engine/view/index.ts';
import type { World } from '../../engine/world.ts';
import { analyseForView, type Recording, readRecordingForView } from '../editor/flight-reader.ts';
import { type ThreadHostMethods, type ThreadMethods, viewerStep } from './thread-methods.ts';

/** Told at most so often, so that messages do not outweigh the work. */
const leastProgress = 0.005;

/** Serves one thread: reads and analyses what the host asks, with bytes that the host gives. */
export function serveThread(port: Port): Connection<ThreadHostMethods> {
  const recordings = new Map<number, Recording>();
  const benches = new Map<number, Workbench>();

  const worldOf = (job: number): World => ({
    async open(path, from) {
      const file = { job, path, ...(from === undefined ? {} : { from }) };
      const { name, sizeBytes } = await host.call('open', file);
      return { name, sizeBytes, read: (offset, length) => host.call('bytes', { ...file, offset, length }) };
    },
    list: () => Promise.reject(new Error('a thread lists no files')),
  });
  const benchOf = (job: number): Workbench => {
    const bench = benches.get(job) ?? benchHere({ readRecording, analyse }, worldOf(job));
    benches.set(job, bench);
    return bench;
  };
  const progressOf = (job: number, step: number): ((fraction: number) => void) => {
    let told = 0;
    return (fraction) => {
      if (fraction - told < leastProgress && fraction < 1) return;
      told = fraction;
      host.notify('progress', { job, step, fraction });
    };
  };

  const methods: Implementation<ThreadMethods> = {
    hello: () => true,
    async read({ job, file, further }, signal) {
      const world = worldOf(job);
      const work = { signal, onProgress: progressOf(job, viewerStep) };
      const others = further && { further, open: (path: string) => world.open(path) };
      const recording = await readRecordingForView(await world.open(file), work, others);
      const { columns, pending, read } = recording;
      if (columns !== undefined) recordings.set(job, recording);
      return {
        read: readSummary(read),
        ...(columns === undefined ? {} : { columns }),
        ...(pending === undefined ? {} : { pending }),
      };
    },
    analyse({ job, overrides }, signal) {
      const recording = recordings.get(job);
      if (recording === undefined) throw new Error('the recording is gone');
      return analyseForView(recording, overrides, signal);
    },
    benchRead: ({ job, step, file }, signal) => benchOf(job).read(file, { signal, onProgress: progressOf(job, step) }),
    benchAnalyse: ({ job, file, options }, signal) => benchOf(job).analyse(file, options, { signal }),
    forget({ job }) {
      recordings.delete(job);
      benches.delete(job);
    },
  };
  const host = connect<ThreadHostMethods, ThreadMethods>(port, methods);
  return host;
}
