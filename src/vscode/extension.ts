import type * as vscode from 'vscode';

export function activate(context: vscode.ExtensionContext): void {
  void context;
}
