import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parentPort, workerData } from 'node:worker_threads';
import { analyse } from '../engine/analyse.ts';
import { compare } from '../engine/compare/index.ts';
import type { EngineParts } from '../engine/evaluate/index.ts';
import { readRecording } from '../engine/readers/index.ts';
import { isBenchWorkerData } from './bench-messages.ts';
import { serveBench } from './bench-worker.ts';
import { cacheFolder, folderCache } from './cache-node.ts';
import { exitCodes } from './exit-codes.ts';
import type { CommandIo } from './io.ts';
import { run } from './run.ts';
import { threadedBench } from './worker-bench.ts';
import { nodeWorld } from './world-node.ts';

const parts: EngineParts = { readRecording, analyse, compare };

/** Results depend on the program, not only on its version: a cache of another build is not used. */
function programHash(): string | undefined {
  const file = fileURLToPath(import.meta.url);
  // From source the program is many files, and changes between two runs.
  if (file.endsWith('.ts')) return undefined;
  return createHash('sha256').update(readFileSync(file)).digest('hex');
}

/** Runs the command line in the main thread. */
async function main(): Promise<void> {
  const abort = new AbortController();
  process.on('SIGINT', () => {
    // Asked twice, a person does not want to wait for the end of a step.
    if (abort.signal.aborted) process.exit(exitCodes.interrupted);
    abort.abort();
  });
  // A reader such as `head` that has seen enough is no error.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(exitCodes.ok);
    throw error;
  });
  const workingFolder = process.cwd();
  const fromSource = import.meta.url.endsWith('.ts');
  const io: CommandIo = {
    world: nodeWorld(workingFolder),
    workingFolder,
    write: (text) => void process.stdout.write(text),
    tell: (text) => void process.stderr.write(text),
    watched: process.stderr.isTTY,
    signal: abort.signal,
    cacheFor: (specPath) => {
      const salt = programHash();
      return salt === undefined ? undefined : folderCache(cacheFolder(resolve(workingFolder, specPath)), salt);
    },
    // A thread loads the program again, which from source takes longer than it saves.
    ...(fromSource ? {} : { startBench: () => threadedBench(new URL(import.meta.url), workingFolder) }),
  };
  process.exitCode = await run(process.argv.slice(2), parts, io);
}

if (parentPort !== null && isBenchWorkerData(workerData)) {
  serveBench(parentPort, parts, nodeWorld(workerData.workingFolder));
} else await main();
