import * as vscode from 'vscode';
import { analyse } from '../../engine/analyse.ts';
import { compare } from '../../engine/compare/index.ts';
import { eventFileEnding } from '../../engine/event-file/index.ts';
import { type EngineParts, evaluate, type Evaluation } from '../../engine/evaluate/index.ts';
import { readRecording } from '../../engine/readers/index.ts';
import { furtherFiles } from '../../engine/recordings/index.ts';
import { withHiddenPlaces } from '../../engine/report/index.ts';
import type { Parts } from '../extension.ts';
import { recordingEndings } from '../overlay/choose-tracks.ts';
import { baseName } from '../paths.ts';
import { hidesPositions } from '../settings.ts';
import { editorWorld } from '../world-vscode.ts';
import { putReports, type PutReports } from './put-report.ts';
import { Hashes, reportState, type ReportState, stampOf } from './report-state.ts';
import { EditorCache } from './result-cache.ts';
import { isSpec, parsedSpec } from './spec-file.ts';

/** An evaluation that was made in this session. */
export interface Evaluated {
  /** Of the spec, as it was then. */
  readonly text: string;
  readonly evaluation: Evaluation;
  readonly reports: PutReports;
  readonly tookMs: number;
  /** Time and size of each recording and its event file, by address. */
  readonly stamps: ReadonlyMap<string, string>;
}

export interface Progress {
  readonly signal: AbortSignal;
  readonly onProgress?: (fraction: number) => void;
}

export const engineParts: EngineParts = { readRecording, analyse, compare };

const settleMs = 300;

/** Endings of the files on which an answer or its report depends, in both cases: patterns of the editor tell them apart. */
const watchedEndings = [...recordingEndings, 'm4v', '360', 'gz', 'yaml', 'yml', 'md', 'markdown'].flatMap((ending) =>
  ending === ending.toUpperCase() ? [ending] : [ending, ending.toUpperCase()],
);

/** All that is known of the comparisons of this window: their last evaluation, and whether it still holds. */
export class Comparisons implements vscode.Disposable {
  readonly cache: EditorCache;
  readonly #parts: Parts;
  readonly #last = new Map<string, Evaluated>();
  readonly #changedFiles = new Set<string>();
  readonly #running = new Map<string, AbortController>();
  readonly #states = new Map<string, { readonly turn: number; readonly state: ReportState }>();
  readonly #hashes = new Hashes();
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly #filesChanged = new vscode.EventEmitter<void>();
  readonly #disposables: vscode.Disposable[] = [this.#changed, this.#filesChanged];
  #turn = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** The evaluation of a spec, or what is known of its report, changed. */
  readonly onDidChange = this.#changed.event;
  /** Some recording, event file or report came, went or changed. */
  readonly onDidChangeFiles = this.#filesChanged.event;

  constructor(parts: Parts) {
    this.#parts = parts;
    this.cache = new EditorCache(parts.context);
    const watcher = vscode.workspace.createFileSystemWatcher(`**/*.{${watchedEndings.join(',')}}`);
    const settle = (): void => {
      clearTimeout(this.#timer);
      this.#timer = setTimeout(() => this.#filesChanged.fire(), settleMs);
    };
    this.#disposables.push(
      watcher,
      watcher.onDidChange(settle),
      watcher.onDidCreate(settle),
      watcher.onDidDelete(settle),
      this.onDidChangeFiles(() => this.#checkOpen()),
      // Files outside the folder are not watched: look when the person comes back to the spec.
      vscode.window.onDidChangeActiveTextEditor((editor) => {
        if (editor !== undefined && isSpec(editor.document.uri)) this.#check(editor.document);
      }),
      vscode.workspace.onDidOpenTextDocument((document) => this.#check(document)),
      vscode.workspace.onDidSaveTextDocument((document) => this.#check(document)),
      vscode.workspace.onDidCloseTextDocument((document) => this.#states.delete(document.uri.toString())),
    );
    this.#checkOpen();
  }

  last(spec: vscode.Uri): Evaluated | undefined {
    return this.#last.get(spec.toString());
  }

  isRunning(spec: vscode.Uri): boolean {
    return this.#running.has(spec.toString());
  }

  /** What was last found out about the report of a spec; undefined while that is not known yet. */
  report(spec: vscode.Uri): ReportState | undefined {
    return this.#states.get(spec.toString())?.state;
  }

  /** Why the last evaluation no longer holds for the text in a document; undefined when it does or there is none. */
  outOfDate(document: vscode.TextDocument): string | undefined {
    const last = this.last(document.uri);
    if (last === undefined) return undefined;
    if (last.text !== document.getText()) return 'the comparison was changed since';
    if (this.#changedFiles.has(document.uri.toString())) return 'a recording or its corrections changed since';
    return undefined;
  }

  /** Stops the evaluation of a spec that is under way. */
  cancel(spec: vscode.Uri): void {
    this.#running.get(spec.toString())?.abort(new Error('cancelled'));
  }

  /**
   * Evaluates a spec and writes its reports. One evaluation a spec: a second one stops the first. Rejects when aborted;
   * then nothing was written.
   */
  async evaluate(document: vscode.TextDocument, { signal, onProgress }: Progress): Promise<Evaluated> {
    const { uri } = document;
    const key = uri.toString();
    this.cancel(uri);
    const stop = new AbortController();
    const abort = (): void => stop.abort(signal.reason);
    if (signal.aborted) abort();
    signal.addEventListener('abort', abort, { once: true });
    this.#running.set(key, stop);
    this.#changed.fire(uri);
    const world = editorWorld(uri, this.#parts.platform);
    const bench = (await this.#parts.work.get()).bench(world);
    try {
      const started = performance.now();
      const text = document.getText();
      const evaluation = await evaluate(
        {
          specText: text,
          specPath: baseName(uri),
          world,
          cache: this.cache,
          bench,
          work: { signal: stop.signal, onProgress },
        },
        engineParts,
      );
      stop.signal.throwIfAborted();
      const reports =
        evaluation.result === undefined
          ? { written: [], refused: [] }
          : await putReports(
              uri,
              evaluation.spec !== undefined && hidesPositions() ? withHiddenPlaces(evaluation) : evaluation,
            );
      const stamps = await stampsOf(evaluation, (path) => world.resolve(path));
      const evaluated: Evaluated = { text, evaluation, reports, stamps, tookMs: performance.now() - started };
      for (const { file, hash, further = [] } of evaluation.flights) {
        for (const one of [...(hash === undefined ? [] : [{ file, sha256: hash.sha256 }]), ...further]) {
          const recording = world.resolve(one.file);
          this.#hashes.know(recording, stamps.get(recording.toString()) ?? '', one.sha256);
        }
      }
      // What could not be evaluated has no findings; those of before are still worth showing.
      if (evaluation.result !== undefined) {
        this.#last.set(key, evaluated);
        this.#changedFiles.delete(key);
      }
      await this.#look(document);
      return evaluated;
    } finally {
      bench.close();
      await world.close();
      signal.removeEventListener('abort', abort);
      if (this.#running.get(key) === stop) this.#running.delete(key);
      this.#changed.fire(uri);
    }
  }

  dispose(): void {
    clearTimeout(this.#timer);
    for (const stop of this.#running.values()) stop.abort(new Error('closed'));
    vscode.Disposable.from(...this.#disposables).dispose();
  }

  #checkOpen(): void {
    for (const document of vscode.workspace.textDocuments) this.#check(document);
  }

  #check(document: vscode.TextDocument): void {
    if (!isSpec(document.uri)) return;
    this.#look(document).catch((error: unknown) =>
      this.#parts.log.debug(`report of ${document.uri.path}: ${String(error)}`),
    );
  }

  /** Looks whether the recordings and the report of a spec are as they were. */
  async #look(document: vscode.TextDocument): Promise<void> {
    const { uri } = document;
    const turn = ++this.#turn;
    const key = uri.toString();
    const last = this.#last.get(key);
    if (last !== undefined) {
      for (const [file, stamp] of last.stamps) {
        if ((await stampOf(vscode.Uri.parse(file, true))) !== stamp) this.#changedFiles.add(key);
      }
    }
    const state = await reportState(
      uri,
      document.getText(),
      parsedSpec(document).spec,
      last?.reports.written[0],
      this.#parts.platform,
      this.#hashes,
    );
    // What was looked at later, and is known already, counts.
    const known = this.#states.get(key);
    if (document.isClosed || this.#last.get(key) !== last || (known !== undefined && known.turn > turn)) return;
    this.#states.set(key, { turn, state });
    this.#changed.fire(uri);
  }
}

async function stampsOf(
  { flights }: Evaluation,
  resolve: (path: string) => vscode.Uri,
): Promise<ReadonlyMap<string, string>> {
  const stamps = new Map<string, string>();
  for (const { file, entry } of flights) {
    for (const path of [file, file + eventFileEnding, ...furtherFiles(entry.further).map((one) => one.file)]) {
      const uri = resolve(path);
      stamps.set(uri.toString(), await stampOf(uri));
    }
  }
  return stamps;
}
