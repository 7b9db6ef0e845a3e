import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import * as vscode from 'vscode';
import type { ThreadMaker } from '../reading/threads.ts';

/** More threads only cost memory: a comparison has some tens of flights. */
const mostThreads = 3;

/** Threads of Node, each a worker on the file beside the extension. */
export function nodeThreads(extensionUri: vscode.Uri): ThreadMaker {
  const file = vscode.Uri.joinPath(extensionUri, 'dist', 'flight-thread.js').fsPath;
  return {
    // One processor is left to the editor.
    atOnce: Math.max(1, Math.min(mostThreads, availableParallelism() - 1)),
    make() {
      const worker = new Worker(file);
      let ended: ((reason: string) => void) | undefined;
      worker.on('error', (error: NodeJS.ErrnoException) =>
        ended?.(
          error.code === 'ERR_WORKER_OUT_OF_MEMORY'
            ? 'Reading it takes more memory than there is: cut the recording to the flight first.'
            : `The thread that read it failed: ${error.message}`,
        ),
      );
      worker.on('exit', () => ended?.('the thread that read it ended'));
      return {
        // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
        post: (message) => worker.postMessage(message),
        listen(handler) {
          worker.on('message', handler);
          return () => void worker.off('message', handler);
        },
        onEnd(handler) {
          ended = handler;
        },
        terminate: () => void worker.terminate(),
      };
    },
  };
}
