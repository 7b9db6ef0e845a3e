import * as vscode from 'vscode';
import { type ConditionsView, noConditions, type TypedConditions } from '../../../shared/flight-view.ts';
import type {
  DrawnPage,
  OpenedFlight,
  UnreadableFlight,
  ViewerHostMethods,
  ViewerPageMethods,
} from '../../../shared/protocol.ts';
import { type Connection, connect, type Implementation } from '../../../shared/rpc.ts';
import type { Parts } from '../extension.ts';
import { commonMethods } from '../page-host.ts';
import { displayUnits, onDisplayUnitsChanged } from '../settings.ts';
import { webviewPort } from '../webview-port.ts';
import type { TrackDocument } from './document.ts';
import { pageFolder, pageHtml } from './html.ts';

/** Formats whose files are text, so that an unreadable one may be looked at. */
const looksBinary = /\.(?:fit|mp4|mov|m4v|360|kmz|zip|gz)$/i;

export interface PanelActions {
  overlay(uri: vscode.Uri): void;
  /** The page drew, or the panel is gone. */
  changed(panel: TrackPanel): void;
}

/** Unix times. */
export interface TimeSpan {
  readonly startS: number;
  readonly endS: number;
}

/** One viewer on a document: answers its page and tells it what changed. */
export class TrackPanel {
  readonly #page: Connection<ViewerPageMethods>;
  readonly #subscriptions: vscode.Disposable[] = [];
  #drawn: DrawnPage | undefined;
  #opened = 0;
  #gone = false;
  /** To be shown as soon as the page has a flight. */
  #wanted: TimeSpan | undefined;

  /** Lives as long as `panel`. */
  static show(parts: Parts, document: TrackDocument, panel: vscode.WebviewPanel, actions: PanelActions): TrackPanel {
    return new TrackPanel(parts, document, panel, actions);
  }

  private constructor(
    private readonly parts: Parts,
    private readonly document: TrackDocument,
    private readonly panel: vscode.WebviewPanel,
    private readonly actions: PanelActions,
  ) {
    const { webview } = panel;
    const { extensionUri } = parts.context;
    webview.options = { enableScripts: true, localResourceRoots: [pageFolder(extensionUri)] };
    this.#page = connect<ViewerPageMethods, ViewerHostMethods>(webviewPort(webview), this.#methods());
    this.#subscriptions.push(
      document.onDidChange((why) => this.#tell(why)),
      onDisplayUnitsChanged(() => this.#tell('settings')),
      panel.onDidDispose(() => {
        this.#gone = true;
        this.#page.close();
        actions.changed(this);
        for (const subscription of this.#subscriptions) subscription.dispose();
      }),
    );
    webview.html = pageHtml(webview, extensionUri, 'viewer');
  }

  get uri(): vscode.Uri {
    return this.document.uri;
  }

  get isGone(): boolean {
    return this.#gone;
  }

  /** For tests and measurements: what is on the page, and how often it has asked for the flight. */
  get status(): { readonly visible: boolean; readonly opened: number; readonly drawn?: DrawnPage } {
    return { visible: this.panel.visible, opened: this.#opened, ...(this.#drawn ? { drawn: this.#drawn } : {}) };
  }

  /** Brings a span into view, now or when the flight is there. */
  show(span: TimeSpan): void {
    this.panel.reveal();
    if (this.#drawn?.outcome === 'flight') this.#page.notify('show', span);
    else this.#wanted = span;
  }

  #onDrawn(drawn: DrawnPage): void {
    this.#drawn = drawn;
    if (drawn.outcome === 'flight' && !drawn.pending && this.#wanted !== undefined) {
      this.#page.notify('show', this.#wanted);
      this.#wanted = undefined;
    }
    this.actions.changed(this);
  }

  /** A page whose tab is hidden is gone and will ask for everything when it comes back: its silence is no trouble. */
  #tell(why: 'file' | 'corrections' | 'settings'): void {
    this.#page.notify('changed', { why });
  }

  #methods(): Implementation<ViewerHostMethods> {
    const { document } = this;
    return {
      ...commonMethods(document.uri),
      open: (_argument, signal) => this.#open(signal),
      drawn: (drawn) => this.#onDrawn(drawn),
      analysis: async (_argument, signal) => {
        const loaded = await document.load(() => undefined, signal);
        if (loaded.outcome === 'unreadable') throw new Error('There is no flight to analyse.');
        return loaded.flight;
      },
      atConditions: ({ conditions, takeoff }, signal) => this.#atConditions(conditions, takeoff, signal),
      correctEvent: (correction) => document.correct(correction),
      openText: async () => {
        await vscode.commands.executeCommand('vscode.openWith', document.uri, 'default');
      },
      openCorrections: async () => {
        await vscode.window.showTextDocument(document.eventFileUri, { viewColumn: vscode.ViewColumn.Beside });
      },
      addToComparison: async ({ conditions }) => {
        await vscode.commands.executeCommand('modproof.addToComparison', document.uri, conditions);
      },
      overlay: () => this.actions.overlay(document.uri),
      showPlace: async ({ line, column }) => {
        const at = new vscode.Position(Math.max(0, line - 1), Math.max(0, column - 1));
        await vscode.commands.executeCommand('vscode.openWith', document.uri, 'default', {
          selection: new vscode.Range(at, at),
        });
      },
    };
  }

  async #open(signal: AbortSignal): Promise<OpenedFlight | UnreadableFlight> {
    const { document } = this;
    this.#opened++;
    this.#drawn = undefined;
    const loaded = await document.open((fraction) => {
      this.#page.notify('progress', { fraction });
    }, signal);
    if (loaded.outcome === 'unreadable') {
      const { problems, contents } = loaded.read;
      return {
        outcome: 'unreadable',
        fileName: document.fileName,
        problems,
        contents,
        isText: !looksBinary.test(document.fileName),
      };
    }
    return { ...loaded, settings: { units: displayUnits() }, conditions: this.#rememberedConditions() };
  }

  get #memoryKey(): string {
    return `conditions:${this.document.uri.toString()}`;
  }

  #rememberedConditions(): TypedConditions {
    const kept = this.parts.context.workspaceState.get<Partial<TypedConditions>>(this.#memoryKey);
    return { ...noConditions, ...kept };
  }

  async #atConditions(conditions: TypedConditions, takeoff: number, signal: AbortSignal): Promise<ConditionsView> {
    const empty = Object.values(conditions).every((text) => text === '');
    await this.parts.context.workspaceState.update(this.#memoryKey, empty ? undefined : conditions);
    const loaded = await this.document.load(() => undefined, signal);
    if (loaded.outcome === 'unreadable') throw new Error('There is no flight to correct.');
    const { conditionsView } = await import('../later.ts');
    return conditionsView(conditions, loaded.flight.analysis, takeoff);
  }
}
