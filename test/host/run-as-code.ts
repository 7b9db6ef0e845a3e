import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromiumExecutable } from './chromium.ts';
import { reportMark } from '../integration/report-mark.ts';
import { installHost } from './install.ts';
import { startServer } from './server.ts';
import { openWindow } from './window.ts';

/** What of VS Code's command line this host understands; the rest (sandbox, welcome page ...) does not concern it. */
export interface CodeArguments {
  readonly workspace?: string;
  readonly extension?: string;
  readonly tests?: string;
  readonly kind: 'node' | 'web';
  readonly userDataFolder?: string;
  readonly extensionsFolder?: string;
}

export function parseCodeArguments(given: readonly string[]): CodeArguments {
  const option = (name: string) => {
    const found = [...given].reverse().find((argument) => argument.startsWith(`--${name}=`));
    return found?.slice(name.length + 3);
  };
  return {
    workspace: given.find((argument) => !argument.startsWith('-')),
    extension: option('extensionDevelopmentPath'),
    tests: option('extensionTestsPath'),
    kind: option('extensionDevelopmentKind') === 'web' ? 'web' : 'node',
    userDataFolder: option('user-data-dir'),
    extensionsFolder: option('extensions-dir'),
  };
}

/** A suite that hangs is ended after this time. */
const patienceMs = Number(process.env.MODPROOF_HOST_PATIENCE_S ?? 600) * 1000;

/** Publisher and name in the manifest. */
const extensionName = 'modproof.modproof';

function absolute(path: string | undefined): string | undefined {
  return path === undefined ? undefined : resolve(path);
}

/** Runs the tests in the npm-hosted VS Code and returns their exit code. */
export async function runAsCode(commandLine: readonly string[]): Promise<number> {
  const asked = parseCodeArguments(commandLine);
  const host = installHost((line) => console.log(line));
  const scratch = mkdtempSync(join(tmpdir(), 'modproof-host-'));
  const server = await startServer({
    serverScript: host.serverScript,
    userDataFolder: asked.userDataFolder ?? join(scratch, 'user'),
    extensionsFolder: asked.extensionsFolder ?? join(scratch, 'extensions'),
    // This VS Code does not hear `extensionDevelopmentKind` in the address of its page (it reads the value under another
    // name than it looks it up by): the setting for users says the same.
    settings: asked.kind === 'web' ? { 'remote.extensionKind': { [extensionName]: ['web'] } } : undefined,
  });
  const chatter: string[] = [];
  try {
    const window = await openWindow({
      port: server.port,
      chromium: await chromiumExecutable(host.portableChromium),
      workspace: absolute(asked.workspace),
      extension: absolute(asked.extension),
      tests: absolute(asked.tests),
      onLine: (_kind, line) => {
        // The runner marks its lines; the rest is the workbench talking to itself, kept for when a run fails.
        if (line.startsWith(reportMark)) console.log(line.slice(reportMark.length));
        else chatter.push(line);
      },
    });
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new Error(`no result within ${patienceMs / 1000} s`)), patienceMs);
    });
    try {
      return await Promise.race([window.exit, late]);
    } catch (error) {
      console.error(error instanceof Error ? error.message : error);
      console.error(server.log().slice(-4000));
      await window.page.screenshot({ path: join(host.home, 'failure.png') }).catch(() => undefined);
      return 1;
    } finally {
      clearTimeout(timer);
      await window.close();
    }
  } finally {
    await server.stop();
    writeFileSync(join(host.home, `last-run-${asked.kind}.log`), `${chatter.join('\n')}\n${server.log()}`);
    rmSync(scratch, { recursive: true, force: true, maxRetries: 5 });
  }
}
