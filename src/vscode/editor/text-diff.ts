import * as vscode from 'vscode';

/** Long enough for the editor to tell extensions of its new tab. */
const settleMs = 150;

interface Side {
  readonly uri: vscode.Uri;
  readonly panel: vscode.WebviewPanel;
}

function hasTabOfItsOwn(uri: vscode.Uri): boolean {
  const key = uri.toString();
  return vscode.window.tabGroups.all.some(({ tabs }) =>
    tabs.some(({ input }) => input instanceof vscode.TabInputCustom && input.uri.toString() === key),
  );
}

/** The tab of a comparison in which an editor of ours stands on both sides: VS Code gives it no kind of input. */
function comparisonTab(): vscode.Tab | undefined {
  return vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs).find((tab) => tab.isActive && tab.input === undefined);
}

/**
 * Older versions of VS Code put a file type's default viewer into comparisons too, also those of version control. Two
 * pictures beside each other tell nothing of a change: the comparison of the texts is opened in their place.
 */
export class TextDiffs {
  #sides: Side[] = [];

  /** To be told of every panel that is resolved. */
  async resolved(uri: vscode.Uri, panel: vscode.WebviewPanel): Promise<void> {
    const side = { uri, panel };
    this.#sides.push(side);
    panel.onDidDispose(() => {
      this.#sides = this.#sides.filter((one) => one !== side);
    });
    await new Promise((resolve) => setTimeout(resolve, settleMs));
    if (hasTabOfItsOwn(uri)) {
      this.#sides = this.#sides.filter((one) => one !== side);
      return;
    }
    const pair = this.#sides.filter((one) => !hasTabOfItsOwn(one.uri));
    const tab = comparisonTab();
    if (pair.length < 2 || tab === undefined || !pair.includes(side)) return;
    this.#sides = this.#sides.filter((one) => !pair.includes(one));
    const [original, modified] = inOrder(pair[0], pair[1]);
    await vscode.window.tabGroups.close(tab);
    // A boolean `override` asks for the plain editor; the option is older than its type.
    const options = { override: false, preview: true } as vscode.TextDocumentShowOptions;
    await vscode.commands.executeCommand('vscode.diff', original.uri, modified.uri, tab.label, options);
  }
}

/** The version that lies elsewhere than on disk is the older one; else in the order in which they were opened. */
function inOrder(a: Side, b: Side): readonly [Side, Side] {
  return a.uri.scheme === 'file' && b.uri.scheme !== 'file' ? [b, a] : [a, b];
}
