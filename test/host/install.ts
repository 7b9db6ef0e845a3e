import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromiumOnPath, onPath } from './chromium.ts';

/**
 * A complete VS Code from the npm registry alone, for machines where the desktop one cannot be had: the server, workbench
 * and extension hosts inside `code-server`, and a headless Chromium to show them. Everything goes to `.vscode-test/`
 * (ignored by git); a second call finds it done. Nothing is compiled: the native modules that are then missing (log
 * files, watchdog, terminal) are ones that VS Code does without.
 */

/** The newest that runs on Node 20: VS Code 1.100.3. */
const codeServer = 'code-server@4.100.3';
const portableChromium = '@sparticuz/chromium@138.0.2';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const home = join(root, '.vscode-test', 'host');

export interface InstalledHost {
  /** VS Code's own server script. */
  readonly serverScript: string;
  /** Folder under `.vscode-test/` where the host may keep its data. */
  readonly home: string;
  /** Script that unpacks a Chromium, where there is none on PATH. */
  readonly portableChromium?: string;
}

function npm(command: readonly string[], cwd: string): void {
  // npm is a script on Windows, hence the shell there; the arguments are ours and hold no blanks.
  const run = spawnSync('npm', [...command, '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd,
    encoding: 'utf8',
    shell: process.platform === 'win32',
    timeout: 600_000,
  });
  if (run.status !== 0) {
    throw new Error(
      `npm ${command.join(' ')} failed in ${cwd}\n${run.error?.message ?? ''}\n${run.stdout}${run.stderr}`,
    );
  }
}

function linkOnce(target: string, link: string): void {
  rmSync(link, { force: true, recursive: true });
  symlinkSync(target, link, 'junction');
}

/**
 * Modules of compiled code that the server can do without but complains about at length when they fail to load: log
 * files, a watchdog over the parent process, a device identity. An empty module in their place is all they need.
 */
const silenced: Readonly<Record<string, string>> = {
  '@vscode/spdlog':
    "const quiet = new Proxy({}, { get: (_, name) => (name === 'then' ? undefined : () => undefined) });\n" +
    'exports.createAsyncRotatingLogger = async () => quiet;\nexports.createRotatingLogger = async () => quiet;\n' +
    'exports.setFlushOn = () => undefined;\nexports.setLevel = () => undefined;\n',
  'native-watchdog': 'exports.start = () => undefined;\nexports.exit = (code) => process.exit(code);\n',
};

function silence(modules: string): void {
  for (const [name, text] of Object.entries(silenced)) {
    const folder = join(modules, name);
    const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as { main?: string };
    writeFileSync(join(folder, manifest.main ?? 'index.js'), text);
  }
}

/** Installs what is missing and says where it is. Throws with npm's own words when the registry cannot be reached. */
export function installHost(log: (line: string) => void = () => undefined): InstalledHost {
  const needsChromium = chromiumOnPath() === undefined;
  const chromiumFolder = join(home, 'node_modules', '@sparticuz', 'chromium');
  const vscode = join(home, 'node_modules', 'code-server', 'lib', 'vscode');
  const done = join(home, 'complete');
  const host: InstalledHost = {
    serverScript: join(vscode, 'out', 'server-main.js'),
    home,
    ...(needsChromium ? { portableChromium: join(chromiumFolder, 'build', 'esm', 'index.js') } : {}),
  };
  if (existsSync(done) && existsSync(host.serverScript) && (!needsChromium || existsSync(chromiumFolder))) return host;

  mkdirSync(home, { recursive: true });
  writeFileSync(join(home, 'package.json'), '{ "private": true }\n');
  const began = performance.now();
  log(`Installing a VS Code to test in (${codeServer}, about 270 MB, once) ...`);
  npm(['install', '-E', '--ignore-scripts', codeServer, ...(needsChromium ? [portableChromium] : [])], home);
  npm(['install', '--omit=dev', '--ignore-scripts', '--legacy-peer-deps'], vscode);
  linkOnce(join(vscode, 'node_modules'), join(vscode, 'node_modules.asar'));
  silence(join(vscode, 'node_modules'));
  const ripgrep = onPath(['rg']);
  if (ripgrep !== undefined) {
    const bin = join(vscode, 'node_modules', '@vscode', 'ripgrep', 'bin');
    mkdirSync(bin, { recursive: true });
    rmSync(join(bin, 'rg'), { force: true });
    symlinkSync(ripgrep, join(bin, 'rg'));
  }
  writeFileSync(done, `${codeServer}\n`);
  log(`... installed in ${((performance.now() - began) / 1000).toFixed(0)} s.`);
  return host;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.log(installHost(console.log).serverScript);
}
