import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export type DriverRequest = { readonly number: number } & (
  | { readonly act: 'command'; readonly name: string; readonly values: readonly unknown[] }
  | { readonly act: 'setting'; readonly name: string; readonly value: unknown }
  /** Opens a recording and tells how long its page took to the first charts and to the phases, milliseconds. */
  | { readonly act: 'time-opening'; readonly uri: string; readonly viewType: string }
  /** The most memory that the extension host ever had, bytes. */
  | { readonly act: 'most-memory' }
  /** Heap of the extension host after collecting garbage, bytes. */
  | { readonly act: 'heap' }
  | { readonly act: 'end' }
);

export interface OpeningTimes {
  readonly firstChartsMs: number;
  readonly completeMs: number;
  /** The longest time meanwhile that the extension host could do nothing else. */
  readonly blockedMs: number;
}

type Act = DriverRequest extends infer R ? (R extends unknown ? Omit<R, 'number'> : never) : never;

/** A table of a gigabyte takes its time. */
export const slowestOpeningMs = 240_000;

/** Runs commands and changes settings inside a VS Code whose tests are `driver-entry.ts`; for pictures and measurements. */
export class Driver {
  #number = 0;

  constructor(readonly folder: string) {
    mkdirSync(folder, { recursive: true });
    process.env.MODPROOF_DRIVER = folder;
  }

  /** `file:` texts among the values arrive as Uris. */
  command(name: string, ...values: readonly unknown[]): Promise<unknown> {
    return this.#ask({ act: 'command', name, values });
  }

  setting(name: string, value: unknown): Promise<unknown> {
    return this.#ask({ act: 'setting', name, value });
  }

  async timeOpening(uri: string, viewType = 'modproof.track'): Promise<OpeningTimes> {
    return (await this.#ask({ act: 'time-opening', uri, viewType })) as OpeningTimes;
  }

  async mostMemoryBytes(): Promise<number> {
    return (await this.#ask({ act: 'most-memory' })) as number;
  }

  async heapBytes(): Promise<number> {
    return (await this.#ask({ act: 'heap' })) as number;
  }

  end(): void {
    this.#write({ act: 'end' });
  }

  #write(act: Act): number {
    const number = ++this.#number;
    const file = join(this.folder, 'request.json');
    writeFileSync(`${file}.part`, JSON.stringify({ ...act, number }));
    renameSync(`${file}.part`, file);
    return number;
  }

  async #ask(act: Act): Promise<unknown> {
    const number = this.#write(act);
    const file = join(this.folder, `reply-${number}.json`);
    const deadline = Date.now() + (act.act === 'time-opening' ? slowestOpeningMs : 60_000);
    for (;;) {
      await new Promise((resolve) => setTimeout(resolve, 30));
      let reply: { value?: unknown; error?: string };
      try {
        reply = JSON.parse(readFileSync(file, 'utf8')) as typeof reply;
      } catch {
        if (Date.now() > deadline) throw new Error(`the editor did not answer: ${JSON.stringify(act)}`);
        continue;
      }
      rmSync(file);
      if (reply.error !== undefined) throw new Error(`${JSON.stringify(act)}: ${reply.error}`);
      return reply.value;
    }
  }
}
