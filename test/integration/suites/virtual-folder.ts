import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { closeAll, extensionApi, file } from '../editor.ts';
import { comparisons, diagnosed, textOf, wholeSpec } from '../specs.ts';

type Entry = { readonly type: vscode.FileType; data: Uint8Array; mtime: number };

/** Files that are on no disk, as in a browser-only or virtual workspace. It cannot rename over a file. */
class FilesInMemory implements vscode.FileSystemProvider {
  readonly #entries = new Map<string, Entry>([
    ['/', { type: vscode.FileType.Directory, data: new Uint8Array(), mtime: 0 }],
  ]);
  readonly #changed = new vscode.EventEmitter<vscode.FileChangeEvent[]>();
  readonly onDidChangeFile = this.#changed.event;

  watch(): vscode.Disposable {
    return { dispose: () => undefined };
  }
  stat({ path }: vscode.Uri): vscode.FileStat {
    const { type, data, mtime } = this.#entry(path);
    return { type, size: data.length, ctime: 0, mtime };
  }
  readDirectory({ path }: vscode.Uri): [string, vscode.FileType][] {
    const folder = path === '/' ? '/' : `${path}/`;
    return [...this.#entries]
      .filter(([name]) => name !== '/' && name.startsWith(folder) && !name.slice(folder.length).includes('/'))
      .map(([name, { type }]) => [name.slice(folder.length), type]);
  }
  createDirectory({ path }: vscode.Uri): void {
    if (!this.#entries.has(path))
      this.#entries.set(path, { type: vscode.FileType.Directory, data: new Uint8Array(), mtime: 0 });
  }
  readFile({ path }: vscode.Uri): Uint8Array {
    return this.#entry(path).data;
  }
  writeFile(uri: vscode.Uri, data: Uint8Array): void {
    this.#entries.set(uri.path, { type: vscode.FileType.File, data, mtime: Date.now() });
    this.#changed.fire([{ type: vscode.FileChangeType.Changed, uri }]);
  }
  delete({ path }: vscode.Uri): void {
    this.#entries.delete(path);
  }
  rename(): void {
    throw vscode.FileSystemError.NoPermissions('renaming is not for this file system');
  }
  names(): string[] {
    return [...this.#entries.keys()];
  }
  #entry(path: string): Entry {
    const found = this.#entries.get(path);
    if (found === undefined) throw vscode.FileSystemError.FileNotFound(path);
    return found;
  }
}

describe('a folder that is on no disk', () => {
  const files = new FilesInMemory();
  let registered: vscode.Disposable | undefined;
  const uri = (path: string): vscode.Uri => vscode.Uri.from({ scheme: 'memory-test', path });

  before(async () => {
    await extensionApi();
    registered = vscode.workspace.registerFileSystemProvider('memory-test', files, { isCaseSensitive: true });
    const spec = await textOf(file(wholeSpec));
    files.createDirectory(uri('/trip'));
    files.writeFile(uri('/trip/a.modproof.yaml'), new TextEncoder().encode(spec));
    for (const [, track] of spec.matchAll(/track: (\S+)/g))
      files.writeFile(uri(`/trip/${track}`), await vscode.workspace.fs.readFile(file(`campaign/${track}`)));
  });
  after(() => registered?.dispose());
  afterEach(closeAll);

  it('is checked, evaluated and reported like any other', async () => {
    const document = await vscode.workspace.openTextDocument(uri('/trip/a.modproof.yaml'));
    await vscode.window.showTextDocument(document);
    await diagnosed(document, 'no errors', (all) =>
      all.every(({ severity }) => severity !== vscode.DiagnosticSeverity.Error),
    );
    assert.equal(await vscode.commands.executeCommand('modproof.evaluateComparison', document.uri), 6);
    assert.match(new TextDecoder().decode(files.readFile(uri('/trip/before-after.md'))), /Provenance/);
    assert.ok(
      files.names().every((name) => !name.endsWith('.tmp')),
      files.names().join(),
    );
    const api = await comparisons();
    await assert.eventually(() => api.report(document.uri)?.kind === 'current' || undefined, 'a current report');
  });

  it('gives a new comparison', async () => {
    const spec = await vscode.commands.executeCommand<vscode.Uri>('modproof.newComparison', uri('/trip'), undefined, {
      changedOn: false,
    });
    assert.equal(spec.scheme, 'memory-test');
    assert.match(new TextDecoder().decode(files.readFile(spec)), /- track: 2026-/);
  });
});
