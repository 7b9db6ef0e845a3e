import type { ResultCache } from '../engine/evaluate/index.ts';
import type { World } from '../engine/world.ts';
import type { ThreadedBench } from './worker-bench.ts';

/** What a command has around it; a test puts its own in place of the terminal and the disk. */
export interface CommandIo {
  readonly world: World;
  /** Absolute folder in which relative paths start. */
  readonly workingFolder: string;
  readonly write: (text: string) => void;
  /** Messages and progress. */
  readonly tell: (text: string) => void;
  /** True when a person watches stderr. */
  readonly watched: boolean;
  readonly signal: AbortSignal;
  /** The cache beside a spec; undefined where none can be kept. */
  readonly cacheFor: (specPath: string) => ResultCache | undefined;
  /** Threads for reading and analysis; absent where there are none. */
  readonly startBench?: () => ThreadedBench;
}

/** Ends a command with a message and an exit code. */
export class CommandFailure extends Error {
  readonly exitCode: number;

  constructor(message: string, exitCode: number) {
    super(message);
    this.exitCode = exitCode;
  }
}
