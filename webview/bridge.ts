import type { Port } from '../shared/rpc.ts';

interface VsCodeApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): VsCodeApi;

const api = acquireVsCodeApi();

/** The page's end of the channel to the host. */
export const hostPort: Port = {
  // oxlint-disable-next-line unicorn/require-post-message-target-origin -- the editor's function, not the window's
  post: (message) => api.postMessage(message),
  listen(handler) {
    const listener = (event: MessageEvent): void => handler(event.data);
    window.addEventListener('message', listener);
    return () => window.removeEventListener('message', listener);
  },
};

/** What this page kept before it was hidden or the window was reloaded. */
export function keptState(): unknown {
  return api.getState();
}

export function keepState(state: unknown): void {
  api.setState(state);
}
