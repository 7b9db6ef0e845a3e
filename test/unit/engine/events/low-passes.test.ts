import assert from 'node:assert/strict';
import { findEvents } from '../../../../src/engine/events/find-events.ts';
import { detectPhases } from '../../../../src/engine/phases/detect-phases.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { type ReceiverName, type SimulatedFlight, simulatedFlight } from '../../../synth/index.ts';
import { trackOf } from '../track/track-of.ts';

function circuits(seed: string, receiver: ReceiverName): SimulatedFlight {
  return simulatedFlight(seed, {
    receiver,
    length: 'circuits',
    circuits: ['touch-and-go', 'go-around', 'touch-and-go', 'stop-and-go'],
  });
}

describe('touch-and-goes and go-arounds', () => {
  // Heights that wander by 10 m, a runway that falls by 2 %, a short roll after a long flare: each was missed once.
  for (const [seed, receiver] of [
    ['circ/camera18/3', 'camera18'],
    ['circ/phone/2', 'phone'],
    ['circ/whole-seconds/1', 'whole-seconds'],
  ] as const) {
    it(`finds both touch-and-goes, and neither in the go-around: ${receiver}`, () => {
      const flight = circuits(seed, receiver);
      const { motion } = deriveMotion(flight.track);
      const events = findEvents(motion);
      const truth = flight.truth.takeoffs.filter((takeoff) => takeoff.outcome === 'touch-and-go');
      const found = events.takeoffs.filter((takeoff) => takeoff.outcome === 'touch-and-go');
      assert.equal(found.length, truth.length);
      for (const [index, takeoff] of found.entries()) {
        assert.ok(Math.abs(takeoff.rollStart.timeS - truth[index].rollStartS) < 5);
        const roll = takeoff.groundRollM;
        // A length is not negative, however roughly it is known.
        assert.ok(roll === undefined || (roll.low >= 0 && roll.low <= roll.value && roll.value <= roll.high));
      }
      assert.equal(events.goArounds.length, 1);
    });
  }

  it('ends an approach in the go-around at a field where it never stood', () => {
    // Standing, a roll, a climb to 300 m, nine kilometres of cruise; then down straight ahead to 10 m above the height of
    // the field it came from, up again, and on. Seconds, acceleration, vertical speed.
    const legs = [
      [40, 0, 0],
      [15, 2, 0],
      [100, 0, 3],
      [250, 0, 0],
      [116, 0, -2.5],
      [80, 0, 4],
      [60, 0, 0],
    ] as const;
    const rows = [];
    const state = { t: 0, east: 0, up: 20, speed: 0, vertical: 0 };
    for (const [seconds, acceleration, vertical] of legs) {
      for (let step = 0; step < seconds * 10; step += 1) {
        if (step % 10 === 0) rows.push({ t: state.t, east: state.east, north: 0, up: state.up, speed: state.speed });
        state.speed += 0.1 * acceleration;
        state.vertical += Math.max(-0.2, Math.min(0.2, vertical - state.vertical));
        state.east += 0.1 * state.speed;
        state.up += 0.1 * state.vertical;
        state.t += 0.1;
      }
    }
    const { motion } = deriveMotion(trackOf(rows));
    const events = findEvents(motion);
    const phases = detectPhases(motion, events);
    const startS = motion.timeS[0];
    const goAroundS = startS + 40 + 15 + 100 + 250 + 116;
    assert.deepEqual(
      events.takeoffs.map((takeoff) => takeoff.outcome),
      ['flown'],
    );
    assert.equal(events.landings.length, 0);
    const approach = phases.find((phase) => phase.kind === 'approach');
    assert.ok(approach !== undefined, phases.map((phase) => phase.kind).join(' '));
    assert.ok(Math.abs(approach.endS - goAroundS) < 5 && approach.endS - approach.startS > 30);
  });
});
