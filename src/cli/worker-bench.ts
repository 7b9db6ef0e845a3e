import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Analysed, BenchFile, Reading, Workbench } from '../engine/evaluate/index.ts';
import type { Work } from '../engine/world.ts';
import type { BenchReply, BenchRequest, BenchWorkerData } from './bench-messages.ts';

/** More threads than this only cost memory: a spec has some tens of flights. */
const mostThreads = 4;

export interface ThreadedBench extends Workbench {
  /** Ends the threads. */
  readonly close: () => Promise<void>;
}

interface Waiting {
  readonly resolve: (value: Reading | Analysed) => void;
  readonly reject: (error: Error) => void;
  readonly work: Work;
}

interface Thread {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}

function startThread(program: URL, workingFolder: string): Thread {
  const data: BenchWorkerData = { modproofBench: true, workingFolder };
  const worker = new Worker(program, { workerData: data });
  const waiting = new Map<number, Waiting>();
  worker.on('message', (reply: BenchReply) => {
    const entry = waiting.get(reply.id);
    if (entry === undefined) return;
    if (reply.kind === 'progress') {
      entry.work.onProgress?.(reply.fraction);
      return;
    }
    waiting.delete(reply.id);
    if (reply.kind === 'done') entry.resolve(reply.value);
    else entry.reject(new Error(reply.message));
  });
  const fail = (error: Error): void => {
    for (const entry of waiting.values()) entry.reject(error);
    waiting.clear();
  };
  // E.g. out of memory: the recordings that it had are told as failed, the others go on.
  worker.on('error', fail);
  worker.on('exit', () => fail(new Error('the thread that read it ended')));
  return { worker, waiting };
}

/**
 * A workbench of several threads of the program at `program`. Threads start when first needed: an evaluation that finds all
 * in the cache starts none. A recording stays with one thread from reading to analysis.
 */
export function threadedBench(program: URL, workingFolder: string): ThreadedBench {
  const count = Math.max(1, Math.min(mostThreads, availableParallelism()));
  const threads: (Thread | undefined)[] = Array.from({ length: count }, () => undefined);
  const placeOf = new Map<string, number>();
  let lastId = 0;
  const ask = (file: BenchFile, message: (id: number) => BenchRequest, work: Work): Promise<Reading | Analysed> => {
    work.signal?.throwIfAborted();
    const load = (index: number): number => threads[index]?.waiting.size ?? 0;
    const place =
      placeOf.get(file.file) ?? threads.map((_, index) => index).reduce((a, b) => (load(b) < load(a) ? b : a));
    placeOf.set(file.file, place);
    const thread = (threads[place] ??= startThread(program, workingFolder));
    const id = ++lastId;
    return new Promise((resolve, reject) => {
      const abort = (): void => {
        thread.waiting.delete(id);
        reject(work.signal?.reason instanceof Error ? work.signal.reason : new Error('aborted'));
      };
      work.signal?.addEventListener('abort', abort, { once: true });
      const settle = <T>(then: (value: T) => void) => {
        return (value: T): void => {
          work.signal?.removeEventListener('abort', abort);
          then(value);
        };
      };
      thread.waiting.set(id, { resolve: settle(resolve), reject: settle(reject), work });
      // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
      thread.worker.postMessage(message(id));
    });
  };
  return {
    atOnce: count,
    read: (file, work) => ask(file, (id) => ({ id, step: 'read', file }), work) as Promise<Reading>,
    // A signal cannot go to another thread; an abort ends the waiting here, and closing ends the thread.
    analyse: (file, options, work) =>
      ask(
        file,
        (id) => ({ id, step: 'analyse', file, options: { ...options, signal: undefined } }),
        work,
      ) as Promise<Analysed>,
    close: async () => {
      const running = threads.filter((thread) => thread !== undefined);
      await Promise.all(running.map((thread) => thread.worker.terminate()));
    },
  };
}
