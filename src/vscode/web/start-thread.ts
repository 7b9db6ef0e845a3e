import * as vscode from 'vscode';
import type { ThreadMaker } from '../reading/threads.ts';

const mostThreads = 3;

/**
 * Workers of the browser; whether the editor lets an extension have them is found out by trying. The program is handed over
 * as a blob, because an editor whose extensions lie on a server makes no workers from their addresses.
 */
export async function webThreads(extensionUri: vscode.Uri): Promise<ThreadMaker> {
  const file = vscode.Uri.joinPath(extensionUri, 'dist', 'flight-thread.js');
  const program = await vscode.workspace.fs.readFile(file);
  const address = URL.createObjectURL(new Blob([program as Uint8Array<ArrayBuffer>], { type: 'text/javascript' }));
  return {
    atOnce: Math.max(1, Math.min(mostThreads, navigator.hardwareConcurrency - 1)),
    make() {
      const worker = new Worker(address);
      return {
        // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a worker, not a window
        post: (message) => worker.postMessage(message),
        listen(handler) {
          const listener = (event: MessageEvent): void => handler(event.data);
          worker.addEventListener('message', listener);
          return () => worker.removeEventListener('message', listener);
        },
        onEnd: (handler) => {
          worker.addEventListener('error', (event) => handler(`The thread that read it failed: ${event.message}`));
        },
        terminate: () => worker.terminate(),
      };
    },
  };
}
