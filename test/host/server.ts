import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';

export interface ServerOptions {
  readonly serverScript: string;
  /** Both are created when absent. */
  readonly userDataFolder: string;
  readonly extensionsFolder: string;
  /** Further user settings, over the quiet ones below. */
  readonly settings?: Readonly<Record<string, unknown>>;
  readonly port?: number;
}

export interface RunningServer {
  readonly port: number;
  /** Everything the server said, for when something goes wrong. */
  log(): string;
  /** Ends the server and waits for it. */
  stop(): Promise<void>;
}

const quietSettings = {
  'security.workspace.trust.enabled': false,
  'workbench.startupEditor': 'none',
  'extensions.ignoreRecommendations': true,
  'telemetry.telemetryLevel': 'off',
  'workbench.enableExperiments': false,
  'update.mode': 'none',
};

export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        address !== null && typeof address === 'object' ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });
}

function ended(child: ChildProcess): boolean {
  return child.exitCode !== null || child.signalCode !== null;
}

/** Starts VS Code's server on this machine's loopback. Throws with its log when it does not answer within a minute. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { userDataFolder, extensionsFolder } = options;
  const serverData = join(userDataFolder, 'server');
  for (const folder of [join(userDataFolder, 'User'), serverData, extensionsFolder])
    mkdirSync(folder, { recursive: true });
  const settingsFile = join(userDataFolder, 'User', 'settings.json');
  if (!existsSync(settingsFile) || options.settings !== undefined) {
    writeFileSync(settingsFile, `${JSON.stringify({ ...quietSettings, ...options.settings }, undefined, 2)}\n`);
  }
  const port = options.port ?? (await freePort());
  const child = spawn(
    process.execPath,
    [
      options.serverScript,
      '--host=127.0.0.1',
      `--port=${port}`,
      '--without-connection-token',
      '--accept-server-license-terms',
      '--telemetry-level=off',
      `--user-data-dir=${userDataFolder}`,
      `--server-data-dir=${serverData}`,
      `--extensions-dir=${extensionsFolder}`,
    ],
    // No gallery: nothing is to be asked of the network.
    { stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, EXTENSIONS_GALLERY: '{"serviceUrl":""}' } },
  );
  let said = '';
  const listen = (text: Buffer) => {
    said = (said + text.toString()).slice(-200_000);
  };
  child.stdout.on('data', listen);
  child.stderr.on('data', listen);
  const stop = async () => {
    if (ended(child)) return;
    const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
    child.kill('SIGTERM');
    const last = setTimeout(() => child.kill('SIGKILL'), 5_000);
    await gone;
    clearTimeout(last);
  };
  const deadline = Date.now() + 60_000;
  while (!said.includes('Extension host agent listening')) {
    if (ended(child)) throw new Error(`VS Code's server ended at once:\n${said}`);
    if (Date.now() > deadline) {
      await stop();
      throw new Error(`VS Code's server did not come up within a minute:\n${said}`);
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return { port, log: () => said, stop };
}
