import * as vscode from 'vscode';
import * as assert from '../assert.ts';
import { closeAll, extensionApi, file, shownFlight } from '../editor.ts';
import { openSpec, removeFiles, removeSpecs, textOf } from '../specs.ts';

const positions = /lat="(-?[\d.]+)" lon="(-?[\d.]+)"/g;

function placesIn(text: string): [number, number][] {
  return [...text.matchAll(positions)].map(([, lat, lon]) => [Number(lat), Number(lon)]);
}

describe('sharing without places', () => {
  afterEach(async () => {
    await removeSpecs();
    await closeAll();
    await removeFiles('flights/shared', 'flights/shared-2', 'campaign/for-the-club', 'campaign/for-the-club-2');
  });

  it('writes moved copies into a folder of their own and opens the first', async () => {
    await extensionApi();
    const tracks = [file('flights/handheld.gpx'), file('flights/logger.igc')];
    const share = (): Thenable<vscode.Uri[]> =>
      vscode.commands.executeCommand<vscode.Uri[]>('modproof.shareFlights', tracks[0], tracks, {
        places: 'moved',
        format: 'gpx',
      });
    const copies = await share();
    assert.equal(copies.length, 2);
    assert.ok(
      copies.every(({ path }) => /\/flights\/shared\/flight-[12]\.gpx$/.test(path)),
      copies.join(),
    );
    for (const copy of copies) {
      const places = placesIn(await textOf(copy));
      assert.ok(places.length > 100);
      assert.ok(
        places.every(([lat, lon]) => Math.abs(lat) < 1 && Math.abs(lon + 30) < 1),
        'all of it lies in the ocean',
      );
    }
    const [opened] = await Promise.all(copies.slice(0, 1).map((copy) => shownFlight(copy, 'the first copy drawn')));
    assert.equal(opened.drawn?.outcome, 'flight');
    const first = await textOf(copies[0]);
    const again = await share();
    assert.match(again[0].path, /\/flights\/shared-2\//);
    assert.equal(await textOf(copies[0]), first, 'what was there is not touched');
  });

  it('follows the section "share" of a comparison', async () => {
    const document = await openSpec(
      (text) => `${text}\nshare: { places: cut, radius: 4 km, folder: for-the-club, format: gpx }\n`,
    );
    const copies = await vscode.commands.executeCommand<vscode.Uri[]>('modproof.shareFlights', document.uri);
    assert.ok(copies.length > 0);
    assert.ok(
      copies.every(({ path }) => path.includes('/campaign/for-the-club/flight-')),
      copies.join(),
    );
  });
});
