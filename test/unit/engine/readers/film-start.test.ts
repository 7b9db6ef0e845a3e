import assert from 'node:assert/strict';
import { filmStart } from '../../../../src/engine/readers/film-start.ts';
import { near } from '../../../tools/near.ts';

const filmS = Array.from({ length: 300 }, (_, i) => i);

describe('when a film begins', () => {
  it('is the median difference of its time and UTC', () => {
    const unixS = filmS.map((value) => 1.7e9 + value + 0.03 * Math.sin(value * value));
    const { startS, remark } = filmStart(filmS, unixS);
    near(startS ?? 0, 1.7e9, 0.005);
    assert.equal(remark, undefined);
  });

  it('has no answer in slow or fast motion', () => {
    const { startS, remark } = filmStart(
      filmS,
      filmS.map((value) => 1.7e9 + value / 8),
    );
    assert.equal(startS, undefined);
    assert.match(remark ?? '', /shows 0\.1 s/);
  });

  it('is that of the longest part of a film that was paused', () => {
    const { startS, remark } = filmStart(
      filmS,
      filmS.map((value) => 1.7e9 + value + (value < 100 ? 0 : 45)),
    );
    near(startS ?? 0, 1.7e9 + 45, 1e-6);
    assert.match(remark ?? '', /paused/);
  });

  it('takes what it gets from very short films', () => {
    assert.deepEqual(filmStart([], []), {});
    assert.deepEqual(filmStart([0.5], [1.7e9]), { startS: 1.7e9 - 0.5 });
  });
});
