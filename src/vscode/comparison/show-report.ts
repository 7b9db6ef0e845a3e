import * as vscode from 'vscode';

const previewEditor = 'vscode.markdown.preview.editor';

/** Where the report is shown already, else beside the comparison. */
function columnFor(report: vscode.Uri, spec: vscode.Uri): vscode.ViewColumn {
  for (const { tabs, viewColumn } of vscode.window.tabGroups.all) {
    const shown = tabs.some(
      ({ input }) => input instanceof vscode.TabInputCustom && input.uri.toString() === report.toString(),
    );
    if (shown) return viewColumn;
  }
  const editor = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === spec.toString());
  const { One, Two, Three, Four, Beside } = vscode.ViewColumn;
  const next = [One, Two, Three, Four][editor?.viewColumn ?? Beside];
  return next ?? Beside;
}

/** Shows a report as a preview beside its comparison; who is writing goes on writing. */
export async function showReport(report: vscode.Uri, spec: vscode.Uri): Promise<void> {
  const options = { viewColumn: columnFor(report, spec), preserveFocus: true, preview: true };
  try {
    await vscode.commands.executeCommand('vscode.openWith', report, previewEditor, options);
  } catch {
    // The Markdown preview may be switched off.
    await vscode.window.showTextDocument(report, options);
  }
}
