import assert from 'node:assert/strict';
import { findEvents } from '../../../../src/engine/events/find-events.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { simulatedFlight } from '../../../synth/index.ts';

describe('touchdown', () => {
  it('is not put into a long float over a sloping strip by a 5 Hz recording: root of the mean square under 1.5 s', () => {
    // Against the simulator's own truth; before the speed of touching down was part of it, this was 3 s.
    const errors: number[] = [];
    for (let index = 0; index < 4; index += 1) {
      const flight = simulatedFlight(`float/good5/${index}`, {
        receiver: 'good5',
        field: 'samphireStrip',
        length: 'circuits',
        circuits: [],
      });
      const found = findEvents(deriveMotion(flight.track).motion).landings.at(-1);
      const truth = flight.truth.landings.at(-1);
      assert.ok(found !== undefined && truth !== undefined);
      errors.push(found.touchdown.timeS - truth.touchdownS);
    }
    const rms = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
    assert.ok(rms < 1.5, `${rms.toFixed(2)} s: ${errors.map((error) => error.toFixed(1)).join(' ')}`);
  });

  it('is not where an aeroplane stands still over the ground against a gale', () => {
    const flight = simulatedFlight('circ/phone/4', { receiver: 'phone' });
    const { landings } = findEvents(deriveMotion(flight.track).motion);
    assert.equal(landings.length, 1);
    assert.ok(Math.abs(landings[0].touchdown.timeS - flight.truth.landings[0].touchdownS) < 10);
  });
});
