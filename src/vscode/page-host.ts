import * as vscode from 'vscode';
import type { CommonHostMethods, SaveRequest } from '../../shared/protocol.ts';
import type { Implementation } from '../../shared/rpc.ts';
import { folderOf } from './paths.ts';

/** What every page may ask: the clipboard and the save dialog. `beside` is the file next to which pictures are offered. */
export function commonMethods(beside: vscode.Uri): Implementation<CommonHostMethods> {
  return {
    async copyText({ text, what }) {
      await vscode.env.clipboard.writeText(text);
      vscode.window.setStatusBarMessage(`${what} copied`, 3000);
    },
    save: (request) => saveFile(request, beside),
  };
}

async function saveFile(request: SaveRequest, beside: vscode.Uri): Promise<string | undefined> {
  const ending = request.suggestedName.slice(request.suggestedName.lastIndexOf('.') + 1);
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.joinPath(folderOf(beside), request.suggestedName),
    filters: { [request.kind]: [ending] },
  });
  if (target === undefined) return undefined;
  const bytes = typeof request.content === 'string' ? new TextEncoder().encode(request.content) : request.content;
  await vscode.workspace.fs.writeFile(target, bytes);
  return vscode.workspace.asRelativePath(target);
}
