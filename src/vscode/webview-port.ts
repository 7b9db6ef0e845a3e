import type * as vscode from 'vscode';
import type { Port } from '../../shared/rpc.ts';

/** The host's end of the channel to a page. */
export function webviewPort(webview: vscode.Webview): Port {
  return {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a webview's has no origin
    post: (message) => void webview.postMessage(message),
    listen(handler) {
      const subscription = webview.onDidReceiveMessage(handler);
      return () => void subscription.dispose();
    },
  };
}
