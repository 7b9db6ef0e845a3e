import assert from 'node:assert/strict';
import { findEvents, type FoundEvents } from '../../../../src/engine/events/find-events.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { airfields } from '../../../synth/airfield.ts';
import { receiverKinds, type ReceiverName, simulatedFlight, valueAt } from '../../../synth/index.ts';
import { carriedOn, journey, type JourneyName, journeys } from '../../../synth/journeys.ts';
import { Random } from '../../../synth/random.ts';
import { receive } from '../../../synth/receive.ts';
import type { TruthTable } from '../../../synth/recorder.ts';
import { trackInMemory } from '../../../synth/track-in-memory.ts';

function recorded(table: TruthTable, receiver: ReceiverName, seed: string): FoundEvents {
  const kind = { ...receiverKinds[receiver], gap: 0 };
  const recording = receive(table, airfields.gullRock, kind, new Random(seed));
  return findEvents(deriveMotion(trackInMemory(recording)).motion);
}

describe('rejected take-offs', () => {
  for (const name of Object.keys(journeys) as JourneyName[]) {
    it(`finds no take-off and no landing in a journey along the ground: ${name}`, () => {
      for (const [index, receiver] of (['handheld', 'good5', 'handheld-no-speed'] as const).entries()) {
        const random = new Random(`on the ground/${name}/${index}`);
        const events = recorded(journey(name, airfields.gullRock, random), receiver, `${name}/${index}`);
        assert.deepEqual(
          [events.takeoffs.map((takeoff) => takeoff.outcome), events.landings.length],
          [[], 0],
          `${receiver}: ${name}`,
        );
      }
    });
  }

  it('finds the flight alone when the recorder then goes home in a car along the runway', () => {
    const flight = simulatedFlight('carried on/0', {
      receiver: 'good5',
      field: 'gullRock',
      length: 'circuits',
      circuits: [],
      rejectFirst: false,
    });
    const table = carriedOn(flight.table, flight.field, new Random('ride'));
    const events = recorded(table, 'good5', 'carried on');
    assert.deepEqual(
      events.takeoffs.map((takeoff) => takeoff.outcome),
      ['flown'],
    );
    assert.equal(events.landings.length, 1);
  });

  it('finds take-offs that were broken off, with the speed they reached', () => {
    for (const receiver of ['handheld', 'logger', 'good5'] as const) {
      const flight = simulatedFlight(`broken off/${receiver}`, {
        receiver,
        field: 'longHaven',
        weather: 'fair',
        length: 'circuits',
        circuits: [],
        rejectFirst: true,
      });
      const truth = flight.truth.takeoffs[0];
      const { takeoffs } = findEvents(deriveMotion(flight.track).motion);
      assert.deepEqual(
        takeoffs.map((takeoff) => takeoff.outcome),
        ['rejected', 'flown'],
        receiver,
      );
      let mostMps = 0;
      for (let at = truth.rollStartS; at < truth.rollStartS + 30; at += 0.1) {
        mostMps = Math.max(
          mostMps,
          Math.hypot(valueAt(flight.table, 'eastMps', at), valueAt(flight.table, 'northMps', at)),
        );
      }
      const peak = takeoffs[0].peakSpeedMps;
      assert.ok(
        peak !== undefined && peak.low <= mostMps && mostMps <= peak.high,
        `${receiver}: ${mostMps} in ${JSON.stringify(peak)}`,
      );
      // Numbers are for the reader's units, not for sentences in SI.
      assert.doesNotMatch(takeoffs[0].remarks.join(' '), /\d/);
    }
  });

  it('finds one that accelerated weakly: hot, heavy, uphill on grass', () => {
    const flight = simulatedFlight('accuracy/good10/16', { receiver: 'good10' });
    const { takeoffs } = findEvents(deriveMotion(flight.track).motion);
    assert.deepEqual(
      takeoffs.map((takeoff) => takeoff.outcome),
      flight.truth.takeoffs.map((takeoff) => takeoff.outcome),
    );
  });
});
