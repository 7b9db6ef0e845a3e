import * as vscode from 'vscode';
import type { EventOverride } from '../../../shared/analysis.ts';
import type { Corrections, FlightView } from '../../../shared/flight-view.ts';
import type { EventCorrection } from '../../../shared/protocol.ts';
import { Cancelled } from '../../../shared/rpc.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';
import { eventFileEnding, parseEventFile } from '../../engine/event-file/index.ts';
import type { ReadResult } from '../../engine/readers/reader.ts';
import { flightView } from '../../engine/view/index.ts';
import { baseName, besideWith, folderOf } from '../paths.ts';
import type { Platform } from '../platform.ts';
import { correctEventFile } from './correct-event.ts';
import { analyseForView, type Recording, readRecordingForView } from './flight-reader.ts';

export type Loaded =
  | { readonly outcome: 'flight'; readonly flight: FlightView; readonly columns: TrackColumns }
  | { readonly outcome: 'unreadable'; readonly read: ReadResult };

interface Reading {
  readonly result: Promise<Recording>;
  readonly stop: AbortController;
  readonly listeners: Set<(fraction: number) => void>;
  waiting: number;
}

/** A burst of writes (an editor's save, a copy under way) counts as one change. */
const settleMs = 250;

/** One recording, read once however many viewers look at it. */
export class TrackDocument implements vscode.CustomDocument {
  readonly #changed = new vscode.EventEmitter<'file' | 'corrections'>();
  /** The file or its event file changed: what was loaded is out of date. */
  readonly onDidChange = this.#changed.event;
  readonly #watchers: vscode.Disposable[] = [this.#changed];
  readonly #timers = new Map<string, ReturnType<typeof setTimeout>>();
  #reading: Reading | undefined;
  #overrides: readonly EventOverride[] = [];

  constructor(
    readonly uri: vscode.Uri,
    readonly platform: Platform,
  ) {
    this.#watch(uri, 'file');
    this.#watch(this.eventFileUri, 'corrections');
  }

  get fileName(): string {
    return baseName(this.uri);
  }

  get eventFileUri(): vscode.Uri {
    return besideWith(this.uri, eventFileEnding);
  }

  /**
   * Reads the recording, or takes what has been read. The signal frees this caller; the reading itself stops when no
   * caller is left. Rejects with {@link Cancelled} then, or with what the file system says.
   */
  async load(onProgress: (fraction: number) => void, signal: AbortSignal): Promise<Loaded> {
    const recording = await this.#record(onProgress, signal);
    if (recording.columns === undefined) return { outcome: 'unreadable', read: recording.read };
    const corrections = await this.#readCorrections();
    const analysis = analyseForView(recording, corrections.overrides, signal);
    const flight = flightView(this.fileName, recording.read, analysis, recording.columns, corrections);
    return { outcome: 'flight', flight, columns: recording.columns };
  }

  async correct(correction: EventCorrection): Promise<void> {
    await correctEventFile(this.eventFileUri, this.fileName, correction);
    // The watcher may be slow or absent (browser-only workspaces): tell at once.
    this.#tell('corrections');
  }

  dispose(): void {
    this.#reading?.stop.abort(new Cancelled());
    for (const timer of this.#timers.values()) clearTimeout(timer);
    for (const watcher of this.#watchers) watcher.dispose();
  }

  async #record(onProgress: (fraction: number) => void, signal: AbortSignal): Promise<Recording> {
    signal.throwIfAborted();
    this.#reading ??= this.#startReading();
    const reading = this.#reading;
    reading.listeners.add(onProgress);
    reading.waiting++;
    let leave: () => void = () => undefined;
    const left = new Promise<never>((_, reject) => {
      leave = () => reject(new Cancelled());
      signal.addEventListener('abort', leave, { once: true });
    });
    try {
      return await Promise.race([reading.result, left]);
    } finally {
      signal.removeEventListener('abort', leave);
      reading.listeners.delete(onProgress);
      reading.waiting--;
      if (reading.waiting === 0 && signal.aborted) this.#forget(reading);
    }
  }

  #startReading(): Reading {
    const stop = new AbortController();
    const listeners = new Set<(fraction: number) => void>();
    const read = async (): Promise<Recording> => {
      const bytes = await this.platform.openBytes(this.uri);
      try {
        return await readRecordingForView(bytes.source, {
          signal: stop.signal,
          onProgress: (fraction) => {
            for (const listener of listeners) listener(fraction);
          },
        });
      } finally {
        await bytes.close();
      }
    };
    const reading: Reading = { result: read(), stop, listeners, waiting: 0 };
    // A failure is not kept: the next to ask tries again.
    reading.result.catch(() => this.#forget(reading));
    return reading;
  }

  #forget(reading: Reading): void {
    reading.stop.abort(new Cancelled());
    if (this.#reading === reading) this.#reading = undefined;
  }

  async #readCorrections(): Promise<Corrections> {
    const fileName = baseName(this.eventFileUri);
    let text: string;
    try {
      const open = vscode.workspace.textDocuments.find((one) => one.uri.toString() === this.eventFileUri.toString());
      text = open?.getText() ?? new TextDecoder().decode(await vscode.workspace.fs.readFile(this.eventFileUri));
    } catch {
      this.#overrides = [];
      return { fileName, overrides: [], problems: [] };
    }
    const parsed = parseEventFile(text, fileName);
    this.#overrides = parsed.overrides;
    return { fileName, ...parsed };
  }

  /** As last read. */
  get overrides(): readonly EventOverride[] {
    return this.#overrides;
  }

  #watch(uri: vscode.Uri, what: 'file' | 'corrections'): void {
    const watcher = vscode.workspace.createFileSystemWatcher(
      new vscode.RelativePattern(folderOf(uri), globLiteral(baseName(uri))),
    );
    const settle = (): void => {
      clearTimeout(this.#timers.get(what));
      this.#timers.set(
        what,
        setTimeout(() => this.#tell(what), settleMs),
      );
    };
    this.#watchers.push(watcher, watcher.onDidChange(settle), watcher.onDidCreate(settle), watcher.onDidDelete(settle));
  }

  #tell(what: 'file' | 'corrections'): void {
    clearTimeout(this.#timers.get(what));
    if (what === 'file' && this.#reading !== undefined) this.#forget(this.#reading);
    this.#changed.fire(what);
  }
}

/** A file name as a glob that matches it alone. */
function globLiteral(name: string): string {
  return name.replace(/[*?[\]{}]/g, '[$&]');
}
