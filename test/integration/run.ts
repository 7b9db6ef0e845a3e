import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { downloadAndUnzipVSCode, runTests } from '@vscode/test-electron';
import { makeWorkspace } from './workspace.ts';

/**
 * Runs the suites inside a real VS Code, in its Node extension host and in its web worker host.
 *
 *   tsx test/integration/run.ts [node] [web]
 *
 * Which VS Code: the executable named by MODPROOF_VSCODE; else a downloaded desktop one, where there is a screen and it
 * can be had; else the one from the npm registry (`test/host`). MODPROOF_GREP runs only the suites that match.
 */

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');
const npmHosted = join(root, 'test', 'host', 'code.mjs');

/** The version that `test/host` carries, so that all hosts test the same one. */
const desktopVersion = '1.100.3';

function hasScreen(): boolean {
  return process.platform !== 'linux' || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);
}

async function executable(): Promise<string> {
  const named = process.env.MODPROOF_VSCODE;
  if (named !== undefined && named !== '') return named;
  if (!hasScreen()) return npmHosted;
  try {
    return await downloadAndUnzipVSCode({ version: desktopVersion, timeout: 15_000 });
  } catch (error) {
    console.log(`No desktop VS Code to be had (${(error as Error).message}); taking the npm-hosted one.`);
    return npmHosted;
  }
}

const asked = process.argv.slice(2).filter((argument) => argument === 'node' || argument === 'web');
const kinds = asked.length > 0 ? asked : ['node', 'web'];
const vscodeExecutablePath = await executable();
console.log(`VS Code: ${vscodeExecutablePath === npmHosted ? 'npm-hosted' : vscodeExecutablePath}`);

let failed = false;
for (const kind of kinds) {
  const workspace = mkdtempSync(join(tmpdir(), 'modproof-workspace-'));
  makeWorkspace(workspace);
  const profile = mkdtempSync(join(tmpdir(), 'modproof-profile-'));
  console.log(`\n== ${kind === 'web' ? 'web worker' : 'Node'} extension host ==`);
  try {
    await runTests({
      vscodeExecutablePath,
      extensionDevelopmentPath: root,
      extensionTestsPath: join(root, 'test', 'out', 'integration', kind === 'web' ? 'web.cjs' : 'node.cjs'),
      launchArgs: [
        workspace,
        `--user-data-dir=${join(profile, 'user')}`,
        `--extensions-dir=${join(profile, 'extensions')}`,
        ...(kind === 'web' ? ['--extensionDevelopmentKind=web'] : []),
      ],
    });
  } catch (error) {
    failed = true;
    console.error(`${kind}: ${(error as Error).message}`);
  } finally {
    rmSync(workspace, { recursive: true, force: true, maxRetries: 5 });
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}
process.exit(failed ? 1 : 0);
