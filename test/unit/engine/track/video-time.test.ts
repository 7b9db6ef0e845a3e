import assert from 'node:assert/strict';
import { unixFromVideoS, videoTimeS } from '../../../../src/engine/track/video-time.ts';
import { trackOf } from './track-of.ts';

describe('time into a film', () => {
  const plain = trackOf([{ t: 0, east: 0 }]);
  const film = { ...plain, videoStartS: 1_700_000_000 };

  it('counts from the first picture', () => {
    assert.equal(videoTimeS(film, 1_700_000_042.5), 42.5);
    assert.equal(videoTimeS(film, 1_699_999_999), undefined);
    assert.equal(unixFromVideoS(film, 42.5), 1_700_000_042.5);
  });

  it('is none for other recordings', () => {
    assert.equal(videoTimeS(plain, 1_700_000_042.5), undefined);
    assert.equal(unixFromVideoS(plain, 42.5), undefined);
  });
});
