import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { file } from '../editor.ts';
import { diagnosed, lenses, openSpec, removeFiles, removeSpecs, retype, textOf, write } from '../specs.ts';

const sections = `missions:
  - strip: river bar
    available: 900 m
    elevation: 300 ft
    air-temperature: 15 degC
    surface: grass
    weight: 850 kg
  - { climb: over the pass, rate: 100 ft/min, density-altitude: 2000 ft, weight: 850 kg }
candidates:
  clean:
    drag: -5 %
loading:
  stations:
    seats: { arm: 500 mm, pilot: true }
    tank: { arm: 640 mm, fuel: true }
  cases:
    two up: { load: { seats: 160 kg, tank: 60 L } }
fuel:
  cruise: [{ configuration: before, setting: 2450 rpm, speed: 96 kt, flow: 25 L/h }]
plan:
  card: next-flight.md
`;

const withSections = (text: string): string =>
  `${text.replace('before-after.md', 'decided.md').trimEnd()}\n${sections}`;

const run = (command: string, document: vscode.TextDocument): Thenable<unknown> =>
  vscode.commands.executeCommand(command, document.uri);

/** Titles of the lenses on the line of a piece of text. */
async function lensesAt(document: vscode.TextDocument, piece: string): Promise<string[]> {
  const found = await vscode.commands.executeCommand<vscode.CodeLens[]>(
    'vscode.executeCodeLensProvider',
    document.uri,
    100,
  );
  const { line } = document.positionAt(document.getText().indexOf(`\n${piece}`) + 1);
  return found.filter(({ range }) => range.start.line === line).map(({ command }) => command?.title ?? '');
}

async function exists(path: string): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(file(path));
    return true;
  } catch {
    return false;
  }
}

describe('the sections around the flights, in the editor', () => {
  afterEach(async () => {
    await removeSpecs();
    await removeFiles('campaign/decided.md', 'campaign/decided-figures', 'campaign/next-flight.md');
  });

  it('offer to be worked out, and then say their answers', async () => {
    const document = await openSpec(withSections);
    for (const section of ['missions:', 'candidates:', 'loading:', 'fuel:', 'plan:'])
      assert.ok((await lensesAt(document, section)).includes('$(play) Evaluate'), section);
    assert.equal(await run('modproof.evaluateComparison', document), 6);
    assert.match((await lensesAt(document, 'missions:')).join(), /mission/);
    assert.match((await lensesAt(document, '  - strip: river bar')).join(), /^before: .* \| after: /);
    assert.match((await lensesAt(document, '  - { climb: over the pass')).join(), /^before: .* \| after: /);
    assert.match((await lensesAt(document, 'candidates:')).join(), /of 1 candidate predicted/);
    assert.match((await lensesAt(document, '  clean:')).join(), /redicted/);
    assert.match((await lensesAt(document, 'loading:')).join(), /empty weight|envelope/);
    assert.match((await lensesAt(document, 'fuel:')).join(), /ange/);
    const plan = await lensesAt(document, 'plan:');
    assert.match(plan[0], /^Next: after/);
    assert.ok(plan[1].includes('Write Test Card'), plan.join());
    // What was changed since is told as that.
    await retype(document, 'rate: 100 ft/min', 'rate: 200 ft/min');
    assert.match((await lensesAt(document, '  - { climb: over the pass')).join(), /\(before the last change\)$/);
  });

  it('give a test card beside the comparison, and never write over one', async () => {
    const document = await openSpec(withSections);
    const written = (await run('modproof.writeTestCard', document)) as vscode.Uri | undefined;
    assert.equal(written?.toString(), file('campaign/next-flight.md').toString());
    const card = await textOf(file('campaign/next-flight.md'));
    assert.match(card, /Test card/i);
    await write(file('campaign/next-flight.md'), 'filled in by hand\n');
    assert.equal(await run('modproof.writeTestCard', document), undefined);
    assert.equal(await textOf(file('campaign/next-flight.md')), 'filled in by hand\n');
  });

  it('write no card that was not asked for', async () => {
    const document = await openSpec((text) => text.replace('before-after.md', 'decided.md'));
    assert.equal(await run('modproof.writeTestCard', document), undefined);
    assert.equal(await exists('campaign/next-flight.md'), false);
    assert.ok((await lenses(document)).every((title) => !title.includes('Test Card')));
  });

  it('propose stations by name, and mend one that is misspelt', async () => {
    const document = await openSpec(withSections);
    await retype(document, 'load: { seats:', 'load: { saets:');
    const all = await diagnosed(document, 'an unknown station', (found) =>
      found.some(({ code }) => code === 'spec-unknown-name'),
    );
    const problem = all.find(({ code }) => code === 'spec-unknown-name') as vscode.Diagnostic;
    assert.equal(document.getText(problem.range), 'saets');
    const [fix] = await vscode.commands.executeCommand<vscode.CodeAction[]>(
      'vscode.executeCodeActionProvider',
      document.uri,
      problem.range,
      vscode.CodeActionKind.QuickFix.value,
    );
    assert.equal(fix?.title, 'Change to "seats"');
    assert.ok(fix.edit !== undefined && (await vscode.workspace.applyEdit(fix.edit)));
    await diagnosed(document, 'no unknown station', (found) => found.every(({ code }) => code !== 'spec-unknown-name'));
  });
});
