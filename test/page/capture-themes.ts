import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { startSession } from '../host/session.ts';
import { simulatedFlight, writeRecording } from '../synth/index.ts';

/**
 * Writes what a webview is given by VS Code's own four kinds of theme into `themes/`: run it again when the page uses
 * further variables. `node esbuild.mjs --tests && tsx test/page/capture-themes.ts`
 */
const themes = {
  light: 'Default Light Modern',
  dark: 'Default Dark Modern',
  'high-contrast': 'Default High Contrast',
  'high-contrast-light': 'Default High Contrast Light',
};

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');
const script = ['main.js', 'main.css']
  .map((name) => readFileSync(join(root, 'dist', 'webview', name), 'utf8'))
  .join('\n');
const used = new Set([...script.matchAll(/--vscode-([\w-]+)/g)].map((match) => match[1]));
// Names that the page and the control toolkit put together from parts.
for (const match of script.matchAll(/["'`]([a-z]+[A-Za-z]*(?:-[A-Za-z]+)+)["'`]/g)) used.add(match[1]);

const workspace = mkdtempSync(join(tmpdir(), 'modproof-themes-'));
const file = join(workspace, 'flight.gpx');
const { recording } = simulatedFlight('themes', { receiver: 'handheld', length: 'circuits' });
writeFileSync(file, writeRecording(recording, 'gpx').bytes);
mkdirSync(join(here, 'themes'), { recursive: true });
const session = await startSession(workspace);
try {
  await session.driver.command('vscode.openWith', pathToFileURL(file).href, 'modproof.track');
  for (const [name, theme] of Object.entries(themes)) {
    await session.driver.setting('workbench.colorTheme', theme);
    const frame = await session.frame('viewer', '.page-header');
    await session.page.waitForTimeout(1500);
    const found = await frame.evaluate(() => ({
      bodyClass: document.body.className,
      style: document.documentElement.getAttribute('style') ?? '',
    }));
    const variables = Object.fromEntries(
      found.style
        .split(';')
        .map((rule) => rule.split(/:(.*)/s).map((part) => part.trim()))
        .filter(([key]) => key.startsWith('--vscode-') && used.has(key.slice('--vscode-'.length)))
        .map(([key, value]) => [key, value] as const),
    );
    writeFileSync(
      join(here, 'themes', `${name}.json`),
      `${JSON.stringify({ bodyClass: found.bodyClass, variables }, undefined, 2)}\n`,
    );
    console.log(`${name}: ${found.bodyClass}, ${Object.keys(variables).length} variables`);
  }
  await session.page.screenshot({ path: '/tmp/shot.png' });
} finally {
  await session.close();
  rmSync(workspace, { recursive: true, force: true, maxRetries: 5 });
}
