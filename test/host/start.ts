import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onPath } from './chromium.ts';
import { installHost } from './install.ts';
import { startServer } from './server.ts';
import { windowAddress } from './window.ts';

/**
 * `npm start`: a real VS Code with the extension and a copy of the examples. The desktop one where there is a screen and
 * `code` on PATH (or MODPROOF_VSCODE names another); else the npm-hosted one, at an address to open in a browser.
 * `--check` opens nothing, answers one request and ends: for tests.
 */

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const check = process.argv.includes('--check');

function run(command: string, commandArguments: readonly string[]): void {
  const { status } = spawnSync(command, commandArguments, { cwd: root, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}

/** A copy of its own, so that trying things out does not change the examples. */
function workspace(): string {
  const folder = join(root, '.vscode-test', 'start', 'examples');
  if (!existsSync(folder)) {
    mkdirSync(folder, { recursive: true });
    cpSync(join(root, 'examples'), folder, { recursive: true });
  }
  return folder;
}

function desktop(): string | undefined {
  const screen = process.platform !== 'linux' || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);
  return process.env.MODPROOF_VSCODE ?? (screen ? onPath(['code', 'code-insiders', 'codium']) : undefined);
}

run(process.execPath, [join(root, 'esbuild.mjs')]);
const folder = workspace();
const program = check ? undefined : desktop();
if (program !== undefined) {
  console.log(`Opening ${program} on ${folder}`);
  spawn(program, ['--new-window', `--extensionDevelopmentPath=${root}`, folder], {
    detached: true,
    stdio: 'ignore',
  }).unref();
} else {
  const host = installHost((line) => console.log(line));
  const data = join(root, '.vscode-test', 'start');
  const server = await startServer({
    serverScript: host.serverScript,
    userDataFolder: join(data, 'user'),
    extensionsFolder: join(data, 'extensions'),
  });
  const address = windowAddress({ port: server.port, workspace: folder, extension: root });
  if (check) {
    const { status } = await fetch(address);
    await server.stop();
    console.log(`The editor answered with ${status}.`);
    process.exit(status === 200 ? 0 : 1);
  }
  console.log(`\nVS Code with Modproof and the examples is at\n\n  ${address}\n\nCtrl+C ends it.`);
  const end = (): void => void server.stop().then(() => process.exit(0));
  process.on('SIGINT', end);
  process.on('SIGTERM', end);
}
