import type { Port } from '../../../shared/rpc.ts';
import { serveThread } from './serve-thread.ts';

/** What a worker of the browser and the port of one of Node's have in common. */
interface Scope {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', handler: (event: { readonly data: unknown }) => void): void;
}

/** Node's module, asked for by name only there: one file serves both kinds of host. */
interface WorkerThreads {
  readonly parentPort: {
    postMessage(message: unknown): void;
    on(type: 'message', handler: (message: unknown) => void): void;
  } | null;
}

function portOf(scope: Scope): Port {
  return {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a worker, not a window
    post: (message) => scope.postMessage(message),
    listen(handler) {
      scope.addEventListener('message', (event) => handler(event.data));
      return () => undefined;
    },
  };
}

async function nodePort(): Promise<Port | undefined> {
  const threads = 'node:worker_threads';
  const { parentPort } = (await import(threads)) as WorkerThreads;
  if (parentPort === null) return undefined;
  return {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
    post: (message) => parentPort.postMessage(message),
    listen(handler) {
      parentPort.on('message', handler);
      return () => undefined;
    },
  };
}

const scope = globalThis as unknown as Partial<Scope> & { readonly WorkerGlobalScope?: unknown };
if (scope.WorkerGlobalScope !== undefined) serveThread(portOf(scope as Scope));
else
  void nodePort().then((port) => {
    if (port !== undefined) serveThread(port);
  });
