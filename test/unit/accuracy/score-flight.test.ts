import assert from 'node:assert/strict';
import type { Measured } from '../../../shared/measured.ts';
import type { Analysis, Takeoff } from '../../../src/engine/analysis.ts';
import { blindOfRecording } from '../../accuracy/blind-spots.ts';
import { knownFromSimulation } from '../../accuracy/known-answers.ts';
import { scoreFlight } from '../../accuracy/score-flight.ts';
import { Tally } from '../../accuracy/tally.ts';
import { type SimulatedFlight, simulatedFlight } from '../../synth/index.ts';
import { near } from '../../tools/near.ts';

function sure(value: number, halfWidth = 1): Measured {
  return { value, low: value - halfWidth, high: value + halfWidth, method: 'truth' };
}

/** An analysis made from the truth: what a perfect engine would say. */
function perfectAnalysis({ truth }: SimulatedFlight): Analysis {
  const instant = (timeS: number) => ({ timeS, sigmaS: 0.1, origin: 'found' as const });
  return {
    recording: {
      startS: truth.epochS,
      endS: truth.phases.at(-1)!.endS,
      samples: 1000,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: truth.phases,
    takeoffs: truth.takeoffs.map(
      (takeoff): Takeoff => ({
        outcome: takeoff.outcome,
        rollStart: instant(takeoff.rollStartS),
        ...(takeoff.liftoffS !== undefined && { liftoff: instant(takeoff.liftoffS) }),
        rollingStart: takeoff.kind === 'rolling',
        startSpeedMps: takeoff.startSpeedMps,
        headingRad: takeoff.headingRad,
        latDeg: 0,
        lonDeg: 0,
        ...(takeoff.groundRollM !== undefined && { groundRollM: sure(takeoff.groundRollM) }),
        screens: takeoff.screens.map((screen) => ({
          heightM: screen.heightM,
          time: instant(screen.timeS),
          distanceM: sure(screen.distanceM),
          timeFromLiftoffS: screen.timeS - (takeoff.liftoffS ?? 0),
        })),
        remarks: [],
      }),
    ),
    landings: truth.landings.map((landing) => ({
      touchdown: instant(landing.touchdownS),
      headingRad: landing.headingRad,
      latDeg: 0,
      lonDeg: 0,
      ...(landing.groundRollM !== undefined && { groundRollM: sure(landing.groundRollM) }),
      remarks: [],
    })),
    climbs: truth.climbs.map((climb) => ({
      startS: climb.startS,
      endS: climb.endS,
      fromAltitudeM: climb.fromHeightM,
      toAltitudeM: climb.toHeightM,
      altitudeKind: 'msl',
      rateOfClimbMps: sure(climb.rateOverGroundMps, 0.1),
      bands: [],
      remarks: [],
    })),
    levelRuns: [],
    winds: [],
    problems: [],
  };
}

describe('accuracy/score-flight', () => {
  const flight = simulatedFlight('scoring', {
    receiver: 'good5',
    length: 'circuits',
    circuits: ['touch-and-go'],
    rejectFirst: true,
  });
  const known = knownFromSimulation(flight, 'good5');
  const blind = blindOfRecording(flight.recording);

  it('finds nothing wrong with the truth itself', () => {
    const tally = new Tally();
    scoreFlight(perfectAnalysis(flight), known, blind, tally);
    assert.deepEqual(tally.notes, []);
    for (const event of ['take-off', 'rejected take-off', 'touch-and-go', 'landing']) {
      const counts = tally.total(event);
      assert.ok(counts.found > 0, event);
      assert.equal(counts.missed + counts.invented, 0, event);
    }
    for (const metric of ['ground-roll', 'distance-over-15m', 'lift-off time']) {
      const list = tally.of(metric);
      assert.ok(list.length > 0, metric);
      for (const one of list) near(one.value, one.truth, 1e-6, metric);
    }
    near(tally.of('rate-of-climb, whole')[0].value, tally.of('rate-of-climb, whole')[0].truth, 0.02);
    const boundaries = [...tally.counts.values()].flatMap((groups) =>
      [...groups].filter(([group]) => group === 'phase boundary'),
    );
    assert.ok(boundaries.length >= 6);
    for (const [, counts] of boundaries) assert.equal(counts.missed, 0);
  });

  it('counts what is missed, invented, misnamed and late', () => {
    const good = perfectAnalysis(flight);
    const flown = good.takeoffs.findIndex((takeoff) => takeoff.outcome === 'flown');
    const takeoffs = good.takeoffs.map((takeoff, i) =>
      i === flown && takeoff.groundRollM
        ? { ...takeoff, groundRollM: sure(takeoff.groundRollM.value + 7, 5) }
        : takeoff,
    );
    const bad: Analysis = {
      ...good,
      takeoffs: [
        ...takeoffs.filter((takeoff) => takeoff.outcome !== 'rejected'),
        {
          ...takeoffs[flown],
          rollStart: { timeS: known.phases.at(-1)!.startS - 200, sigmaS: 1, origin: 'found' },
          liftoff: undefined,
        },
      ],
      landings: good.landings.slice(1),
    };
    const tally = new Tally();
    scoreFlight(bad, known, blind, tally);
    assert.equal(tally.total('rejected take-off').missed, 1);
    assert.equal(tally.total('take-off').invented, 1);
    assert.equal(tally.total('landing').missed, 1);
    const roll = tally.of('ground-roll')[0];
    near(roll.value - roll.truth, 7, 1e-6);
    assert.ok(roll.low > roll.truth, 'an interval that does not hold the truth is seen');
  });
});
