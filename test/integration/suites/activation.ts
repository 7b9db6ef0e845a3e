import * as assert from '../assert.ts';
import * as vscode from 'vscode';

describe('the extension', () => {
  it('is here and activates', async () => {
    const extension = vscode.extensions.getExtension('modproof.modproof');
    assert.ok(extension, 'the extension under development was not found');
    await extension.activate();
    assert.equal(extension.isActive, true);
  });
});
