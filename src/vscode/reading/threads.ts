import type { ByteSource, Work, World } from '../../engine/world.ts';
import type { ComparisonBench, FlightWork, FurtherToRead, KeptRecording } from './flight-work.ts';
import { type RawThread, Thread } from './thread.ts';
import { viewerStep } from './thread-methods.ts';

/** What a kind of host offers. */
export interface ThreadMaker {
  /** So many may usefully work at once. */
  readonly atOnce: number;
  /** May throw. */
  make(): RawThread;
}

/** A thread that has nothing to keep ends after this. */
const idleMs = 30_000;

/** One that does not answer within this does not work here. A busy machine takes a second or two to start one. */
const startMs = 15_000;

/** Threads in which recordings are read and analysed, so that the editor's own stays free. */
export class FlightThreads implements FlightWork {
  readonly #maker: ThreadMaker;
  readonly #threads: Thread[] = [];
  readonly #timers = new Map<Thread, ReturnType<typeof setTimeout>>();
  #lastJob = 0;

  private constructor(maker: ThreadMaker) {
    this.#maker = maker;
  }

  /** Rejects where a thread cannot be started. */
  static async start(maker: ThreadMaker): Promise<FlightThreads> {
    const threads = new FlightThreads(maker);
    const first = threads.#make();
    let late: ReturnType<typeof setTimeout> | undefined;
    const tooLate = new Promise<never>((_, reject) => {
      late = setTimeout(() => reject(new Error('the thread did not answer')), startMs);
    });
    try {
      await Promise.race([first.call('hello', undefined), tooLate]);
    } catch (error) {
      threads.dispose();
      throw error;
    } finally {
      clearTimeout(late);
    }
    threads.#rest(first);
    return threads;
  }

  async read(source: ByteSource, { signal, onProgress }: Work, others?: FurtherToRead): Promise<KeptRecording> {
    const thread = this.#leastBusy();
    const job = ++this.#lastJob;
    thread.begin(job, {
      open: (path) => (others === undefined || path === source.name ? Promise.resolve(source) : others.open(path)),
      onProgress: (_step, fraction) => onProgress?.(fraction),
    });
    const forget = (): void => {
      thread.forget(job);
      this.#rest(thread);
    };
    try {
      const named = { job, file: source.name, ...(others && { further: others.further }) };
      const facts = await thread.call('read', named, signal);
      return { ...facts, analyse: (overrides, stop) => thread.call('analyse', { job, overrides }, stop), forget };
    } catch (error) {
      forget();
      throw error;
    }
  }

  bench(world: World): ComparisonBench {
    const job = ++this.#lastJob;
    const used = new Map<string, Thread>();
    const works = new Map<number, Work>([[viewerStep, {}]]);
    let lastStep = viewerStep;
    const threadOf = (file: string): Thread => {
      const known = used.get(file);
      if (known !== undefined && !known.hasEnded) return known;
      const thread = this.#leastBusy();
      thread.begin(job, {
        open: (path, from) => world.open(path, from),
        onProgress: (step, fraction) => works.get(step)?.onProgress?.(fraction),
      });
      used.set(file, thread);
      return thread;
    };
    return {
      atOnce: this.#maker.atOnce,
      read: async (file, work) => {
        const step = ++lastStep;
        works.set(step, work);
        try {
          return await threadOf(file.file).call('benchRead', { job, step, file }, work.signal);
        } finally {
          works.delete(step);
        }
      },
      analyse: (file, options, work) => {
        // A signal cannot cross; the request carries its own.
        const { signal: _signal, ...plain } = options;
        return threadOf(file.file).call('benchAnalyse', { job, file, options: plain }, work.signal);
      },
      close: () => {
        for (const thread of new Set(used.values())) {
          thread.forget(job);
          this.#rest(thread);
        }
      },
    };
  }

  dispose(): void {
    for (const timer of this.#timers.values()) clearTimeout(timer);
    this.#timers.clear();
    for (const thread of this.#threads.splice(0)) thread.terminate();
  }

  #make(): Thread {
    const thread = new Thread(this.#maker.make());
    this.#threads.push(thread);
    return thread;
  }

  #leastBusy(): Thread {
    const alive = this.#threads.filter((thread) => !thread.hasEnded);
    this.#threads.splice(0, this.#threads.length, ...alive);
    const idlest = alive.reduce<Thread | undefined>(
      (best, thread) => (best === undefined || thread.load < best.load ? thread : best),
      undefined,
    );
    const chosen =
      idlest === undefined || (idlest.load > 0 && alive.length < this.#maker.atOnce) ? this.#make() : idlest;
    clearTimeout(this.#timers.get(chosen));
    this.#timers.delete(chosen);
    return chosen;
  }

  /** Ends a thread that stays without work: its memory is given back. */
  #rest(thread: Thread): void {
    clearTimeout(this.#timers.get(thread));
    if (thread.jobs > 0 || thread.hasEnded) return;
    this.#timers.set(
      thread,
      setTimeout(() => {
        this.#timers.delete(thread);
        if (thread.jobs === 0 && thread.load === 0) thread.terminate();
      }, idleMs),
    );
  }
}
