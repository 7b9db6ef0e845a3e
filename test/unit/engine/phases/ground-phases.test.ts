import assert from 'node:assert/strict';
import { findEvents } from '../../../../src/engine/events/find-events.ts';
import { detectPhases } from '../../../../src/engine/phases/detect-phases.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { simulatedFlight } from '../../../synth/index.ts';

describe('phases on the ground', () => {
  it('follow each other without a hole after a landing roll and a rejected take-off', () => {
    for (const receiver of ['handheld', 'phone'] as const) {
      const flight = simulatedFlight(`end to end/${receiver}`, {
        receiver,
        length: 'circuits',
        circuits: ['stop-and-go'],
        rejectFirst: true,
      });
      const { motion } = deriveMotion(flight.track);
      const phases = detectPhases(motion, findEvents(motion));
      assert.ok(phases.some((phase) => phase.kind === 'landing-roll'));
      for (let index = 1; index < phases.length; index += 1) {
        const before = phases[index - 1];
        assert.ok(
          Math.abs(phases[index].startS - before.endS) < 1e-6,
          `${receiver}: ${phases[index].startS - before.endS} s between ${before.kind} and ${phases[index].kind}`,
        );
      }
    }
  });
});
