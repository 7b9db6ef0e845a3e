import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { file } from '../editor.ts';
import { diagnosed, openSpec, positionOf, removeFiles, removeSpecs, retype } from '../specs.ts';

async function fixesAt(document: vscode.TextDocument, diagnostic: vscode.Diagnostic): Promise<vscode.CodeAction[]> {
  const found = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    document.uri,
    diagnostic.range,
    vscode.CodeActionKind.QuickFix.value,
  );
  // Nobody else offers any here; their diagnostics do not come through this door.
  return found;
}

async function apply(action: vscode.CodeAction | undefined): Promise<void> {
  assert.ok(action?.edit, 'no fix was offered');
  assert.ok(await vscode.workspace.applyEdit(action.edit), 'the fix was not applied');
}

async function labelsAt(document: vscode.TextDocument, position: vscode.Position): Promise<string[]> {
  const list = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    position,
  );
  return list.items.map(({ label }) => (typeof label === 'string' ? label : label.label));
}

function text(document: vscode.TextDocument, { range }: { readonly range: vscode.Range }): string {
  return document.getText(range);
}

describe('a spec in the text editor', () => {
  afterEach(async () => {
    await removeSpecs();
  });

  it('has no errors when it is right', async () => {
    const document = await openSpec();
    const found = await diagnosed(document, 'nothing but notices', (all) =>
      all.every(({ severity }) => severity !== vscode.DiagnosticSeverity.Error),
    );
    assert.equal(found.filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error).length, 0);
  });

  it('tells a misspelt key as one types, on the key, and mends it', async () => {
    const document = await openSpec();
    await retype(document, 'altimeter-setting', 'altimetr-setting');
    const [problem] = await diagnosed(document, 'one unknown key', (all) =>
      all.some(({ code }) => code === 'spec-unknown-key'),
    );
    assert.equal(text(document, problem), 'altimetr-setting');
    const [fix] = await fixesAt(document, problem);
    assert.equal(fix?.title, 'Change to "altimeter-setting"');
    assert.equal(fix?.isPreferred, true);
    await apply(fix);
    await diagnosed(document, 'no unknown key', (all) => all.every(({ code }) => code !== 'spec-unknown-key'));
  });

  it('offers the units of a quantity that has none', async () => {
    const document = await openSpec();
    await retype(document, 'weight: 850 kg', 'weight: 850');
    const all = await diagnosed(document, 'a quantity without unit', (found) =>
      found.some(({ code }) => code === 'spec-quantity'),
    );
    const problem = all.find(({ code }) => code === 'spec-quantity') as vscode.Diagnostic;
    assert.equal(text(document, problem), '850');
    const fixes = await fixesAt(document, problem);
    assert.deepEqual(
      fixes.map(({ title }) => title),
      ['Write "850 kg"', 'Write "850 lb"'],
    );
    await apply(fixes[0]);
    assert.ok(document.getText().includes('weight: 850 kg'));
  });

  it('tells a track that is not there on its line, and proposes the one that is', async () => {
    const document = await openSpec();
    const track = /track: (\S+\.gpx)/.exec(document.getText())?.[1] ?? '';
    await retype(document, track, track.replace('.gpx', '.igc'));
    const all = await diagnosed(document, 'a missing track', (found) =>
      found.some(({ code }) => code === 'track-not-found'),
    );
    const problem = all.find(({ code }) => code === 'track-not-found') as vscode.Diagnostic;
    assert.equal(text(document, problem), track.replace('.gpx', '.igc'));
    const [fix] = await fixesAt(document, problem);
    assert.equal(fix?.title, `Change to "${track}"`);
    await apply(fix);
    await diagnosed(document, 'no missing track', (found) => found.every(({ code }) => code !== 'track-not-found'));
  });

  it('notices when a missing track comes', async () => {
    const document = await openSpec((whole) =>
      whole.replace('flights:\n', 'flights:\n  - track: late.gpx\n    configuration: before\n'),
    );
    await diagnosed(document, 'a missing track', (found) => found.some(({ code }) => code === 'track-not-found'));
    const other = /track: (\S+\.gpx)\n {4}configuration: before\n {4}runway/.exec(document.getText())?.[1] ?? '';
    await vscode.workspace.fs.copy(file(`campaign/${other}`), file('campaign/late.gpx'));
    await diagnosed(document, 'no missing track', (found) => found.every(({ code }) => code !== 'track-not-found'));
    await removeFiles('campaign/late.gpx');
  });

  it('proposes keys, configurations, runways, units, metrics and tracks', async () => {
    const document = await openSpec((whole) =>
      whole
        .replace('flights:\n', 'flights:\n  - track: \n    configuration: \n    runway: \n    weight: 850\n    \n')
        .replace('- metric: level-speed', '- metric: '),
    );
    const after = (piece: string): vscode.Position => positionOf(document, piece, piece.length);
    assert.ok(
      (await labelsAt(document, after('- track: '))).some((label) => label.endsWith('.gpx')),
      'tracks',
    );
    assert.deepEqual((await labelsAt(document, after('\n    configuration: '))).slice(0, 2), ['before', 'after']);
    assert.ok((await labelsAt(document, after('\n    runway: '))).length >= 2, 'runways');
    const weights = await labelsAt(document, after('\n    weight: 850'));
    assert.ok(weights.includes('850 kg') && weights.includes('850 lb'), weights.join());
    assert.ok((await labelsAt(document, after('\n    weight: 850\n    '))).includes('technique'), 'keys');
    assert.ok((await labelsAt(document, after('- metric: '))).includes('ground-roll'), 'metrics');
    assert.ok(
      (await labelsAt(document, document.lineAt(document.lineCount - 1).range.end)).includes('loading'),
      'ready-made blocks',
    );
  });

  it('explains a key', async () => {
    const document = await openSpec();
    const [hover] = await vscode.commands.executeCommand<vscode.Hover[]>(
      'vscode.executeHoverProvider',
      document.uri,
      positionOf(document, 'altimeter-setting', 2),
    );
    const said = hover.contents.map((one) => (typeof one === 'string' ? one : one.value)).join('\n');
    assert.match(said, /hPa/);
  });

  it('goes from a flight to its configuration, and renames it everywhere', async () => {
    const document = await openSpec();
    const at = positionOf(document, 'configuration: after', 'configuration: af'.length);
    const [link] = await vscode.commands.executeCommand<(vscode.LocationLink | vscode.Location)[]>(
      'vscode.executeDefinitionProvider',
      document.uri,
      at,
    );
    const range = 'targetRange' in link ? link.targetRange : link.range;
    assert.equal(document.getText(range), 'after');
    assert.equal(range.start.line, positionOf(document, '\n  after:', 1).line);
    const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
      'vscode.executeDocumentRenameProvider',
      document.uri,
      at,
      'fairings on',
    );
    assert.equal(edit.get(document.uri).length, 4, 'one definition, three flights');
    assert.ok(await vscode.workspace.applyEdit(edit));
    await diagnosed(document, 'no errors', (all) =>
      all.every(({ severity }) => severity !== vscode.DiagnosticSeverity.Error),
    );
    assert.ok(!document.getText().includes('configuration: after'));
  });

  it('links tracks, has an outline and folds', async () => {
    const document = await openSpec();
    const links = await vscode.commands.executeCommand<vscode.DocumentLink[]>(
      'vscode.executeLinkProvider',
      document.uri,
    );
    const tracks = links.filter(({ target }) => target?.path.endsWith('.gpx'));
    assert.equal(tracks.length, 6);
    assert.equal(document.getText(tracks[0].range), /track: (\S+)/.exec(document.getText())?.[1]);
    const symbols = await vscode.commands.executeCommand<vscode.DocumentSymbol[]>(
      'vscode.executeDocumentSymbolProvider',
      document.uri,
    );
    const flights = symbols.find((symbol) => symbol.name === 'flights');
    assert.equal(flights?.children.length, 6);
    const folds = await vscode.commands.executeCommand<vscode.FoldingRange[]>(
      'vscode.executeFoldingRangeProvider',
      document.uri,
    );
    const line = positionOf(document, 'flights:').line;
    assert.ok(
      folds.some(({ start }) => start === line),
      'the flights fold',
    );
  });
});
