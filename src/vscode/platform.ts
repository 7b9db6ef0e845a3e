import type * as vscode from 'vscode';
import type { ByteSource } from '../engine/world.ts';

/** What differs between the Node and the web worker extension host. */
export interface Platform {
  openBytes(uri: vscode.Uri): Promise<OpenedBytes>;
}

export interface OpenedBytes {
  readonly source: ByteSource;
  close(): Promise<void>;
}
