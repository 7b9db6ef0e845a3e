import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import type { ConditionsView, FlightView } from '../../shared/flight-view.ts';
import type { OpenedFlight, OverlayView, UnreadableFlight } from '../../shared/protocol.ts';
import { type PageKind, pageText } from '../../src/vscode/editor/page-html.ts';
import { chromiumExecutable, chromiumFlags, chromiumOnPath } from '../host/chromium.ts';
import { installHost } from '../host/install.ts';
import type { FakeHost } from './fake-host.ts';
import { pack } from './transfer.ts';

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');
const site = 'http://page.invalid';

export const themeNames = ['light', 'dark', 'high-contrast', 'high-contrast-light'] as const;
export type ThemeName = (typeof themeNames)[number];

interface Theme {
  readonly bodyClass: string;
  readonly variables: Readonly<Record<string, string>>;
}

function readTheme(name: ThemeName): Theme {
  return JSON.parse(readFileSync(join(here, 'themes', `${name}.json`), 'utf8')) as Theme;
}

export async function launchChromium(): Promise<Browser> {
  const executablePath = await chromiumExecutable(
    chromiumOnPath() === undefined ? installHost().portableChromium : undefined,
  );
  return chromium.launch({ executablePath, args: [...chromiumFlags] });
}

export interface PageOptions {
  readonly kind?: PageKind;
  readonly theme?: ThemeName;
  readonly flight?: OpenedFlight | UnreadableFlight;
  readonly analysis?: FlightView;
  readonly overlay?: OverlayView;
  readonly conditions?: ConditionsView;
  readonly state?: unknown;
  readonly delayMs?: number;
  readonly size?: { readonly width: number; readonly height: number };
  /** 2 shows the page at 200 %: half the room in CSS pixels. */
  readonly zoom?: number;
  readonly reducedMotion?: boolean;
}

export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors of the script, of the policy and of the console. */
  readonly trouble: string[];
  fake<T>(read: (fake: FakeHost) => T): Promise<T>;
}

let fakeScript: string | undefined;

/** The webview bundle in Chromium, under the real page's policy, with a host that the test plays. */
export async function openPage(browser: Browser, options: PageOptions): Promise<OpenPage> {
  fakeScript ??= buildSync({
    entryPoints: [join(here, 'fake-host.ts')],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
  }).outputFiles[0].text;
  const { zoom = 1, size = { width: 1200, height: 900 } } = options;
  const context = await browser.newContext({
    viewport: { width: Math.round(size.width / zoom), height: Math.round(size.height / zoom) },
    deviceScaleFactor: zoom,
    reducedMotion: options.reducedMotion === true ? 'reduce' : 'no-preference',
  });
  const page = await context.newPage();
  const trouble: string[] = [];
  page.on('pageerror', (error) => trouble.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') trouble.push(message.text());
  });
  const theme = readTheme(options.theme ?? 'dark');
  const html = pageText({
    kind: options.kind ?? 'viewer',
    script: `${site}/main.js`,
    style: `${site}/main.css`,
    source: site,
    nonce: 'test',
  });
  await page.route(`${site}/**`, (route) => {
    const name = new URL(route.request().url()).pathname.slice(1);
    if (name === '') return route.fulfill({ contentType: 'text/html', body: html });
    return route.fulfill({
      contentType: name.endsWith('.css') ? 'text/css' : 'text/javascript',
      body: readFileSync(join(root, 'dist', 'webview', name)),
    });
  });
  const given = {
    flight: options.flight === undefined ? '' : pack(options.flight),
    analysis: options.analysis === undefined ? '' : pack(options.analysis),
    overlay: options.overlay === undefined ? '' : pack(options.overlay),
    conditions: pack(options.conditions ?? ({ faults: {}, corrected: [], remarks: [] } satisfies ConditionsView)),
    asked: [],
    state: options.state,
    delayMs: options.delayMs ?? 0,
    failing: undefined,
  };
  // The runner of the tests compiles functions with a helper of this name, which the page does not have.
  await page.addInitScript('globalThis.__name = (named) => named;');
  await page.addInitScript((first) => {
    // A reload of the page, as when a tab is hidden and shown again, keeps what `setState` kept.
    const kept = sessionStorage.getItem('kept');
    window.modproofFake = {
      ...first,
      ...(kept === null ? {} : { state: JSON.parse(kept) as unknown }),
    } as unknown as FakeHost;
    window.addEventListener('pagehide', () => {
      sessionStorage.setItem('kept', JSON.stringify(window.modproofFake.state ?? null));
    });
  }, given);
  await page.addInitScript(fakeScript);
  await page.addInitScript(({ bodyClass, variables }) => {
    const style = Object.entries(variables)
      .map(([name, value]) => `${name}: ${value}`)
      .join('; ');
    const dress = (): void => {
      document.documentElement.style.cssText = style;
      document.body.className = bodyClass;
    };
    new MutationObserver((_, observer) => {
      if (document.body === null) return;
      dress();
      observer.disconnect();
    }).observe(document, { childList: true, subtree: true });
  }, theme);
  await page.goto(`${site}/`);
  return {
    page,
    context,
    trouble,
    fake: (read) => page.evaluate(`(${read.toString()})(window.modproofFake)`),
  };
}
