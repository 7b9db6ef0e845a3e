import type { FlightWork } from './flight-work.ts';
import { FlightThreads, type ThreadMaker } from './threads.ts';

/** Threads where they can be had, else this one. */
export class ChosenWork {
  readonly #maker: (() => Promise<ThreadMaker>) | undefined;
  readonly #here: () => Promise<FlightWork>;
  readonly #onTrouble: (error: unknown) => void;
  #chosen: Promise<FlightWork> | undefined;
  #threads: FlightThreads | undefined;
  #inThreads: boolean | undefined;
  #disposed = false;

  /** `here` is asked for only where no thread can be started, which is then told to `onTrouble`. */
  constructor(
    maker: (() => Promise<ThreadMaker>) | undefined,
    here: () => Promise<FlightWork>,
    onTrouble: (error: unknown) => void,
  ) {
    this.#maker = maker;
    this.#here = here;
    this.#onTrouble = onTrouble;
  }

  /** Where to read and analyse; asked once, the same for all. */
  get(): Promise<FlightWork> {
    return (this.#chosen ??= this.#choose());
  }

  /** Whether it is in threads; undefined while that is not known. */
  get inThreads(): boolean | undefined {
    return this.#inThreads;
  }

  dispose(): void {
    this.#disposed = true;
    this.#threads?.dispose();
  }

  async #choose(): Promise<FlightWork> {
    try {
      if (this.#maker !== undefined) {
        this.#threads = await FlightThreads.start(await this.#maker());
        if (this.#disposed) this.#threads.dispose();
        this.#inThreads = true;
        return this.#threads;
      }
    } catch (error) {
      this.#onTrouble(error);
    }
    this.#inThreads = false;
    return this.#here();
  }
}
