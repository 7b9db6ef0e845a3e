// Type-checks every layer with its own tsconfig, so that the engine cannot use Node or the DOM by accident.
import { spawnSync } from 'node:child_process';

const layers = ['shared', 'src/engine', 'src/cli', 'src/vscode', 'src/vscode/node', 'webview', 'test'];
const asked = process.argv.slice(2);
let failed = false;
for (const layer of asked.length > 0 ? asked : layers) {
  const run = spawnSync(process.execPath, ['node_modules/typescript/bin/tsc', '-p', layer], { stdio: 'inherit' });
  if (run.status !== 0) {
    console.error(`types: ${layer} failed`);
    failed = true;
  }
}
process.exit(failed ? 1 : 0);
