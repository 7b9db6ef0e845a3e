import { type Browser, chromium, type Page } from 'playwright-core';
import { chromiumFlags } from './chromium.ts';

export interface WindowOptions {
  readonly port: number;
  readonly chromium: string;
  /** Absolute folder (or .code-workspace file) to open. */
  readonly workspace?: string;
  /** Absolute folder of the extension under development. */
  readonly extension?: string;
  /** Absolute path of the module that exports `run()`. */
  readonly tests?: string;
  /** Absolute path of a file to open at once. */
  readonly openFile?: string;
  readonly size?: { readonly width: number; readonly height: number };
  /** A line that the tests or the extension host printed. */
  readonly onLine?: (kind: string, line: string) => void;
}

export interface OpenWindow {
  readonly browser: Browser;
  readonly page: Page;
  /** Settles with the exit code of the tests; rejects when the page dies. */
  readonly exit: Promise<number>;
  close(): Promise<void>;
}

/** Address of a workbench window on a running server, with the extension under development in it. */
export function windowAddress(options: Omit<WindowOptions, 'chromium'>): string {
  const remote = (path: string) =>
    `vscode-remote://127.0.0.1:${options.port}${path.startsWith('/') ? '' : '/'}${path.replaceAll('\\', '/')}`;
  const payload: [string, string][] = [
    ['skipWelcome', 'true'],
    ['skipReleaseNotes', 'true'],
  ];
  if (options.extension !== undefined) payload.push(['extensionDevelopmentPath', remote(options.extension)]);
  if (options.tests !== undefined) payload.push(['extensionTestsPath', remote(options.tests)]);
  if (options.openFile !== undefined) payload.push(['openFile', remote(options.openFile)]);
  const query = new URLSearchParams();
  if (options.workspace !== undefined) {
    query.set(
      options.workspace.endsWith('.code-workspace') ? 'workspace' : 'folder',
      options.workspace.replaceAll('\\', '/'),
    );
  }
  query.set('payload', JSON.stringify(payload));
  return `http://127.0.0.1:${options.port}/?${query.toString()}`;
}

/** Opens a workbench window in headless Chromium. */
export async function openWindow(options: WindowOptions): Promise<OpenWindow> {
  const browser = await chromium.launch({ executablePath: options.chromium, args: [...chromiumFlags], headless: true });
  const context = await browser.newContext({
    viewport: options.size ?? { width: 1400, height: 900 },
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  const page = await context.newPage();
  let settle!: (code: number) => void;
  let fail!: (reason: Error) => void;
  const exit = new Promise<number>((resolve, reject) => {
    settle = resolve;
    fail = reject;
  });
  exit.catch(() => undefined);
  await page.exposeFunction('codeAutomationLog', (kind: string, values: unknown[]) => {
    options.onLine?.(
      kind,
      values.map((value) => (typeof value === 'string' ? value : JSON.stringify(value))).join(' '),
    );
  });
  await page.exposeFunction('codeAutomationExit', (code: number) => settle(code));
  page.on('crash', () => fail(new Error('the page of the workbench crashed')));
  browser.on('disconnected', () => fail(new Error('Chromium ended')));
  await page.goto(windowAddress(options));
  return { browser, page, exit, close: () => browser.close() };
}
