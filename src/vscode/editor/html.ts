import * as vscode from 'vscode';
import { type PageKind, pageText } from './page-html.ts';

function nonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function pageFolder(extensionUri: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(extensionUri, 'dist', 'webview');
}

/** The page for a webview, with addresses that it can reach. */
export function pageHtml(webview: vscode.Webview, extensionUri: vscode.Uri, kind: PageKind): string {
  const address = (name: string): string =>
    webview.asWebviewUri(vscode.Uri.joinPath(pageFolder(extensionUri), name)).toString();
  return pageText({
    kind,
    script: address('main.js'),
    style: address('main.css'),
    source: webview.cspSource,
    nonce: nonce(),
  });
}
