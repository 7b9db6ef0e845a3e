import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import type { Analysis, Takeoff } from '../../../../shared/analysis.ts';
import { noConditions, type TypedConditions } from '../../../../shared/flight-view.ts';
import { conditionsView } from '../../../../src/engine/view/conditions.ts';

const foot = 0.3048;
const knot = 1852 / 3600;
const about = (value: number): { value: number; low: number; high: number; method: string } => ({
  value,
  low: value * 0.95,
  high: value * 1.05,
  method: 'made up',
});

const takeoff: Takeoff = {
  outcome: 'flown',
  rollStart: { timeS: 0, sigmaS: 0.3, origin: 'found' },
  liftoff: { timeS: 15, sigmaS: 0.3, origin: 'found' },
  rollingStart: false,
  startSpeedMps: 0,
  headingRad: Math.PI / 2,
  latDeg: 45,
  lonDeg: 5,
  groundRollM: about(250),
  liftoffSpeedMps: about(50 * knot),
  screens: [
    { heightM: 15.24, time: { timeS: 24, sigmaS: 0.4, origin: 'found' }, distanceM: about(480), timeFromLiftoffS: 9 },
  ],
  remarks: [],
};

function flightWith(...takeoffs: Takeoff[]): Analysis {
  return {
    recording: {
      startS: 0,
      endS: 600,
      samples: 600,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: [],
    takeoffs,
    landings: [],
    climbs: [],
    levelRuns: [],
    winds: [],
    problems: [],
  };
}

const typed = (some: Partial<TypedConditions>): TypedConditions => ({ ...noConditions, ...some });
const ask = (some: Partial<TypedConditions>, flight = flightWith(takeoff)) => conditionsView(typed(some), flight, 1);

describe('typed conditions', () => {
  it('give the density altitude of the standard atmosphere: 5,000 ft at ISA + 20 K is 7,272 ft (ISO 2533, exact inversion)', () => {
    const view = ask({ temperature: '25.094 degC', altimeterSetting: '1013.25 hPa', runwayElevation: '5000 ft' });
    assert.ok(Math.abs((view.pressureAltitudeM ?? 0) / foot - 5000) < 1);
    assert.ok(Math.abs((view.densityAltitudeM?.value ?? 0) / foot - 7272) < 15, String(view.densityAltitudeM?.value));
    assert.ok((view.densityAltitudeM?.low ?? 0) < (view.densityAltitudeM?.high ?? 0));
  });

  it('tell headwind from tailwind and crosswind by its side', () => {
    const headwind = ask({ windFrom: '90 deg', windSpeed: '10 kt' });
    assert.ok((headwind.headwindMps?.value ?? 0) > 2);
    assert.ok(Math.abs(headwind.crosswindMps ?? 9) < 1e-9);
    const tailwind = ask({ windFrom: '270 deg', windSpeed: '10 kt' });
    assert.ok((tailwind.headwindMps?.value ?? 0) < -2);
    const cross = ask({ windFrom: '180 deg', windSpeed: '10 kt' });
    assert.ok(Math.abs((cross.crosswindMps ?? 0) - 10 * knot) < 1e-9, 'from the right is positive');
  });

  it('take the distances to reference conditions: a headwind flown means a longer roll without it', () => {
    const { corrected } = ask({ windFrom: '90 deg', windSpeed: '10 kt' });
    const [roll, obstacle] = corrected;
    assert.equal(roll.id, 'take-off-1/ground-roll');
    assert.ok(roll.atReference.value > 270);
    assert.equal(obstacle.id, 'take-off-1/over-15.24');
    assert.ok(obstacle.atReference.value > 500);
    assert.match(roll.at, /^no wind, level runway, the air of the day, the weight flown$/);
    const lighter = ask({ takeoffWeight: '500 kg', referenceWeight: '600 kg' }).corrected[0];
    assert.ok(lighter.atReference.value > 250 * 1.2);
    assert.match(lighter.at, /600 kg$/);
  });

  it('leave a take-off from a rolling start alone, and say so', () => {
    const view = ask({}, flightWith({ ...takeoff, rollingStart: true }));
    assert.deepEqual(view.corrected, []);
    assert.ok(view.remarks.some((remark) => /began rolling/.test(remark)));
  });

  it('say which field is at fault and what is missing', () => {
    const view = ask({ temperature: 'warm', windSpeed: '8 kt', altimeterSetting: '1013' });
    assert.deepEqual(Object.keys(view.faults).sort(), ['altimeterSetting', 'temperature']);
    assert.ok(view.remarks.includes('The wind has a speed but no direction.'));
    assert.ok(ask({ temperature: '10 degC' }).remarks.some((remark) => /all needed/.test(remark)));
    assert.ok(ask({ runwayHeading: '270 deg' }).remarks.some((remark) => /not in the direction/.test(remark)));
  });

  it('never throw, whatever is typed', () => {
    const text = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom('', '-400 degC', '1e9 hPa', '0 kg', '999 kt', '100 %', '20 degC', '9 kt', '0 kt'),
    );
    const all = fc.record(Object.fromEntries(Object.keys(noConditions).map((name) => [name, text])));
    fc.assert(
      fc.property(all, (conditions) => {
        const view = conditionsView(conditions as unknown as TypedConditions, flightWith(takeoff, takeoff), 2);
        for (const row of view.corrected) assert.ok(!Number.isNaN(row.atReference.value));
      }),
      { seed: 3, numRuns: 400 },
    );
  });
});
