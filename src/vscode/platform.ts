import type * as vscode from 'vscode';
import type { ByteSource } from '../engine/world.ts';
import type { ThreadMaker } from './reading/threads.ts';

/** What differs between the Node and the web worker extension host. */
export interface Platform {
  openBytes(uri: vscode.Uri): Promise<OpenedBytes>;
  /** Threads beside the editor's own; absent where there are none. */
  readonly threads?: () => Promise<ThreadMaker>;
}

export interface OpenedBytes {
  readonly source: ByteSource;
  close(): Promise<void>;
}
