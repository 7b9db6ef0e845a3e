import * as vscode from 'vscode';
import type { Analysis } from '../../../shared/analysis.ts';
import type { Corrections, FlightView } from '../../../shared/flight-view.ts';
import type { EventCorrection } from '../../../shared/protocol.ts';
import { Cancelled } from '../../../shared/rpc.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';
import { eventFileEnding } from '../../engine/event-file/name.ts';
import type { ReadSummary } from '../../engine/view/index.ts';
import type { FurtherRecordings } from '../../engine/recordings/index.ts';
import { baseName, besideWith, folderOf } from '../paths.ts';
import { editorWorld, resolveBeside } from '../world-vscode.ts';
import type { Parts } from '../extension.ts';
import { correctEventFile } from './correct-event.ts';
import type { KeptRecording } from '../reading/flight-work.ts';

export type Loaded =
  | {
      readonly outcome: 'flight';
      readonly flight: FlightView;
      readonly columns: TrackColumns;
      /** Phases and events are not in it yet. */
      readonly pending: boolean;
    }
  | { readonly outcome: 'unreadable'; readonly read: ReadSummary };

interface Reading {
  readonly result: Promise<KeptRecording>;
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
  /** What its files were like when they were last read. */
  #stamp = '';
  /** Further recordings as the event file named them then. */
  #further = 'null';
  #furtherUris: readonly vscode.Uri[] = [];
  readonly #furtherWatchers: vscode.Disposable[] = [];
  #analysed: { readonly recording: KeptRecording; readonly overrides: string; readonly analysis: Analysis } | undefined;

  constructor(
    readonly uri: vscode.Uri,
    private readonly parts: Pick<Parts, 'platform' | 'work'>,
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
   * Reads the recording, or takes what has been read; phases and events are in it only if they were found before. The
   * signal frees this caller; the reading itself stops when no caller is left. Rejects with {@link Cancelled} then, or
   * with what the file system says.
   */
  async open(onProgress: (fraction: number) => void, signal: AbortSignal): Promise<Loaded> {
    const recording = await this.#record(onProgress, signal);
    const { read, columns, pending } = recording;
    if (columns === undefined || pending === undefined) return { outcome: 'unreadable', read };
    const corrections = await this.#readCorrections(pending);
    const found = this.#found(recording, corrections);
    const { flightView } = await import('../later.ts');
    const flight = flightView(this.fileName, read, found ?? pending, columns, corrections);
    return { outcome: 'flight', flight, columns, pending: found === undefined };
  }

  /** As {@link open}, with phases and events. */
  async load(onProgress: (fraction: number) => void, signal: AbortSignal): Promise<Loaded> {
    const recording = await this.#record(onProgress, signal);
    const { read, columns, pending } = recording;
    if (columns === undefined || pending === undefined) return { outcome: 'unreadable', read };
    const corrections = await this.#readCorrections(pending);
    let analysis = this.#found(recording, corrections);
    if (analysis === undefined) {
      analysis = await this.#analyse(recording, corrections, signal);
      this.#analysed = { recording, overrides: JSON.stringify(corrections.overrides), analysis };
    }
    const { flightView } = await import('../later.ts');
    return {
      outcome: 'flight',
      flight: flightView(this.fileName, read, analysis, columns, corrections),
      columns,
      pending: false,
    };
  }

  /** A thread that failed has lost the recording: the next to ask reads it again. */
  async #analyse(recording: KeptRecording, { overrides }: Corrections, signal: AbortSignal): Promise<Analysis> {
    const reading = this.#reading;
    try {
      return await recording.analyse(overrides, signal);
    } catch (error) {
      if (reading === undefined || this.#reading !== reading) throw new Cancelled();
      if (!(error instanceof Cancelled)) this.#forget(reading);
      throw error;
    }
  }

  /** The analysis, if it was made of this recording with these corrections. */
  #found(recording: KeptRecording, corrections: Corrections): Analysis | undefined {
    const known = this.#analysed;
    return known?.recording === recording && known.overrides === JSON.stringify(corrections.overrides)
      ? known.analysis
      : undefined;
  }

  async correct(correction: EventCorrection): Promise<void> {
    await correctEventFile(this.eventFileUri, this.fileName, correction);
    // The watcher may be slow or absent (browser-only workspaces): tell at once.
    await this.#tell('corrections');
  }

  dispose(): void {
    if (this.#reading !== undefined) this.#forget(this.#reading);
    for (const timer of this.#timers.values()) clearTimeout(timer);
    for (const watcher of [...this.#watchers, ...this.#furtherWatchers]) watcher.dispose();
  }

  async #record(onProgress: (fraction: number) => void, signal: AbortSignal): Promise<KeptRecording> {
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
    const read = async (): Promise<KeptRecording> => {
      this.#stamp = await this.#stampNow();
      const work = await this.parts.work.get();
      const further = await this.#furtherRecordings();
      const world = editorWorld(this.uri, this.parts.platform);
      const bytes = await this.parts.platform.openBytes(this.uri);
      try {
        const onProgress = (fraction: number): void => {
          for (const listener of listeners) listener(fraction);
        };
        const others = further && { further, open: (path: string) => world.open(path) };
        return await work.read(bytes.source, { signal: stop.signal, onProgress }, others);
      } finally {
        await bytes.close();
        await world.close();
      }
    };
    const reading: Reading = { result: read(), stop, listeners, waiting: 0 };
    // A failure is not kept: the next to ask tries again.
    reading.result.catch(() => this.#forget(reading));
    return reading;
  }

  #forget(reading: Reading): void {
    reading.stop.abort(new Cancelled());
    reading.result.then(
      (recording) => recording.forget(),
      () => undefined,
    );
    if (this.#reading === reading) this.#reading = undefined;
  }

  /** The event file as it stands in an editor, else as it was saved; undefined where there is none. */
  async #eventText(): Promise<string | undefined> {
    const open = vscode.workspace.textDocuments.find((one) => one.uri.toString() === this.eventFileUri.toString());
    if (open !== undefined) return open.getText();
    try {
      return new TextDecoder().decode(await vscode.workspace.fs.readFile(this.eventFileUri));
    } catch {
      return undefined;
    }
  }

  /** What the event file names beside this recording; its files are watched from then on. */
  async #furtherRecordings(): Promise<FurtherRecordings | undefined> {
    const text = await this.#eventText();
    const { furtherFiles, furtherIdentity, parseFurther } = await import('../later.ts');
    const further = text === undefined ? undefined : parseFurther(text, baseName(this.eventFileUri)).further;
    this.#further = JSON.stringify(further === undefined ? null : furtherIdentity(further));
    for (const watcher of this.#furtherWatchers.splice(0)) watcher.dispose();
    this.#furtherUris = furtherFiles(further).map(({ file }) => resolveBeside(this.uri, file));
    for (const uri of this.#furtherUris) this.#watch(uri, 'file', this.#furtherWatchers);
    this.#stamp = await this.#stampNow();
    return further;
  }

  async #readCorrections({ recording }: Analysis): Promise<Corrections> {
    const fileName = baseName(this.eventFileUri);
    const text = await this.#eventText();
    if (text === undefined) return { fileName, overrides: [], problems: [] };
    const { parseEventFile, parseFurther } = await import('../later.ts');
    const { overrides, problems } = parseEventFile(text, fileName, { ...recording, file: this.fileName });
    return { fileName, overrides, problems: [...parseFurther(text, fileName).problems, ...problems] };
  }

  /** False when the event file names other further recordings than those that were read. */
  async #sameRecordings(): Promise<boolean> {
    if (this.#reading === undefined) return true;
    const text = await this.#eventText();
    const { furtherIdentity, parseFurther } = await import('../later.ts');
    const further = text === undefined ? undefined : parseFurther(text, baseName(this.eventFileUri)).further;
    return JSON.stringify(further === undefined ? null : furtherIdentity(further)) === this.#further;
  }

  /** Of all files of the flight. */
  async #stampNow(): Promise<string> {
    return (await Promise.all([this.uri, ...this.#furtherUris].map(stampOf))).join('; ');
  }

  #watch(uri: vscode.Uri, what: 'file' | 'corrections', into: vscode.Disposable[] = this.#watchers): void {
    const watcher = vscode.workspace.createFileSystemWatcher(
      new vscode.RelativePattern(folderOf(uri), globLiteral(baseName(uri))),
    );
    const settle = (): void => {
      clearTimeout(this.#timers.get(what));
      this.#timers.set(
        what,
        setTimeout(() => void this.#tell(what), settleMs),
      );
    };
    into.push(watcher, watcher.onDidChange(settle), watcher.onDidCreate(settle), watcher.onDidDelete(settle));
  }

  async #tell(what: 'file' | 'corrections'): Promise<void> {
    clearTimeout(this.#timers.get(what));
    if (what === 'file') {
      // Watchers also speak of what was written just before the file was opened.
      if (this.#stamp !== '' && this.#stamp === (await this.#stampNow())) return;
    } else if (await this.#sameRecordings()) {
      this.#changed.fire(what);
      return;
    }
    if (this.#reading !== undefined) this.#forget(this.#reading);
    this.#changed.fire('file');
  }
}

/** Size and time of a file; empty where the file system tells nothing. */
async function stampOf(uri: vscode.Uri): Promise<string> {
  try {
    const { size, mtime } = await vscode.workspace.fs.stat(uri);
    return `${size} ${mtime}`;
  } catch {
    return '';
  }
}

/** A file name as a glob that matches it alone. */
function globLiteral(name: string): string {
  return name.replace(/[*?[\]{}]/g, '[$&]');
}
