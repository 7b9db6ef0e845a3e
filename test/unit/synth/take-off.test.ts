import assert from 'node:assert/strict';
import { fleet } from '../../synth/aeroplane.ts';
import { Air, standardAir } from '../../synth/air.ts';
import { airfields } from '../../synth/airfield.ts';
import { nominalTakeoff } from '../../synth/standard-answers.ts';
import { near } from '../../tools/near.ts';

const level = { ...airfields.longHaven, slope: 0, elevationM: 0, lengthM: 3000 };

function roll(
  options: {
    plane?: keyof typeof fleet;
    massKg?: number;
    air?: Air;
    headwindMps?: number;
    slope?: number;
    friction?: number;
  } = {},
): { groundRollM: number; over50M: number; liftoffTasMps: number } {
  const plane = fleet[options.plane ?? 'trainer'];
  const run = nominalTakeoff(plane, options.massKg ?? 900, {
    air: options.air ?? standardAir(0),
    field: { ...level, slope: options.slope ?? 0 },
    runwayEnd: 0,
    headwindMps: options.headwindMps ?? 0,
    rollingFriction: options.friction ?? 0.022,
    style: plane.gear === 'nosewheel' ? 'nosewheel' : 'three-point',
  });
  assert.ok(run.groundRollM !== undefined && run.liftoffTasMps !== undefined);
  return { groundRollM: run.groundRollM, over50M: run.screens[1].distanceM, liftoffTasMps: run.liftoffTasMps };
}

/** Air with the density of a standard height at sea level, so that only density changes. */
function airOfDensityAltitude(metres: number): Air {
  const standard = standardAir(metres);
  return new Air({
    fieldElevationM: 0,
    fieldTemperatureK: standard.temperatureK,
    lapseKpm: 0.0065,
    altimeterSettingPa: standard.pressurePa,
    relativeHumidity: 0,
  });
}

describe('synth/take-off trends', () => {
  const base = roll();

  it('ground roll grows with density to the power -2 to -3 (FAA-H-8083-25C fig. 11-24 implies -2.65; flight-test handbook -2.4)', () => {
    for (const plane of ['trainer', 'longRunner', 'tourer'] as const) {
      const low = roll({ plane, air: airOfDensityAltitude(0) });
      const high = roll({ plane, air: airOfDensityAltitude(1800) });
      const sigma = airOfDensityAltitude(1800).densityKgM3 / 1.225;
      const exponent = Math.log(high.groundRollM / low.groundRollM) / Math.log(sigma);
      assert.ok(exponent < -2 && exponent > -3, `${plane}: ${exponent}`);
    }
  });

  it('ground roll grows with weight to the power 2 to 2.8 (same table 2.40-2.55; ch. 11: at least 2 with much thrust)', () => {
    for (const plane of ['trainer', 'longRunner', 'tourer'] as const) {
      const mass = 0.85 * fleet[plane].maximumMassKg;
      const exponent =
        Math.log(roll({ plane, massKg: mass * 1.1 }).groundRollM / roll({ plane, massKg: mass }).groundRollM) /
        Math.log(1.1);
      assert.ok(exponent > 2 && exponent < 2.8, `${plane}: ${exponent}`);
    }
  });

  it('a headwind of a tenth of the lift-off airspeed shortens it by 17 to 19 per cent (FAA-H-8083-25C ch. 11: 19; exponent 1.85: 17.7)', () => {
    const wind = 0.1 * base.liftoffTasMps;
    near(roll({ headwindMps: wind }).groundRollM / base.groundRollM - 1, -0.18, 0.015);
    near(roll({ headwindMps: -wind }).groundRollM / base.groundRollM - 1, 0.2, 0.02);
  });

  it('one per cent uphill costs 4 to 6 per cent (CAT.POL.A.305 AMC2: 5 per cent a per cent)', () => {
    near(roll({ slope: 0.01 }).groundRollM / base.groundRollM - 1, 0.05, 0.012);
    near(roll({ slope: -0.01 }).groundRollM / base.groundRollM - 1, -0.045, 0.012);
  });

  it('grass costs more than pavement, and everything stays in the range of light aeroplanes', () => {
    assert.ok(roll({ friction: 0.065 }).groundRollM > 1.1 * base.groundRollM);
    assert.ok(base.groundRollM > 120 && base.groundRollM < 260, `${base.groundRollM}`);
    const short = roll({ plane: 'shortFieldTwoSeater', massKg: 600 });
    assert.ok(short.groundRollM > 50 && short.groundRollM < 110, `${short.groundRollM}`);
    const high = nominalTakeoff(fleet.longRunner, 1000, {
      air: new Air({
        fieldElevationM: 2500,
        fieldTemperatureK: 293,
        lapseKpm: 0.0065,
        altimeterSettingPa: 101_325,
        relativeHumidity: 0.3,
      }),
      field: { ...level, elevationM: 2500 },
      runwayEnd: 0,
      headwindMps: 0,
      rollingFriction: 0.022,
      style: 'nosewheel',
    });
    assert.ok(high.groundRollM && high.groundRollM > 650 && high.groundRollM < 1200, `${high.groundRollM}`);
  });

  it('total over ground roll to 50 ft lies between 1.5 and 2.4 (same table 1.7-2.2)', () => {
    for (const plane of ['trainer', 'tourer', 'longRunner'] as const) {
      const run = roll({ plane, massKg: 0.95 * fleet[plane].maximumMassKg });
      const ratio = run.over50M / run.groundRollM;
      assert.ok(ratio > 1.4 && ratio < 2.5, `${plane}: ${ratio}`);
    }
  });
});
