import { readFileSync } from 'node:fs';
import { sharedData } from './shared-data.ts';

/**
 * A test on a file kept beside the repository. Where the file is absent the test is skipped and says which one was missing.
 */
export function itWithData(title: string, path: string, test: (bytes: Uint8Array) => Promise<void> | void): void {
  it(title, async function (this: Mocha.Context) {
    const found = sharedData(path);
    if (found === undefined) {
      console.warn(`      skipped: ${path} is not beside the repository`);
      this.skip();
    }
    await test(new Uint8Array(readFileSync(found)));
  });
}
