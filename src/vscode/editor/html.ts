import * as vscode from 'vscode';

export type PageKind = 'viewer' | 'overlay';

/** Hash of the empty style element that the control toolkit adds. */
const emptyStyle = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='";

function nonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function pageFolder(extensionUri: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(extensionUri, 'dist', 'webview');
}

/** The page around the webview bundle. It holds no data: the page asks for it. */
export function pageHtml(webview: vscode.Webview, extensionUri: vscode.Uri, kind: PageKind): string {
  const folder = pageFolder(extensionUri);
  const script = webview.asWebviewUri(vscode.Uri.joinPath(folder, 'main.js')).toString();
  const style = webview.asWebviewUri(vscode.Uri.joinPath(folder, 'main.css')).toString();
  const once = nonce();
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${once}'`,
    `style-src ${webview.cspSource} ${emptyStyle}`,
    `img-src ${webview.cspSource} data: blob:`,
    `font-src ${webview.cspSource}`,
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="UTF-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="${style}">
<title>Modproof</title>
</head>
<body data-page="${kind}">
<main id="app"></main>
<script nonce="${once}" src="${script}" defer></script>
</body>
</html>`;
}
