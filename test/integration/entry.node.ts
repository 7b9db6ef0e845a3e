import mochaModule from 'mocha';
import { runAndReport } from './runner.ts';

/** `require` gives the module around the class, which the types do not know. */
const { Mocha } = mochaModule as unknown as { readonly Mocha: typeof mochaModule };

/** `runAndReport` prints. */
function silent(): void {}

/** Called by VS Code's Node extension host. */
export async function run(): Promise<void> {
  const mocha = new Mocha({ ui: 'bdd', timeout: 90_000, reporter: silent as never });
  const wanted = process.env.MODPROOF_GREP;
  if (wanted !== undefined && wanted !== '') mocha.grep(wanted);
  mocha.suite.emit('pre-require', globalThis, '', mocha);
  await import('./suites/index.ts');
  await runAndReport(mocha);
}
