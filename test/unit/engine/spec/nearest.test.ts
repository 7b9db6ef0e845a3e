import assert from 'node:assert/strict';
import { nearest } from '../../../../src/engine/spec/nearest.ts';

describe('the word that was probably meant', () => {
  const known = ['air-temperature', 'altimeter-setting', 'weight', 'wind', 'runway'];
  it('finds slips of the finger', () => {
    assert.equal(nearest('air-temprature', known), 'air-temperature');
    assert.equal(nearest('airTemperature', known), 'air-temperature');
    assert.equal(nearest('wieght', known), 'weight');
    assert.equal(nearest('RUNWAY', known), 'runway');
    assert.equal(nearest('temperature', known), 'air-temperature');
  });
  it('says nothing rather than something far', () => {
    assert.equal(nearest('colour', known), undefined);
    assert.equal(nearest('x', known), undefined);
    assert.equal(nearest('y'.repeat(1000), known), undefined);
    assert.equal(nearest('wind', []), undefined);
  });
});
