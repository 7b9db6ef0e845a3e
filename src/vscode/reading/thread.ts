import { Cancelled, type Connection, connect, type Port } from '../../../shared/rpc.ts';
import type { World } from '../../engine/world.ts';
import type { ThreadFile, ThreadHostMethods, ThreadMethods } from './thread-methods.ts';

/** A worker as its kind of host gives it. */
export interface RawThread extends Port {
  /** Called once when it failed or ended by itself, with what it said. */
  onEnd(handler: (reason: string) => void): void;
  terminate(): void;
}

/** What the host does for a job. */
export interface JobHost {
  readonly open: World['open'];
  onProgress(step: number, fraction: number): void;
}

/** One thread with the jobs that it has. */
export class Thread {
  readonly #raw: RawThread;
  readonly #remote: Connection<ThreadMethods>;
  readonly #jobs = new Map<number, JobHost>();
  #ended: Error | undefined;
  #calls = 0;

  constructor(raw: RawThread) {
    this.#raw = raw;
    this.#remote = connect<ThreadMethods, ThreadHostMethods>(raw, {
      open: async (file) => {
        const { name, sizeBytes } = await this.#source(file);
        return { name, sizeBytes };
      },
      bytes: async ({ offset, length, ...file }) => {
        const bytes = await (await this.#source(file)).read(offset, length);
        // A part of a larger memory would be copied with all of it.
        return bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice();
      },
      progress: ({ job, step, fraction }) => this.#jobs.get(job)?.onProgress(step, fraction),
    });
    raw.onEnd((reason) => {
      this.#ended ??= new Error(reason);
      this.#remote.close();
    });
  }

  get hasEnded(): boolean {
    return this.#ended !== undefined;
  }

  /** Requests under way. */
  get load(): number {
    return this.#calls;
  }

  /** Jobs that it keeps something for. */
  get jobs(): number {
    return this.#jobs.size;
  }

  begin(job: number, host: JobHost): void {
    this.#jobs.set(job, host);
  }

  forget(job: number): void {
    if (!this.#jobs.delete(job) || this.hasEnded) return;
    this.#remote.notify('forget', { job });
  }

  /** As {@link Connection.call}; when the thread ends meanwhile, rejects with why. */
  async call<K extends keyof ThreadMethods>(
    method: K,
    argument: Parameters<ThreadMethods[K]>[0],
    signal?: AbortSignal,
  ): Promise<ReturnType<ThreadMethods[K]>> {
    this.#calls++;
    try {
      return (await this.#remote.call(method, argument as never, signal)) as ReturnType<ThreadMethods[K]>;
    } catch (error) {
      // A channel that was closed because the thread is gone is no cancel.
      if (error instanceof Cancelled && this.#ended !== undefined && signal?.aborted !== true) throw this.#ended;
      throw error;
    } finally {
      this.#calls--;
    }
  }

  terminate(): void {
    this.#ended ??= new Error('the thread was ended');
    this.#remote.close();
    this.#raw.terminate();
  }

  #source({ job, path, from }: ThreadFile): ReturnType<World['open']> {
    const host = this.#jobs.get(job);
    return host === undefined ? Promise.reject(new Cancelled()) : host.open(path, from);
  }
}
