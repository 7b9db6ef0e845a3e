import assert from 'node:assert/strict';
import { gpmfReader } from '../../../../../src/engine/readers/gpmf/read.ts';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

// Facts of the recordings as described in the notes that came with them (data/SOURCES.md).
describe('recorded GPMF', () => {
  itWithData('reads a stream with a time for each sample', 'data/video/gpmf-gps9-01.raw', async (bytes) => {
    const { track, format, problems, contents } = await readRecording(bytesInMemory('a.raw', bytes));
    assert.equal(format, 'gpmf');
    assert.deepEqual(problems, []);
    assert.ok(track);
    assert.equal(track.timeS.length, 110);
    assert.equal(new Date(track.timeS[0] * 1000).toISOString(), '2022-09-20T13:29:36.899Z');
    near(109 / (track.timeS[109] - track.timeS[0]), 10, 1e-6);
    assert.equal(track.altitudes[0].kind, 'msl');
    near(track.altitudes[0].valuesM[0], 34.098, 1e-9);
    assert.match(contents.join(' '), /GPS9 .* 110 samples .* \(the best of 2 GPS streams\)/);
    assert.equal(track.videoStartS, undefined);
  });

  itWithData(
    'takes no position of a receiver with a poor dilution of precision',
    'data/video/gpmf-gps5-01.raw',
    async (bytes) => {
      const { track, problems, contents } = await gpmfReader.read(bytesInMemory('a.raw', bytes), {});
      assert.equal(track, undefined);
      assert.deepEqual(
        problems.map(({ code }) => code),
        ['gpmf-no-fix'],
      );
      assert.match(contents.join(' '), /19 samples .*, 0 with a good fix/);
    },
  );

  itWithData('takes no position of a receiver without lock', 'data/video/gpmf-nolock-01.raw', async (bytes) => {
    const { track, problems } = await gpmfReader.read(bytesInMemory('a.raw', bytes), {});
    assert.equal(track, undefined);
    assert.deepEqual(
      problems.map(({ code }) => code),
      ['gpmf-no-fix'],
    );
    assert.match(problems[0].message, /18 positions are written/);
  });
});
