#!/usr/bin/env node
// Takes the arguments of the `code` program, and is given to @vscode/test-electron as `vscodeExecutablePath`.
import { register } from 'tsx/esm/api';

register();
const { runAsCode } = await import('./run-as-code.ts');
process.exit(await runAsCode(process.argv.slice(2)));
