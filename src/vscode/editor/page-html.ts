/** Which of the pages the webview bundle shows. */
export type PageKind = 'viewer' | 'overlay';

export interface PageParts {
  readonly kind: PageKind;
  /** Addresses of the bundle as the page reaches them. */
  readonly script: string;
  readonly style: string;
  /** Where the page's own files come from, for the policy. */
  readonly source: string;
  readonly nonce: string;
}

/** Hash of the empty style element that the control toolkit adds. */
const emptyStyle = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='";

/** The page around the bundle. It holds no data (the page asks for it), and may load nothing but its own files. */
export function pageText({ kind, script, style, source, nonce }: PageParts): string {
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${source} ${emptyStyle}`,
    `img-src ${source} data: blob:`,
    `font-src ${source}`,
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
<script nonce="${nonce}" src="${script}" defer></script>
</body>
</html>`;
}
