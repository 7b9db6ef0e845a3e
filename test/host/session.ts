import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Frame, Page } from 'playwright-core';
import { chromiumExecutable } from './chromium.ts';
import { Driver } from './driver.ts';
import { installHost } from './install.ts';
import { startServer } from './server.ts';
import { type OpenWindow, openWindow } from './window.ts';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

/** A window on `workspace` with the built extension in it, driven from outside. */
export interface Session {
  readonly window: OpenWindow;
  readonly page: Page;
  readonly driver: Driver;
  /** The frame of our page that is shown, once it has something to show. */
  frame(kind: 'viewer' | 'overlay', ready: string): Promise<Frame>;
  close(): Promise<void>;
}

export async function startSession(workspace: string, size?: { width: number; height: number }): Promise<Session> {
  const host = installHost(console.log);
  const scratch = mkdtempSync(join(tmpdir(), 'modproof-session-'));
  const driver = new Driver(join(scratch, 'driver'));
  const server = await startServer({
    serverScript: host.serverScript,
    userDataFolder: join(scratch, 'user'),
    extensionsFolder: join(scratch, 'extensions'),
  });
  const window = await openWindow({
    port: server.port,
    chromium: await chromiumExecutable(host.portableChromium),
    workspace,
    extension: root,
    tests: join(root, 'test', 'out', 'driver.cjs'),
    size,
  });
  const { page } = window;
  await driver.setting('workbench.editor.showTabs', 'multiple');
  return {
    window,
    page,
    driver,
    async frame(kind, ready) {
      const deadline = Date.now() + 60_000;
      for (;;) {
        for (const frame of page.frames()) {
          const found = await frame
            .evaluate(
              ([wanted, selector]) =>
                document.body?.dataset.page === wanted && document.querySelector(selector) !== null,
              [kind, ready],
            )
            .catch(() => false);
          if (found) return frame;
        }
        if (Date.now() > deadline) throw new Error(`no ${kind} came up within a minute`);
        await page.waitForTimeout(50);
      }
    },
    async close() {
      driver.end();
      await window.close();
      await server.stop();
      rmSync(scratch, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
