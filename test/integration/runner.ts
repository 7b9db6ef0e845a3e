import { reportMark } from './report-mark.ts';

/** As much of mocha as its Node and browser builds have in common. */
export interface RunnableMocha {
  run(done: (failures: number) => void): Mocha.Runner;
}

function say(text: string): void {
  for (const line of text.split('\n')) console.log(reportMark + line);
}

/** Runs what was defined and prints it. Rejects when a test failed or none passed. */
export function runAndReport(mocha: RunnableMocha): Promise<void> {
  return new Promise((resolve, reject) => {
    const started = Date.now();
    let passed = 0;
    const runner = mocha.run((failures) => {
      say(`\n  ${passed} passing (${((Date.now() - started) / 1000).toFixed(1)} s), ${failures} failing\n`);
      if (failures > 0) reject(new Error(`${failures} failed`));
      else if (passed === 0) reject(new Error('no test ran'));
      else resolve();
    });
    runner.on('suite', (suite: Mocha.Suite) => {
      if (suite.title !== '') say(`\n  ${suite.fullTitle()}`);
    });
    runner.on('pass', (test: Mocha.Test) => {
      passed++;
      say(`    ✔ ${test.title} (${test.duration ?? 0} ms)`);
    });
    runner.on('pending', (test: Mocha.Test) => say(`    - ${test.title} (skipped)`));
    runner.on('fail', (test: Mocha.Test, error: Error) => say(`    ✖ ${test.title}\n${error.stack ?? error.message}`));
  });
}
