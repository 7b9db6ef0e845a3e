import * as vscode from 'vscode';
import type { Problem } from '../../../shared/problem.ts';
import type {
  OverlayHostMethods,
  OverlayPageMethods,
  OverlayRun,
  OverlayTrack,
  OverlayView,
} from '../../../shared/protocol.ts';
import { connect } from '../../../shared/rpc.ts';
import { takeoffCurve } from '../../../shared/run-curve.ts';
import { TrackDocument } from '../editor/document.ts';
import { pageFolder, pageHtml } from '../editor/html.ts';
import type { Parts } from '../extension.ts';
import { commonMethods } from '../page-host.ts';
import { displayUnits, onDisplayUnitsChanged } from '../settings.ts';
import { webviewPort } from '../webview-port.ts';

/** One window with the take-offs of several flights. Each file is read once and again when it changes. */
export function showOverlay(
  parts: Parts,
  panel: vscode.WebviewPanel,
  tracks: readonly OverlayTrack[],
  onDrawn: (drawn: { readonly runs: number; readonly problems: number }) => void,
): void {
  const { webview } = panel;
  const { extensionUri } = parts.context;
  const flights = tracks.map((track) => ({
    track,
    document: new TrackDocument(vscode.Uri.parse(track.file), parts),
  }));
  const documents = flights.map(({ document }) => document);
  webview.options = { enableScripts: true, localResourceRoots: [pageFolder(extensionUri)] };
  const page = connect<OverlayPageMethods, OverlayHostMethods>(webviewPort(webview), {
    ...commonMethods(documents[0]?.uri ?? vscode.workspace.workspaceFolders?.[0]?.uri ?? extensionUri),
    openOverlay: (_argument, signal) => readRuns(flights, (fraction) => page.notify('progress', { fraction }), signal),
    drawn: onDrawn,
    openFlight: async ({ file }) => {
      await vscode.commands.executeCommand('vscode.openWith', vscode.Uri.parse(file), 'modproof.track');
    },
  });
  const subscriptions = [
    ...documents,
    ...documents.map((document) => document.onDidChange(() => page.notify('changed', { why: 'file' }))),
    onDisplayUnitsChanged(() => page.notify('changed', { why: 'settings' })),
  ];
  panel.onDidDispose(() => {
    page.close();
    for (const subscription of subscriptions) subscription.dispose();
  });
  webview.html = pageHtml(webview, extensionUri, 'overlay');
}

async function readRuns(
  flights: readonly { readonly track: OverlayTrack; readonly document: TrackDocument }[],
  onProgress: (fraction: number) => void,
  signal: AbortSignal,
): Promise<OverlayView> {
  const runs: OverlayRun[] = [];
  const problems: Problem[] = [];
  for (const [index, { track, document }] of flights.entries()) {
    const trouble = (message: string): void => {
      problems.push({ code: 'overlay-left-out', severity: 'warning', message, at: { file: document.fileName } });
    };
    try {
      const loaded = await document.load((fraction) => onProgress((index + fraction) / flights.length), signal);
      if (loaded.outcome === 'unreadable') {
        const why = loaded.read.problems.find((problem) => problem.severity === 'error');
        trouble(why?.message ?? 'No flight was found in it.');
        continue;
      }
      const { columns, flight } = loaded;
      const flown = flight.analysis.takeoffs.filter((takeoff) => takeoff.liftoff !== undefined);
      if (flown.length === 0) trouble('It holds no take-off from start of roll to lift-off.');
      flight.analysis.takeoffs.forEach((takeoff, at) => {
        if (takeoff.liftoff === undefined) return;
        runs.push({
          file: document.uri.toString(),
          number: at + 1,
          ...(track.configuration === undefined ? {} : { configuration: track.configuration }),
          label: flown.length > 1 ? `${document.fileName}, take-off ${at + 1}` : document.fileName,
          curve: takeoffCurve(columns, takeoff),
        });
      });
    } catch (error) {
      signal.throwIfAborted();
      trouble(error instanceof Error ? error.message : String(error));
    }
  }
  return {
    tracks: flights.map(({ track }) => track),
    runs,
    problems,
    settings: { units: displayUnits() },
  };
}
