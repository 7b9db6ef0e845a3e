import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { file } from '../editor.ts';
import { comparisons, diagnosed, lenses, openSpec, removeFiles, removeSpecs, retype, textOf, write } from '../specs.ts';

const report = 'campaign/answer.md';
const withReport = (text: string): string => text.replace('before-after.md', 'answer.md');

async function evaluate(document: vscode.TextDocument): Promise<unknown> {
  return vscode.commands.executeCommand('modproof.evaluateComparison', document.uri);
}

function firstTrack(document: vscode.TextDocument): string {
  return /track: (\S+)/.exec(document.getText())?.[1] ?? '';
}

async function exists(path: string): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(file(path));
    return true;
  } catch {
    return false;
  }
}

describe('evaluating a comparison', () => {
  // A browser saves by itself after a pause; here it is to be seen what is not saved.
  const files = (): vscode.WorkspaceConfiguration => vscode.workspace.getConfiguration('files');
  before(() => files().update('autoSave', 'off', vscode.ConfigurationTarget.Global));
  after(() => files().update('autoSave', undefined, vscode.ConfigurationTarget.Global));

  afterEach(async () => {
    await removeSpecs();
    await removeFiles(
      report,
      'campaign/answer-figures',
      'campaign/notes.md',
      'campaign/notes-figures',
      'campaign/broken.gpx',
    );
  });

  it('writes the report and its figures, says what was found, and is quicker the second time', async () => {
    const document = await openSpec(withReport);
    const api = await comparisons();
    assert.equal(await evaluate(document), 6);
    const first = api.last(document.uri)?.tookMs ?? 0;
    const text = await textOf(file(report));
    assert.match(text, /Not approved performance data/);
    const [, figure] = /\((answer-figures\/[\w-]+\.svg)\)/.exec(text) ?? [];
    assert.ok(await exists(`campaign/${figure}`), `${figure} is not there`);
    const shown = await lenses(document);
    assert.ok(
      shown.some((title) => title.includes('take-off')),
      shown.join(' / '),
    );
    assert.ok(
      shown.some((title) => title.includes('Open Report')),
      shown.join(' / '),
    );

    assert.equal(await evaluate(document), 6);
    const second = api.last(document.uri)?.tookMs ?? 0;
    api.forgetMemory();
    assert.equal(await evaluate(document), 6);
    const third = api.last(document.uri)?.tookMs ?? 0;
    console.log(
      `\u2063    six flights: ${first.toFixed(0)} ms, again ${second.toFixed(0)} ms, from disk ${third.toFixed(0)} ms`,
    );
    assert.ok(second < first, `first ${first} ms, second ${second} ms`);
    assert.equal(await textOf(file(report)), text, 'the same answer');
  });

  it('tells the findings of a flight when one points at its track', async () => {
    const document = await openSpec(withReport);
    await evaluate(document);
    const at = document.positionAt(document.getText().indexOf('track: ') + 9);
    const [hover] = await vscode.commands.executeCommand<vscode.Hover[]>(
      'vscode.executeHoverProvider',
      document.uri,
      at,
    );
    const said = hover.contents.map((one) => (typeof one === 'string' ? one : one.value)).join('\n');
    assert.match(said, /Ground roll/);
  });

  it('can be stopped, writes nothing then, and can be started again', async () => {
    const document = await openSpec((text) => withReport(text).replace('title: ', 'title: stopped '));
    const api = await comparisons();
    // Nothing is remembered of this spec's flights with another altitude asked for.
    await retype(document, 'distance-over: 100 ft', 'distance-over: 77 ft');
    const running = evaluate(document);
    await assert.eventually(() => api.isRunning(document.uri) || undefined, 'the evaluation under way');
    await vscode.commands.executeCommand('modproof.stopEvaluation', document.uri);
    assert.equal(await running, undefined);
    assert.equal(api.last(document.uri), undefined);
    assert.equal(await exists(report), false);
    assert.equal(await evaluate(document), 6);
    assert.equal(await exists(report), true);
  });

  it('leaves a report alone that a person has changed, and says so', async () => {
    const document = await openSpec(withReport);
    await evaluate(document);
    const mine = `${await textOf(file(report))}\nMy own thoughts.\n`;
    await write(file(report), mine);
    await evaluate(document);
    assert.equal(await textOf(file(report)), mine);
    const all = await diagnosed(document, 'a refusal', (found) => found.some(({ code }) => code === 'report-refused'));
    const refusal = all.find(({ code }) => code === 'report-refused') as vscode.Diagnostic;
    assert.equal(document.getText(refusal.range), 'answer.md');
  });

  it('writes between the markers of notes and leaves the rest byte for byte', async () => {
    const above = '# My notes\r\n\r\ttext \r\n<!-- modproof:begin -->\r\n';
    const below = '<!-- modproof:end -->\r\nbelow, without an end of line';
    await write(file('campaign/notes.md'), `${above}old\r\n${below}`);
    const document = await openSpec((text) => text.replace('file: before-after.md', 'insert-into: notes.md'));
    await evaluate(document);
    const notes = await textOf(file('campaign/notes.md'));
    assert.ok(notes.startsWith(above) && notes.endsWith(below), notes.slice(0, 200));
    assert.ok(notes.includes('## '), 'the report is in it');
    assert.ok(!notes.includes('\r\nold\r\n'), 'the old part is replaced');
  });

  it('does not write over notes with changes that are not saved', async () => {
    await write(file('campaign/notes.md'), '<!-- modproof:begin -->\n<!-- modproof:end -->\n');
    const notes = await vscode.workspace.openTextDocument(file('campaign/notes.md'));
    const edit = new vscode.WorkspaceEdit();
    edit.insert(notes.uri, new vscode.Position(0, 0), 'being written\n');
    await vscode.workspace.applyEdit(edit);
    const document = await openSpec((text) => text.replace('file: before-after.md', 'insert-into: notes.md'));
    await evaluate(document);
    assert.equal(await textOf(notes.uri), '<!-- modproof:begin -->\n<!-- modproof:end -->\n');
    await diagnosed(document, 'a refusal', (found) => found.some(({ code }) => code === 'report-refused'));
    await vscode.window.showTextDocument(notes);
    await vscode.commands.executeCommand('workbench.action.files.revert');
  });

  it('makes a bad track a problem on its line and still reports the rest', async () => {
    await write(file('campaign/broken.gpx'), 'this is no recording');
    const document = await openSpec((text) =>
      withReport(text).replace('flights:\n', 'flights:\n  - track: broken.gpx\n    configuration: before\n'),
    );
    assert.equal(await evaluate(document), 6);
    const all = await diagnosed(document, 'the bad track', (found) =>
      found.some(
        ({ severity, range }) =>
          severity === vscode.DiagnosticSeverity.Error && document.getText(range) === 'broken.gpx',
      ),
    );
    assert.equal(
      all
        .filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error)
        .every(({ range }) => document.getText(range) === 'broken.gpx'),
      true,
    );
    assert.equal(await exists(report), true);
    assert.ok(
      (await lenses(document)).some((title) => title.startsWith('Left out')),
      'the lens says so',
    );
    // The line of the flight may move; its problem goes with it.
    await retype(document, 'flights:\n', 'flights:\n\n\n');
    await diagnosed(document, 'the bad track where it is now', (found) =>
      found.some(({ range }) => document.getText(range) === 'broken.gpx'),
    );
  });

  it('knows when a report is out of date, by the spec and by a recording', async () => {
    const document = await openSpec(withReport);
    const api = await comparisons();
    await evaluate(document);
    await assert.eventually(() => api.report(document.uri)?.kind === 'current' || undefined, 'a current report');
    await retype(document, 'title: ', 'title: other ');
    assert.match(api.outOfDate(document) ?? '', /comparison was changed/);
    await document.save();
    await assert.eventually(() => api.report(document.uri)?.kind === 'out-of-date' || undefined, 'an old report');
    assert.ok(
      (await lenses(document)).some((title) => title.includes('Out of date')),
      'the lens says so',
    );
    await evaluate(document);
    await assert.eventually(() => api.report(document.uri)?.kind === 'current' || undefined, 'a current report again');

    const track = file(`campaign/${firstTrack(document)}`);
    const before = await textOf(track);
    await write(track, before.replace(/<\/gpx>\s*$/, '<!-- touched -->\n</gpx>\n'));
    try {
      await assert.eventually(
        () => api.report(document.uri)?.kind === 'out-of-date' || undefined,
        'a changed recording',
      );
      await assert.eventually(() => /recording/.test(api.outOfDate(document) ?? '') || undefined, 'the reason');
    } finally {
      await write(track, before);
    }
    await assert.eventually(() => api.report(document.uri)?.kind === 'current' || undefined, 'the recording as it was');
  });

  it('evaluates on save where that is wished', async () => {
    const settings = vscode.workspace.getConfiguration('modproof');
    await settings.update('evaluateOnSave', true, vscode.ConfigurationTarget.Global);
    try {
      const document = await openSpec(withReport);
      await retype(document, 'title: ', 'title: saved ');
      await document.save();
      await assert.eventually(() => exists(report).then((there) => there || undefined), 'the report');
    } finally {
      await settings.update('evaluateOnSave', undefined, vscode.ConfigurationTarget.Global);
    }
  });

  it('does not evaluate a spec with errors', async () => {
    const document = await openSpec((text) => withReport(text).replace('baseline: true, ', ''));
    // The message waits for an answer; the command does not.
    assert.equal(await evaluate(document), 0);
    assert.equal(await exists(report), false);
  });
});
