import * as vscode from 'vscode';
import type { DrawnPage } from '../../../shared/protocol.ts';
import type { TimeSpan, TrackPanel } from './panel.ts';

/** A viewer as others see it. */
export interface ShownFlight {
  readonly uri: vscode.Uri;
  readonly visible: boolean;
  /** How often the page has asked for the flight: once at first, again after a change or a hidden tab. */
  readonly opened: number;
  readonly drawn?: DrawnPage;
}

/** All viewers that are open. */
export class Viewers {
  readonly #panels = new Set<TrackPanel>();
  readonly #changed = new vscode.EventEmitter<void>();
  readonly #wanted = new Map<string, TimeSpan>();
  /** A viewer drew, or went. */
  readonly onDidChange = this.#changed.event;

  add(panel: TrackPanel): void {
    this.#panels.add(panel);
    const wanted = this.#wanted.get(panel.uri.toString());
    this.#wanted.delete(panel.uri.toString());
    if (wanted !== undefined) panel.show(wanted);
  }

  changed(panel: TrackPanel): void {
    if (panel.isGone) this.#panels.delete(panel);
    this.#changed.fire();
  }

  /** Shows a span in the viewer of a recording: one that is open, else the next that opens. */
  show(uri: vscode.Uri, span: TimeSpan): void {
    const key = uri.toString();
    const panel = [...this.#panels].find((one) => one.uri.toString() === key);
    if (panel === undefined) this.#wanted.set(key, span);
    else panel.show(span);
  }

  shown(): ShownFlight[] {
    return [...this.#panels].map((panel) => ({ uri: panel.uri, ...panel.status }));
  }
}
