import * as vscode from 'vscode';

/**
 * Stands in for commands whose part of the extension is still being loaded: one that is called waits for it and is then
 * called again. The result takes the stand-ins away; to be called just before the real ones are registered.
 */
export function standInFor(commands: readonly string[], ready: Promise<unknown>): () => void {
  const standIns = commands.map((id) =>
    vscode.commands.registerCommand(id, async (...values: unknown[]) => {
      await ready;
      return vscode.commands.executeCommand(id, ...values);
    }),
  );
  return () => {
    for (const standIn of standIns) standIn.dispose();
  };
}
