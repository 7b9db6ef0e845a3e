import assert from 'node:assert/strict';
import { analyse } from '../../../../src/engine/analyse.ts';
import { coarseSeries } from '../../../../src/engine/events/coarse-series.ts';
import { findFlights, slowRuns } from '../../../../src/engine/events/ground-and-air.ts';
import { drivenOnGround } from '../../../../src/engine/events/on-wheels.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { airfields } from '../../../synth/airfield.ts';
import { receiverKinds, type ReceiverName, simulatedFlight } from '../../../synth/index.ts';
import { journey } from '../../../synth/journeys.ts';
import { Random } from '../../../synth/random.ts';
import { receive } from '../../../synth/receive.ts';
import { trackInMemory } from '../../../synth/track-in-memory.ts';

describe('flown or driven', () => {
  it('says that a fast drive over hills is none, and what it took for that', () => {
    const table = journey('hillRoad', airfields.gullRock, new Random('hills/1'));
    const kind = { ...receiverKinds.good5, gap: 0 };
    const track = trackInMemory(receive(table, airfields.gullRock, kind, new Random('hills')));
    const series = coarseSeries(deriveMotion(track).motion);
    const moves = findFlights(series, slowRuns(series));
    assert.ok(moves.length > 0, 'the heights alone look like a flight');
    assert.ok(moves.every((move) => drivenOnGround(series, move)));
    const analysis = analyse(track);
    assert.equal(analysis.takeoffs.length + analysis.landings.length, 0);
    assert.ok(analysis.problems.some((problem) => problem.code === 'moves-along-the-ground'));
    assert.ok(analysis.phases.every((phase) => phase.kind === 'standing' || phase.kind === 'taxi'));
  });

  it('leaves every flight a flight: all kinds of recorder, a gale, a weak climb high up', () => {
    const receivers = ['handheld', 'good5', 'camera10', 'phone', 'logger', 'panel'] as const satisfies ReceiverName[];
    for (const [index, receiver] of receivers.entries()) {
      const flight = simulatedFlight(`flown/${index}`, {
        receiver,
        length: 'short',
        weather: index % 2 === 0 ? 'gale' : 'hot',
        ...(index % 3 === 0 ? { field: 'cloudTerrace' as const } : {}),
      });
      const series = coarseSeries(deriveMotion(flight.track).motion);
      const moves = findFlights(series, slowRuns(series));
      assert.ok(moves.length > 0);
      assert.ok(!moves.some((move) => drivenOnGround(series, move)), flight.name);
    }
  });
});
