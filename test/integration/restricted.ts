import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import assert from 'node:assert/strict';
import { startSession } from '../host/session.ts';
import { makeComparison } from './comparison-workspace.ts';

/**
 * Evaluates comparisons in a folder that is not trusted, in a real VS Code: tsx test/integration/restricted.ts
 *
 * The suites cannot do it: a window under test trusts its folder. What is claimed is what `package.nls.json` says under
 * "restricted".
 */
const scratch = mkdtempSync(join(tmpdir(), 'modproof-restricted-'));
const folder = join(scratch, 'folder');
mkdirSync(folder);
makeComparison(folder);
const whole = join(folder, 'campaign', 'before-after.modproof.yaml');
const outside = join(folder, 'campaign', 'outside.modproof.yaml');
const report = join(folder, 'campaign', 'before-after.md');
writeFileSync(outside, readFileSync(whole, 'utf8').replace('file: before-after.md', 'file: ../../outside.md'));
mkdirSync(join(folder, '.vscode'));
writeFileSync(join(folder, '.vscode', 'settings.json'), '{ "modproof.evaluateOnSave": true }\n');

const session = await startSession(folder);
const { page, driver } = session;
try {
  await driver.setting('security.workspace.trust.enabled', true);
  await driver.setting('security.workspace.trust.startupPrompt', 'never');
  await driver.setting('security.workspace.trust.untrustedFiles', 'open');
  await page.reload();
  await page.getByText('Restricted Mode', { exact: true }).first().waitFor({ timeout: 60_000 });
  await driver.command('vscode.open', `file://${whole}`);
  assert.equal(await driver.command('modproof.evaluateComparison', `file://${whole}`), 6);
  assert.ok(existsSync(report), 'the report beside the comparison');
  assert.equal(await driver.command('modproof.evaluateComparison', `file://${outside}`), 6);
  assert.ok(!existsSync(join(scratch, 'outside.md')), 'nothing is written outside the folder');
  rmSync(report);
  await driver.command('vscode.open', `file://${whole}`);
  await driver.command('type', { text: '\n' });
  await driver.command('workbench.action.files.save');
  await page.waitForTimeout(5000);
  assert.ok(readFileSync(whole, 'utf8').startsWith('\n'), 'the comparison was saved');
  assert.ok(!existsSync(report), 'a setting of the folder does not evaluate on save');
  console.log('Restricted Mode: evaluated, written inside the folder only, settings of the folder not followed.');
} finally {
  await session.close();
  rmSync(scratch, { recursive: true, force: true, maxRetries: 5 });
}
