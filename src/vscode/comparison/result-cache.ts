import { gunzipSync, gzipSync, strFromU8, strToU8 } from 'fflate';
import * as vscode from 'vscode';
import { type ResultCache, sha256OfText } from '../../engine/evaluate/index.ts';

/** In memory; the longest unused go first. */
const mostCharacters = 60_000_000;
/** On disk. */
const mostBytes = 100_000_000;

/**
 * Results of earlier evaluations, in memory and in the folder that the editor keeps for this extension and workspace.
 * Trouble with the disk costs time and nothing else.
 */
export class EditorCache implements ResultCache {
  readonly #memory = new Map<string, string>();
  #characters = 0;
  readonly #folder: vscode.Uri;
  /** What results depend on beside the engine's own version: the build of this extension. */
  readonly #salt: Promise<string>;
  #ready: Promise<void> | undefined;

  constructor(context: vscode.ExtensionContext) {
    this.#folder = vscode.Uri.joinPath(context.storageUri ?? context.globalStorageUri, 'results');
    this.#salt = buildOf(context);
  }

  async get(key: string): Promise<string | undefined> {
    const known = this.#memory.get(key);
    if (known !== undefined) {
      this.#remember(key, known);
      return known;
    }
    try {
      const text = strFromU8(gunzipSync(await vscode.workspace.fs.readFile(await this.#fileOf(key))));
      this.#remember(key, text);
      return text;
    } catch {
      return undefined;
    }
  }

  async put(key: string, value: string): Promise<void> {
    this.#remember(key, value);
    // Nobody waits for the disk.
    void this.#keep(key, value).catch(() => undefined);
  }

  /** Forgets what is in memory, as a restart does. */
  forgetMemory(): void {
    this.#memory.clear();
    this.#characters = 0;
  }

  #remember(key: string, value: string): void {
    const old = this.#memory.get(key);
    if (old !== undefined) this.#characters -= old.length;
    this.#memory.delete(key);
    this.#memory.set(key, value);
    this.#characters += value.length;
    for (const [oldest, text] of this.#memory) {
      if (this.#characters <= mostCharacters || oldest === key) break;
      this.#memory.delete(oldest);
      this.#characters -= text.length;
    }
  }

  async #keep(key: string, value: string): Promise<void> {
    this.#ready ??= this.#prepare();
    await this.#ready;
    await vscode.workspace.fs.writeFile(await this.#fileOf(key), gzipSync(strToU8(value), { level: 1 }));
  }

  async #fileOf(key: string): Promise<vscode.Uri> {
    const name = await sha256OfText(`${await this.#salt}\n${key}`);
    return vscode.Uri.joinPath(this.#folder, `${name.slice(0, 40)}.json.gz`);
  }

  /** Makes the folder, and room in it. */
  async #prepare(): Promise<void> {
    const { fs } = vscode.workspace;
    await fs.createDirectory(this.#folder);
    const names = (await fs.readDirectory(this.#folder)).map(([name]) => name);
    const files = await Promise.all(
      names.map(async (name) => {
        const uri = vscode.Uri.joinPath(this.#folder, name);
        return { uri, ...(await fs.stat(uri)) };
      }),
    );
    files.sort((a, b) => b.mtime - a.mtime);
    let total = 0;
    for (const file of files) {
      total += file.size;
      if (total > mostBytes) await fs.delete(file.uri);
    }
  }
}

/** A build may differ from another of the same version, above all while it is being made. */
async function buildOf(context: vscode.ExtensionContext): Promise<string> {
  const { version } = context.extension.packageJSON as { readonly version: string };
  const marks = [version];
  for (const bundle of ['extension.cjs', 'web/extension.cjs.js']) {
    try {
      const { mtime, size } = await vscode.workspace.fs.stat(vscode.Uri.joinPath(context.extensionUri, 'dist', bundle));
      marks.push(`${mtime} ${size}`);
    } catch {
      // Not on a file system that can tell: the version must do.
    }
  }
  return marks.join(' ');
}
