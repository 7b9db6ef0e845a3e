import * as vscode from 'vscode';

/** A file system in memory, as a virtual workspace has one: nothing of it is on disk. */
export class MemoryFiles implements vscode.FileSystemProvider {
  readonly #files = new Map<string, { readonly bytes: Uint8Array; readonly mtime: number }>();
  readonly #changed = new vscode.EventEmitter<vscode.FileChangeEvent[]>();
  readonly onDidChangeFile = this.#changed.event;

  watch(): vscode.Disposable {
    return new vscode.Disposable(() => undefined);
  }

  stat(uri: vscode.Uri): vscode.FileStat {
    const found = this.#files.get(uri.path);
    if (found !== undefined)
      return { type: vscode.FileType.File, ctime: 0, mtime: found.mtime, size: found.bytes.length };
    if ([...this.#files.keys()].some((path) => path.startsWith(`${uri.path.replace(/\/$/, '')}/`))) {
      return { type: vscode.FileType.Directory, ctime: 0, mtime: 0, size: 0 };
    }
    throw vscode.FileSystemError.FileNotFound(uri);
  }

  readDirectory(uri: vscode.Uri): [string, vscode.FileType][] {
    const folder = `${uri.path.replace(/\/$/, '')}/`;
    return [...this.#files.keys()]
      .filter((path) => path.startsWith(folder) && !path.slice(folder.length).includes('/'))
      .map((path) => [path.slice(folder.length), vscode.FileType.File]);
  }

  readFile(uri: vscode.Uri): Uint8Array {
    const found = this.#files.get(uri.path);
    if (found === undefined) throw vscode.FileSystemError.FileNotFound(uri);
    return found.bytes;
  }

  writeFile(uri: vscode.Uri, bytes: Uint8Array): void {
    this.#files.set(uri.path, { bytes, mtime: Date.now() });
    this.#changed.fire([{ type: vscode.FileChangeType.Changed, uri }]);
  }

  createDirectory(): void {}

  delete(uri: vscode.Uri): void {
    this.#files.delete(uri.path);
    this.#changed.fire([{ type: vscode.FileChangeType.Deleted, uri }]);
  }

  rename(from: vscode.Uri, to: vscode.Uri): void {
    this.writeFile(to, this.readFile(from));
    this.delete(from);
  }
}
