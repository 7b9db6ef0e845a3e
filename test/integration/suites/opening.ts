import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { activeInput, closeAll, extensionApi, file, open, shownFlight } from '../editor.ts';
import { MemoryFiles } from '../memory-files.ts';

describe('opening a recording', () => {
  afterEach(closeAll);

  for (const name of ['handheld.gpx', 'logger.igc', 'receiver.nmea', 'watch.fit']) {
    it(`${name} opens as a flight by default`, async () => {
      const { drawn } = await open(`flights/${name}`);
      const input = activeInput();
      assert.ok(input instanceof vscode.TabInputCustom && input.viewType === 'modproof.track', 'not our editor');
      assert.equal(drawn?.outcome, 'flight');
      assert.ok((drawn?.phases ?? 0) >= 5, `${drawn?.phases} phases`);
      assert.ok((drawn?.events ?? 0) >= 3, `${drawn?.events} events`);
    });
  }

  for (const name of ['panel.csv', 'telephone.kml', 'camera.mp4', 'packed.gpx.gz']) {
    it(`${name} opens as a flight on request`, async () => {
      const uri = file(`flights/${name}`);
      await vscode.commands.executeCommand('modproof.openAsFlight', uri);
      const { drawn } = await shownFlight(uri, `${name} drawn`);
      assert.equal(drawn?.outcome, 'flight');
      assert.ok((drawn?.events ?? 0) >= 3, `${drawn?.events} events`);
    });
  }

  it('reads in a thread of its own, in both kinds of host', async () => {
    await open('flights/handheld.gpx');
    assert.equal((await extensionApi()).inThreads, true);
  });

  it('leaves CSV and KML to the text editor until asked', async () => {
    for (const name of ['flights/panel.csv', 'flights/telephone.kml']) {
      await vscode.commands.executeCommand('vscode.open', file(name));
      await assert.eventually(() => activeInput() instanceof vscode.TabInputText || undefined, `${name} as text`);
    }
  });

  it('shows what could be read of a file that was cut off', async () => {
    const { drawn } = await open('flights/cut.gpx');
    assert.equal(drawn?.outcome, 'flight');
  });

  it('says why an empty file and one without a track cannot be read', async () => {
    const empty = await open('flights/empty.gpx');
    assert.equal(empty.drawn?.outcome, 'unreadable');
    assert.match(empty.drawn?.message ?? '', /empty/);
    const notes = await open('flights/notes.gpx');
    assert.equal(notes.drawn?.outcome, 'unreadable');
    assert.ok(notes.drawn?.message);
  });

  it('does not mind an odd file name', async () => {
    const odd = await open('flights/odd [name] {1}.gpx');
    assert.equal(odd.drawn?.outcome, 'unreadable');
  });

  it('goes to the text and back with commands without arguments', async () => {
    await open('flights/handheld.gpx');
    await vscode.commands.executeCommand('modproof.openAsText');
    await assert.eventually(() => activeInput() instanceof vscode.TabInputText || undefined, 'text editor');
    await vscode.commands.executeCommand('modproof.openAsFlight');
    await assert.eventually(() => activeInput() instanceof vscode.TabInputCustom || undefined, 'viewer');
  });

  it('opens what lies in no folder of this machine (virtual workspaces), and reads it again when it changes', async () => {
    const registered = vscode.workspace.registerFileSystemProvider('memory-files', new MemoryFiles());
    try {
      const uri = vscode.Uri.parse('memory-files:/tracks/far.gpx');
      await vscode.workspace.fs.writeFile(uri, await vscode.workspace.fs.readFile(file('flights/handheld.gpx')));
      await vscode.commands.executeCommand('vscode.openWith', uri, 'modproof.track');
      const first = await shownFlight(uri, 'drawn');
      assert.equal(first.drawn?.outcome, 'flight');
      await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode('<gpx version="1.1"></gpx>'));
      const second = await shownFlight(uri, 'drawn again', ({ drawn }) => drawn?.outcome === 'unreadable');
      assert.ok(second.opened > first.opened);
    } finally {
      await closeAll();
      registered.dispose();
    }
  });

  it('leaves the comparison of two texts alone', async () => {
    await vscode.commands.executeCommand(
      'vscode.diff',
      file('flights/handheld.gpx'),
      file('flights/notes.gpx'),
      'two tracks',
    );
    await assert.eventually(() => activeInput() instanceof vscode.TabInputTextDiff || undefined, 'a text diff');
  });
});
