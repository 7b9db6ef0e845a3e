import * as vscode from 'vscode';
import { noConditions, type TypedConditions } from '../../../shared/flight-view.ts';
import { isSpec, parsedSpec } from '../comparison/spec-file.ts';
import type { Parts } from '../extension.ts';
import { baseName, folderOf } from '../paths.ts';
import { relativeTo, walk } from '../world-vscode.ts';
import { activeRecording } from './open.ts';

const deepest = 6;

/** Comparisons of the workspace, those nearest to the recording first. */
async function comparisonsNear(recording: vscode.Uri): Promise<vscode.Uri[]> {
  const roots = vscode.workspace.workspaceFolders?.map(({ uri }) => uri) ?? [folderOf(recording)];
  const found = (
    await Promise.all(roots.map((root) => walk(root, deepest, (path) => isSpec(root.with({ path: `/${path}` })))))
  ).flat();
  const distance = (spec: vscode.Uri): number => relativeTo(spec, recording).split('/').length;
  return found.sort((a, b) => distance(a) - distance(b) || (a.path < b.path ? -1 : 1));
}

async function chooseComparison(recording: vscode.Uri): Promise<vscode.Uri | 'new' | undefined> {
  const found = await comparisonsNear(recording);
  if (found.length === 0) return 'new';
  const items = [
    ...found.map((uri) => ({ label: baseName(uri), description: vscode.workspace.asRelativePath(folderOf(uri)), uri })),
    { label: 'New Comparison...', description: 'with this flight in it', uri: 'new' as const },
  ];
  const picked = await vscode.window.showQuickPick(items, {
    title: 'Add to Comparison (1/2)',
    placeHolder: `Comparison that ${baseName(recording)} belongs to`,
  });
  return picked?.uri;
}

async function chooseConfiguration(spec: vscode.TextDocument): Promise<string | null | undefined> {
  const configurations = parsedSpec(spec).spec?.configurations ?? [];
  if (configurations.length === 0) return null;
  const picked = await vscode.window.showQuickPick(
    [
      ...configurations.map(({ id, description }) => ({ label: id, description, id })),
      { label: 'I will fill it in myself', description: undefined, id: null },
    ],
    { title: 'Add to Comparison (2/2)', placeHolder: 'State of the aeroplane in this flight' },
  );
  return picked?.id;
}

/** Surfaces as the spec writes them; the page's are those of the wind profile. */
const surfaceWords: Readonly<Record<string, string>> = { 'long-grass': 'long grass', rough: 'other' };

function written(typed: TypedConditions): { conditions: Record<string, string>; runway: Record<string, string> } {
  const wind = typed.windSpeed.trim() === '' ? '' : `${typed.windFrom.trim()} ${typed.windSpeed.trim()}`.trim();
  return {
    runway: {
      heading: typed.runwayHeading,
      elevation: typed.runwayElevation,
      slope: typed.runwaySlope,
      surface: surfaceWords[typed.surface] ?? typed.surface,
    },
    conditions: {
      'air-temperature': typed.temperature,
      'dew-point': typed.dewPoint,
      'altimeter-setting': typed.altimeterSetting,
      wind,
      weight: typed.takeoffWeight,
    },
  };
}

/** Arguments for tests and other callers: what would otherwise be asked for. */
interface Chosen {
  readonly spec?: vscode.Uri;
  readonly configuration?: string | null;
}

async function add(recording: vscode.Uri, typed: TypedConditions, chosen: Chosen): Promise<void> {
  const target = chosen.spec ?? (await chooseComparison(recording));
  if (target === undefined) return;
  if (target === 'new') {
    await vscode.commands.executeCommand('modproof.newComparison', recording, [recording]);
    return;
  }
  const spec = await vscode.workspace.openTextDocument(target);
  const configuration = chosen.configuration === undefined ? await chooseConfiguration(spec) : chosen.configuration;
  if (configuration === undefined) return;
  const { addFlight } = await import('../../engine/spec/index.ts');
  const track = relativeTo(target, recording);
  const { start, end, text } = addFlight(spec.getText(), {
    track,
    ...(configuration === null ? {} : { configuration }),
    ...written(typed),
  });
  const edit = new vscode.WorkspaceEdit();
  const at = spec.positionAt(start);
  edit.replace(target, new vscode.Range(at, spec.positionAt(end)), text);
  if (!(await vscode.workspace.applyEdit(edit))) throw new Error(`${baseName(target)} could not be changed.`);
  const line = at.line + text.slice(0, text.indexOf('- ')).split('\n').length - 1;
  await vscode.window.showTextDocument(spec, {
    viewColumn: vscode.ViewColumn.Beside,
    selection: new vscode.Range(line, 0, line, 0),
  });
}

/**
 * Writes a recording, and the conditions typed beside it, into a comparison: as an edit in the editor, not saved, so that
 * it is seen, completed and undone there.
 */
export function registerAddToComparison({ context }: Parts): void {
  context.subscriptions.push(
    vscode.commands.registerCommand(
      'modproof.addToComparison',
      async (clicked?: unknown, typed?: unknown, chosen?: unknown) => {
        const recording = clicked instanceof vscode.Uri ? clicked : activeRecording();
        if (recording === undefined) {
          void vscode.window.showInformationMessage('Open or click a recording first.');
          return;
        }
        // The Explorer hands over the marked files in second place.
        const conditions = Array.isArray(typed) ? {} : ((typed ?? {}) as Partial<TypedConditions>);
        try {
          await add(recording, { ...noConditions, ...conditions }, chosen ?? {});
        } catch (error) {
          void vscode.window.showErrorMessage(error instanceof Error ? error.message : String(error));
        }
      },
    ),
  );
}
