import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { closeAll, extensionApi, file, open, shownFlight } from '../editor.ts';

async function write(uri: vscode.Uri, text: string): Promise<void> {
  await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
}

async function text(uri: vscode.Uri): Promise<string> {
  return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
}

describe('a flight that is open', () => {
  const copy = file('flights/copy.gpx');
  const events = file('flights/copy.gpx.events.yaml');

  beforeEach(async () => {
    await vscode.workspace.fs.copy(file('flights/handheld.gpx'), copy, { overwrite: true });
  });
  afterEach(async () => {
    await closeAll();
    for (const uri of [copy, events]) await vscode.workspace.fs.delete(uri).then(undefined, () => undefined);
  });

  it('is read again when the file changes, and the viewer says so when it is gone', async () => {
    const first = await open('flights/copy.gpx');
    await write(copy, '<gpx version="1.1"></gpx>');
    const second = await shownFlight(copy, 'drawn again', ({ drawn }) => drawn?.outcome === 'unreadable');
    assert.ok(second.opened > first.opened, `${second.opened} times opened`);
    await vscode.workspace.fs.delete(copy);
    // The editor closes a tab whose file is gone, unless set otherwise; the page may be quicker.
    const api = await extensionApi();
    await assert.eventually(
      () => api.shown().every(({ drawn }) => drawn?.outcome === 'trouble' && Boolean(drawn.message)) || undefined,
      'trouble shown, or the tab closed',
    );
  });

  it('takes a correction from the file beside it, and lets it go again', async () => {
    const api = await extensionApi();
    const first = await open('flights/copy.gpx');
    await write(events, 'corrections:\n  - lift-off: nonsense\n');
    await shownFlight(
      copy,
      'drawn after the correction',
      ({ opened, drawn }) => opened > first.opened && drawn?.pending === false,
    );
    const opened = api.shown()[0].opened;
    await vscode.workspace.fs.delete(events);
    await shownFlight(
      copy,
      'drawn after its removal',
      (shown) => shown.opened > opened && shown.drawn?.pending === false,
    );
  });

  it('is shown joined with another recording once one is added, which is named beside it', async () => {
    const other = file('flights/other-recorder.gpx');
    await vscode.workspace.fs.copy(copy, other, { overwrite: true });
    try {
      const first = await open('flights/copy.gpx');
      await write(events, '# mine\ncorrections:\n');
      await vscode.commands.executeCommand('modproof.addRecording', copy, [copy, other], { anyway: false });
      assert.equal(await text(events), '# mine\ncorrections:\nalso-recorded-by: other-recorder.gpx\n');
      await shownFlight(
        copy,
        'drawn joined',
        ({ opened, drawn }) => opened > first.opened && drawn?.outcome === 'flight' && !drawn.pending,
      );
      // What has nothing to do with it is not added.
      await vscode.commands.executeCommand('modproof.addRecording', copy, [file('flights/logger.igc')], {
        anyway: false,
      });
      assert.equal(await text(events), '# mine\ncorrections:\nalso-recorded-by: other-recorder.gpx\n');
    } finally {
      await vscode.workspace.fs.delete(other);
    }
  });

  it('keeps its view while its tab is hidden', async () => {
    await open('flights/copy.gpx');
    const match = /<time>([^<]+)<\/time>/.exec(await text(copy));
    const startS = Date.parse(match?.[1] ?? '') / 1000 + 120;
    await vscode.commands.executeCommand('modproof.openAsFlight', copy, { startS, endS: startS + 200 });
    // The page keeps its state a moment after a change.
    await new Promise((resolve) => setTimeout(resolve, 1500));
    await vscode.commands.executeCommand('vscode.open', file('flights/panel.csv'), { preview: false });
    await shownFlight(copy, 'hidden', ({ visible }) => !visible);
    const { opened: before } = await shownFlight(copy, 'still there');
    await vscode.commands.executeCommand('vscode.openWith', copy, 'modproof.track');
    const back = await shownFlight(
      copy,
      'drawn again',
      ({ opened, visible, drawn }) => visible && opened > before && drawn?.pending === false,
    );
    const range = back.drawn?.range;
    assert.ok(range, 'the span in view was lost');
    assert.near(range[1] - range[0], 200, 1);
  });

  it('has two viewers on one reading', async () => {
    const api = await extensionApi();
    await open('flights/copy.gpx');
    await vscode.commands.executeCommand('workbench.action.splitEditor');
    await assert.eventually(
      () => (api.shown().length === 2 && api.shown().every(({ drawn }) => drawn?.pending === false)) || undefined,
      'two viewers drawn',
    );
    await vscode.commands.executeCommand('workbench.action.closeActiveEditor');
    await assert.eventually(() => api.shown().length === 1 || undefined, 'one viewer left');
  });
});

describe('the overlay', () => {
  afterEach(closeAll);

  it('opens for the files marked in the Explorer, and says what it leaves out', async () => {
    const api = await extensionApi();
    const files = ['handheld.gpx', 'receiver.nmea', 'notes.gpx'].map((name) => file(`flights/${name}`));
    await vscode.commands.executeCommand('modproof.overlayFlights', files[0], files);
    const overlay = await assert.eventually(
      () => api.overlays().find(({ drawn }) => drawn !== undefined),
      'an overlay drawn',
      25_000,
    );
    assert.ok((overlay.drawn?.runs ?? 0) >= 2, `${overlay.drawn?.runs} runs`);
    assert.equal(overlay.drawn?.problems, 1);
  });
});

describe('the overlay of a comparison', () => {
  const spec = file('laid-over.modproof.yaml');

  afterEach(async () => {
    await closeAll();
    await vscode.workspace.fs.delete(spec);
  });

  it('takes its flights with their configurations', async () => {
    const api = await extensionApi();
    await write(
      spec,
      `modproof: 1
title: Overlay
aircraft: { name: Merrow, propeller: fixed-pitch }
configurations: { old: { baseline: true }, new: {} }
airfields: { home: { elevation: 10 m, runways: { "36": { surface: grass } } } }
flights:
  - track: flights/handheld.gpx
    configuration: old
    runway: "36"
    weight: 500 kg
  - track: flights/receiv*.nmea
    configuration: new
    runway: "36"
    weight: 500 kg
reference: { density-altitude: 0 ft }
questions: [ground-roll]
report: { units: icao }
`,
    );
    await vscode.commands.executeCommand('modproof.overlayFlights', spec);
    const overlay = await assert.eventually(
      () => api.overlays().find(({ drawn }) => drawn !== undefined),
      'an overlay',
      25_000,
    );
    assert.deepEqual(
      overlay.tracks.map(({ file: path, configuration }) => [path.slice(path.lastIndexOf('/') + 1), configuration]),
      [
        ['handheld.gpx', 'old'],
        ['receiver.nmea', 'new'],
      ],
    );
    assert.ok((overlay.drawn?.runs ?? 0) >= 2);
  });
});

describe('adding a flight to a comparison', () => {
  const spec = file('adding.modproof.yaml');

  afterEach(async () => {
    await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
    await closeAll();
    await vscode.workspace.fs.delete(spec);
  });

  it('writes track, configuration and typed conditions as an edit that is not saved', async () => {
    const before = 'modproof: 1\n# mine\nflights:\n  - track: flights/logger.igc\n    configuration: before\n';
    await write(spec, before);
    await vscode.commands.executeCommand(
      'modproof.addToComparison',
      file('flights/handheld.gpx'),
      { temperature: '18 degC', windFrom: '250 deg', windSpeed: '9 kt' },
      { spec, configuration: 'after' },
    );
    const document = await vscode.workspace.openTextDocument(spec);
    assert.equal(
      document.getText(),
      `${before}  - track: flights/handheld.gpx\n    configuration: after\n    air-temperature: 18 degC\n    wind: 250 deg 9 kt\n`,
    );
    assert.equal(document.isDirty, true);
    assert.equal(await text(spec), before);
  });
});
