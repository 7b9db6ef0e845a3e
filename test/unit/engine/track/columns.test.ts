import assert from 'node:assert/strict';
import { keepRows } from '../../../../src/engine/track/columns.ts';
import { trackOf } from './track-of.ts';

describe('rows of a track', () => {
  const track = trackOf(
    Array.from({ length: 10 }, (_, t) => ({ t, east: t, up: 100 + t, speed: t })),
    { breaks: [3, 7], channels: { engineSpeedRpm: Float64Array.from({ length: 10 }, (_, i) => 2000 + i) } },
  );

  it('keep all their columns, and breaks where rows were left out or a break lay', () => {
    const kept = keepRows(track, [0, 1, 2, 3, 5, 6, 8, 9]);
    assert.deepEqual(
      [...kept.timeS].map((timeS) => timeS - 1_700_000_000),
      [0, 1, 2, 3, 5, 6, 8, 9],
    );
    assert.deepEqual(kept.breaks, [3, 4, 6]);
    assert.deepEqual([...(kept.groundSpeedMps ?? [])], [0, 1, 2, 3, 5, 6, 8, 9]);
    assert.equal(kept.altitudes[0].valuesM[4], 105);
    assert.equal(kept.channels.engineSpeedRpm?.[7], 2009);
    assert.equal(kept.latDeg.length, 8);
  });

  it('are the same track when all are kept', () => {
    const all = keepRows(track, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    assert.deepEqual(all.breaks, track.breaks);
    assert.deepEqual(all.lonDeg, track.lonDeg);
  });
});
