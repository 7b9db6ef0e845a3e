import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { SampleTable } from '../../../../../src/engine/readers/samples/sample-table.ts';
import { settleSpeed, type SpeedUnitKnown } from '../../../../../src/engine/readers/samples/settle-speed.ts';
import { speedRatio } from '../../../../../src/engine/readers/samples/speed-unit.ts';
import { findUnit } from '../../../../../shared/units.ts';
import { near } from '../../../../tools/near.ts';

interface Recording {
  readonly rateHz?: number;
  readonly speedMps?: (timeS: number) => number;
  /** What is written for a speed in m/s. */
  readonly written: (speedMps: number) => number;
  readonly roundedMinutes?: boolean;
}

/** A straight flight east whose positions follow exactly from its speed. */
function record({ rateHz = 1, speedMps = () => 50, written, roundedMinutes = false }: Recording): SampleTable {
  const table = new SampleTable();
  const metresPerDegree = 111_120 * Math.cos((46.5 * Math.PI) / 180);
  let eastM = 0;
  for (let i = 0; i < 120 * rateHz; i++) {
    const timeS = i / rateHz;
    const lonDeg = eastM / metresPerDegree;
    const row = table.add(1_775_000_000 + timeS, 46.5, roundedMinutes ? Math.round(lonDeg * 60_000) / 60_000 : lonDeg);
    table.set('groundSpeedMps', row, written(speedMps(timeS)));
    eastM += speedMps(timeS + 0.5 / rateHz) / rateHz;
  }
  return table;
}

function settle(
  table: SampleTable,
  known: SpeedUnitKnown = {},
): { speed?: number; problems: string[]; assumptions: string[] } {
  const problems = new ProblemList('x');
  const assumptions: string[] = [];
  settleSpeed(table, known, problems, assumptions);
  return {
    speed: table.columns.get('groundSpeedMps')?.get(60),
    problems: problems.toArray().map(({ code }) => code),
    assumptions,
  };
}

describe('unit of a recorded speed', () => {
  it('is found by comparing with the positions', () => {
    // Exact factors: the nautical mile of 1852 m, the statute mile of 1609.344 m.
    const factors = { 'm/s': 1, 'km/h': 3.6, kt: 3600 / 1852, mph: 3600 / 1609.344 };
    for (const [unit, factor] of Object.entries(factors)) {
      const { speed, problems, assumptions } = settle(record({ written: (mps) => mps * factor }));
      near(speed ?? 0, 50, 1e-9, unit);
      assert.deepEqual(problems, []);
      assert.match(assumptions[0], new RegExp(`shows ${unit.replace('/', '.')}\\.`));
    }
  });

  it('is found at every rate, in acceleration and from rounded positions', () => {
    for (const rateHz of [0.25, 1, 5, 18]) {
      const table = record({
        rateHz,
        written: (mps) => mps * 3.6,
        speedMps: (timeS) => 20 + timeS / 4,
        roundedMinutes: true,
      });
      near((speedRatio(table, table.column('groundSpeedMps')) ?? 0) / 3.6, 1, 0.02, `${rateHz} Hz`);
    }
  });

  it('is not found where the recorder stands or the recording is too short', () => {
    const standing = settle(record({ speedMps: () => 0.3, written: (mps) => mps }));
    assert.match(standing.assumptions[0], /taken as m\/s/);
    assert.deepEqual(standing.problems, []);
  });

  it('drops a speed that fits no unit, or not the one that is stated', () => {
    const odd = settle(record({ written: (mps) => mps * 1.4 }));
    assert.equal(odd.speed, undefined);
    assert.deepEqual(odd.problems, ['speed-doubtful']);
    const contradicted = settle(record({ written: (mps) => mps * 3.6 }), { stated: findUnit('kt', 'speed') });
    assert.equal(contradicted.speed, undefined);
    assert.deepEqual(contradicted.problems, ['speed-doubtful']);
  });

  it('is believed where it is stated and nothing contradicts it', () => {
    const { speed, problems, assumptions } = settle(record({ written: (mps) => (mps * 3600) / 1852 }), {
      stated: findUnit('kt', 'speed'),
    });
    near(speed ?? 0, 50, 1e-9);
    assert.deepEqual([problems, assumptions], [[], []]);
    const standing = settle(record({ speedMps: () => 0.5, written: (mps) => (mps * 3600) / 1852 }), {
      stated: findUnit('kt', 'speed'),
    });
    near(standing.speed ?? 0, 0.5, 1e-9);
  });

  it('is the usual one of a format unless the positions show another', () => {
    const usual = findUnit('m/s', 'speed');
    assert.deepEqual(settle(record({ written: (mps) => mps }), { usual }).assumptions, []);
    assert.deepEqual(settle(record({ speedMps: () => 0.5, written: (mps) => mps }), { usual }).assumptions, []);
    const other = settle(record({ written: (mps) => mps * 3.6 }), { usual });
    near(other.speed ?? 0, 50, 1e-9);
    assert.match(other.assumptions[0], /shows km.h/);
  });

  it('looks through samples that are missing', () => {
    const table = record({ written: (mps) => mps * 3.6 });
    for (let row = 0; row < 120; row += 7) table.column('groundSpeedMps').set(row, Number.NaN);
    for (let row = 3; row < 120; row += 17) table.latDeg.set(row, Number.NaN);
    // Every interruption starts a new block, so that none of 10 s is left.
    assert.equal(speedRatio(table, table.column('groundSpeedMps')), undefined);
  });
});
