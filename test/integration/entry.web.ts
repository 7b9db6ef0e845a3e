// The browser build of mocha sets the globals; there is no document in a web worker, hence no HTML reporter.
import 'mocha/mocha.js';
import { runAndReport } from './runner.ts';

/** Called by VS Code's web worker extension host. */
export async function run(): Promise<void> {
  mocha.setup({ ui: 'bdd', timeout: 90_000, reporter: undefined });
  await import('./suites/index.ts');
  await runAndReport(mocha);
}
