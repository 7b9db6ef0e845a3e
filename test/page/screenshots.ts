import { copyFileSync, cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Frame } from 'playwright-core';
import { startSession } from '../host/session.ts';

/**
 * Pictures of the extension in a real VS Code, in its four kinds of theme, into `test/out/pictures/`; to be looked at.
 *   node esbuild.mjs --tests && tsx test/page/screenshots.ts [theme ...] [--readme]
 * With `--readme` the three that the README shows are written to `webview/media/pictures/` too.
 */
const themes = {
  light: 'Default Light Modern',
  dark: 'Default Dark Modern',
  'high-contrast': 'Default High Contrast',
  'high-contrast-light': 'Default High Contrast Light',
} as const;

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const pictures = join(root, 'test', 'out', 'pictures');
mkdirSync(pictures, { recursive: true });
const workspace = mkdtempSync(join(tmpdir(), 'modproof-pictures-'));
cpSync(join(root, 'examples'), workspace, { recursive: true });
const flights = readdirSync(join(workspace, 'flights')).sort();
const uri = (name: string): string => pathToFileURL(join(workspace, 'flights', name)).href;
const forReadme: Readonly<Record<string, string>> = {
  'viewer-dark': 'flight.png',
  'close-up-light': 'take-off.png',
  'overlay-dark': 'overlay.png',
};
const readmePictures = process.argv.includes('--readme') ? join(root, 'webview', 'media', 'pictures') : undefined;
if (readmePictures !== undefined) mkdirSync(readmePictures, { recursive: true });
const asked = process.argv.slice(2).filter((argument) => !argument.startsWith('--'));
const wanted = Object.entries(themes).filter(([name]) => asked.length === 0 || asked.includes(name));

const session = await startSession(workspace, { width: 1400, height: 920 });
const { page, driver } = session;
const take = async (name: string): Promise<void> => {
  await page.waitForTimeout(400);
  const path = join(pictures, `${name}.png`);
  await page.screenshot({ path });
  if (readmePictures !== undefined && name in forReadme) copyFileSync(path, join(readmePictures, forReadme[name]));
};
const tab = async (frame: Frame, name: string): Promise<void> => {
  await frame.click(`#tab-${name}`);
  await page.mouse.move(5, 700);
};
try {
  await driver.command('workbench.action.closeSidebar');
  const first = flights.find((name) => name.endsWith('.nmea')) ?? flights[0];
  for (const [name, theme] of wanted) {
    await driver.setting('workbench.colorTheme', theme);
    await driver.command('workbench.action.closeAllEditors');
    await driver.command('modproof.openAsFlight', uri(first));
    const frame = await session.frame('viewer', 'section[aria-labelledby=phases-title] table');
    const box = await frame.locator('#chart-height').boundingBox();
    if (box !== null) {
      await page.mouse.move(box.x + box.width * 0.3, box.y + 60);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width * 0.36, box.y + 60, { steps: 3 });
      await page.mouse.up();
    }
    await take(`viewer-${name}`);
    await tab(frame, 'runs');
    await take(`close-up-${name}`);
    await frame.locator('#correct-liftoff').click();
    await take(`correction-${name}`);
    await tab(frame, 'metrics');
    for (const [field, text] of [
      ['temperature', '21 degC'],
      ['altimeterSetting', '1016 hPa'],
      ['runwayElevation', '420 ft'],
      ['windFrom', '250 deg'],
      ['windSpeed', '9 kt'],
    ]) {
      await frame.locator(`#condition-${field}`).locator('input').fill(text);
    }
    await page.waitForTimeout(900);
    await take(`metrics-${name}`);
    const gpx = flights.filter((file) => /\.(?:gpx|nmea|igc)$/.test(file)).map(uri);
    await driver.command('modproof.overlayFlights', gpx[0], gpx.slice(0, 6));
    await session.frame('overlay', '.overlay-page');
    await take(`overlay-${name}`);
    console.log(`${name} done`);
  }
} finally {
  await session.close();
  rmSync(workspace, { recursive: true, force: true, maxRetries: 5 });
}
console.log(`Pictures are in ${pictures}`);
