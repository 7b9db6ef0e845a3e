import type { MessagePort } from 'node:worker_threads';
import { benchHere, type BenchParts } from '../engine/evaluate/index.ts';
import type { World } from '../engine/world.ts';
import type { BenchReply, BenchRequest } from './bench-messages.ts';

/** Serves a workbench over a port, one recording after the other, until the main thread ends it. */
export function serveBench(port: MessagePort, parts: BenchParts, world: World): void {
  const bench = benchHere(parts, world);
  const reply = (message: BenchReply): void => {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
    port.postMessage(message);
  };
  port.on('message', (request: BenchRequest) => {
    const { id, file } = request;
    const work = { onProgress: (fraction: number): void => reply({ id, kind: 'progress', fraction }) };
    const value = request.step === 'read' ? bench.read(file, work) : bench.analyse(file, request.options, work);
    value.then(
      (done) => reply({ id, kind: 'done', value: done }),
      (error: unknown) =>
        reply({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) }),
    );
  });
}
