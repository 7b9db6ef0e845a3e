import * as vscode from 'vscode';
import {
  type DisplayUnits,
  type DisplayUnitSet,
  defaultDisplayUnits,
  displayUnitSets,
} from '../../shared/display-units.ts';

const section = 'modproof';

/** Units in which pages and hovers show values; a spec may ask for others in its report. */
export function displayUnits(): DisplayUnits {
  const name = vscode.workspace.getConfiguration(section).get<string>('units', '');
  return Object.hasOwn(displayUnitSets, name) ? displayUnitSets[name as DisplayUnitSet] : defaultDisplayUnits;
}

export function onDisplayUnitsChanged(listener: () => void): vscode.Disposable {
  return vscode.workspace.onDidChangeConfiguration((event) => {
    if (event.affectsConfiguration(`${section}.units`)) listener();
  });
}

/** Whether a comparison is evaluated each time it is saved. */
export function evaluatesOnSave(): boolean {
  return vscode.workspace.getConfiguration(section).get('evaluateOnSave', false);
}

/** Whether positions are left out of every report, whatever its comparison says. */
export function hidesPositions(): boolean {
  return vscode.workspace.getConfiguration(section).get('hidePositionsInReports', false);
}
