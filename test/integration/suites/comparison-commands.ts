import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { activeInput, closeAll, extensionApi, file } from '../editor.ts';
import { openSpec, removeFiles, removeSpecs, textOf, wholeSpec } from '../specs.ts';

function activeText(): vscode.Uri | undefined {
  const input = activeInput();
  return input instanceof vscode.TabInputText ? input.uri : undefined;
}

describe('commands of comparisons', () => {
  afterEach(async () => {
    await removeSpecs();
    await removeFiles(
      'campaign/commands.md',
      'campaign/commands-figures',
      'campaign/comparison.modproof.yaml',
      'flights/comparison.modproof.yaml',
      'modproof-example',
    );
  });

  it('makes a comparison of marked recordings', async () => {
    await extensionApi();
    const tracks = [file('flights/handheld.gpx'), file('flights/logger.igc'), file('flights/watch.fit')];
    const spec = await vscode.commands.executeCommand<vscode.Uri>('modproof.newComparison', tracks[0], tracks, {
      changedOn: false,
    });
    assert.equal(spec.path, file('flights/comparison.modproof.yaml').path);
    const text = await textOf(spec);
    for (const track of ['handheld.gpx', 'logger.igc', 'watch.fit'])
      assert.ok(text.includes(`- track: ${track}`), track);
    assert.match(text, /# take-off \d\d:\d\d:\d\d UTC/);
    assert.match(text, /file: comparison\.md/);
    assert.equal(activeText()?.path, spec.path);
  });

  it('makes a comparison of a folder, with the day of the change', async () => {
    await extensionApi();
    const spec = await vscode.commands.executeCommand<vscode.Uri>(
      'modproof.newComparison',
      file('campaign'),
      undefined,
      { changedOn: '2026-06-01' },
    );
    const text = await textOf(spec);
    assert.equal(text.match(/configuration: before/g)?.length, 3);
    assert.equal(text.match(/configuration: after/g)?.length, 3);
    const [, track] = /track: (\S+)/.exec(text) ?? [];
    const again = await vscode.commands.executeCommand<vscode.Uri>('modproof.newComparison', file(`campaign/${track}`));
    assert.match(again.path, /comparison-2\.modproof\.yaml$/);
    await removeFiles('campaign/comparison-2.modproof.yaml');
  });

  it('checks, evaluates and opens the report of the comparison in the active editor', async () => {
    const { uri } = await openSpec((text) => text.replace('before-after.md', 'commands.md'));
    assert.equal(await vscode.commands.executeCommand('modproof.checkComparison'), 0);
    await vscode.window.showTextDocument(uri);
    assert.equal(await vscode.commands.executeCommand('modproof.evaluateComparison'), 6);
    await vscode.window.showTextDocument(uri, { viewColumn: vscode.ViewColumn.One });
    const report = await vscode.commands.executeCommand<vscode.Uri>('modproof.openReport');
    assert.equal(report.path, file('campaign/commands.md').path);
    await assert.eventually(
      () =>
        vscode.window.tabGroups.all.some(({ tabs }) => tabs.some(({ label }) => label.includes('commands.md'))) ||
        undefined,
      'the report beside',
    );
  });

  it('checks a comparison that is given', async () => {
    await extensionApi();
    await closeAll();
    assert.equal(await vscode.commands.executeCommand('modproof.checkComparison', file(wholeSpec)), 0);
    assert.equal(activeText()?.path, file(wholeSpec).path);
  });

  it('copies the example into a folder of the workspace and opens its comparison', async () => {
    await extensionApi();
    const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
    const spec = await vscode.commands.executeCommand<vscode.Uri>('modproof.copyExample', folder);
    assert.ok((await textOf(spec)).startsWith('modproof: 1'));
    assert.equal(activeText()?.path, spec.path);
    const document = await vscode.workspace.openTextDocument(spec);
    const tracks = [...document.getText().matchAll(/- track: (\S+)/g)].map(([, track]) => track);
    for (const track of tracks) await vscode.workspace.fs.stat(vscode.Uri.joinPath(spec, '..', track));
    assert.ok(tracks.length > 5);
  });
});
