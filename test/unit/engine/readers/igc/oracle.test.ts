import assert from 'node:assert/strict';
import IgcParser from 'igc-parser';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { trackOf } from '../../../../tools/read-text.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

/** Against the package igc-parser, on files without damage. It gives an altitude of 00000 as null. */
describe('IGC against igc-parser', () => {
  const files = ['selflaunch-01', 'glider-01', 'glider-02', 'glider-03-midnight', 'glider-04', 'paraglider-01'].map(
    (name) => `data/flights/${name}.igc`,
  );
  for (const path of [...files, 'data/conformance/igc/spec-example.igc']) {
    itWithData(path, path, async (bytes) => {
      const { fixes } = IgcParser.parse(new TextDecoder('windows-1252').decode(bytes), { lenient: true });
      const track = trackOf(await readRecording(bytesInMemory(path, bytes)));
      assert.ok(fixes.length > 0 && fixes.every(({ valid }) => valid));
      assert.equal(track.timeS.length, fixes.length);
      fixes.forEach((fix, i) => {
        assert.equal(track.timeS[i] * 1000, fix.timestamp);
        near(track.latDeg[i], fix.latitude, 1e-9);
        near(track.lonDeg[i], fix.longitude, 1e-9);
        for (const { kind, valuesM } of track.altitudes) {
          const expected = kind === 'pressure' ? fix.pressureAltitude : fix.gpsAltitude;
          if (expected !== null) assert.equal(valuesM[i], expected);
        }
      });
    });
  }
});
