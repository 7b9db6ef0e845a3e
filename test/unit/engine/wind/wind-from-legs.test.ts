import assert from 'node:assert/strict';
import { studentQuantile } from '../../../../src/engine/stats/student.ts';
import { windFromLegs, type WindFromLegs, type WindLeg } from '../../../../src/engine/wind/wind-from-legs.ts';
import { windFromTurn } from '../../../../src/engine/wind/wind-from-turn.ts';
import { windVariogram } from '../../../../src/engine/wind/wind-errors.ts';
import { velocityTowards } from '../../../../src/engine/wind/wind-triangle.ts';
import { Random } from '../../../synth/random.ts';
import { near } from '../../../tools/near.ts';

const degree = Math.PI / 180;
const air = { eastMps: 6, northMps: -3 };

interface Flown {
  readonly heading: number;
  readonly airspeed: number;
  readonly timeS: number;
  readonly setting?: number;
  readonly settingSure?: boolean;
  readonly error?: number;
  readonly wind?: { readonly eastMps: number; readonly northMps: number };
}

const leg = ({ heading, airspeed, timeS, wind = air, error = 0, ...setting }: Flown): WindLeg => {
  const through = velocityTowards(heading * degree, airspeed + error);
  return {
    eastMps: through.eastMps + wind.eastMps,
    northMps: through.northMps + wind.northMps,
    timeS,
    lengthS: 100,
    altitudeM: 1000,
    sigmaMps: 0.5,
    ...setting,
  };
};
const found = (legs: readonly WindLeg[]): WindFromLegs => {
  const answer = windFromLegs(legs);
  assert.ok('found' in answer, 'refused' in answer ? answer.refused : '');
  return answer.found;
};
const refused = (legs: readonly WindLeg[]): string => {
  const answer = windFromLegs(legs);
  return 'refused' in answer ? answer.refused : '';
};
const square = (airspeed: number, startS = 0): Flown[] =>
  [10, 100, 190, 280].map((heading, i) => ({ heading, airspeed, timeS: startS + 150 * i }));

describe('wind from legs', () => {
  it('finds wind and airspeed of a square', () => {
    const { air: wind, airspeeds, groups } = found(square(48).map(leg));
    near(wind.eastMps, 6, 1e-6);
    near(wind.northMps, -3, 1e-6);
    assert.equal(airspeeds.length, 1);
    near(airspeeds[0].valueMps, 48, 1e-6);
    assert.deepEqual(groups, [0, 0, 0, 0]);
  });

  it('tells two power settings apart by their airspeeds', () => {
    const legs = [...square(48), { heading: 10, airspeed: 54, timeS: 700 }, { heading: 190, airspeed: 54, timeS: 850 }];
    const { airspeeds, groups, settingsShare } = found(legs.map(leg));
    assert.deepEqual(groups, [0, 0, 0, 0, 1, 1]);
    near(airspeeds[0].valueMps, 48, 1e-3);
    near(airspeeds[1].valueMps, 54, 1e-3);
    assert.ok(settingsShare > 0.99);
  });

  it('does not take a leg in rising air for another setting', () => {
    const legs = square(48).map((flown, i) => leg({ ...flown, error: i === 2 ? 1.5 : 0 }));
    assert.equal(found(legs).airspeeds.length, 1);
  });

  it('uses settings that are known, and lets engine speed alone only separate', () => {
    const three = [0, 120, 240].map((heading, i) => ({ heading, airspeed: 48, timeS: 300 * i }));
    assert.match(refused(three.map(leg)), /Three legs with pauses/);
    const sure = found(three.map((flown) => leg({ ...flown, setting: 3, settingSure: true })));
    near(sure.airspeeds[0].valueMps, 48, 1e-6);
    // One rpm, two powers (a constant-speed propeller): still told apart by airspeed.
    const legs = [...square(48), { heading: 10, airspeed: 54, timeS: 700 }, { heading: 190, airspeed: 54, timeS: 850 }];
    const oneRpm = found(legs.map((flown) => leg({ ...flown, setting: 2400 })));
    assert.equal(oneRpm.airspeeds.length, 2);
  });

  it('believes three legs only when flown one after the other', () => {
    const close = [0, 120, 240].map((heading, i) => leg({ heading, airspeed: 48, timeS: 160 * i }));
    near(found(close).airspeeds[0].valueMps, 48, 1e-6);
    // Nothing checks four legs at two supposed settings: three at one and one at another would fit a false wind.
    const fourth = [0, 120, 240, 0].map((heading, i) => leg({ heading, airspeed: i === 3 ? 56 : 48, timeS: 160 * i }));
    const answer = windFromLegs(fourth);
    if ('found' in answer) {
      const { valueMps, sigmaMps } = answer.found.airspeeds[0];
      assert.ok(Math.abs(valueMps - 48) < 3 * sigmaMps, `${valueMps} +- ${sigmaMps}`);
    }
  });

  it('refuses headings too alike, and false circles', () => {
    assert.match(
      refused([0, 40, 80, 100].map((heading, i) => leg({ heading, airspeed: 48, timeS: 150 * i }))),
      /spread over|too alike/,
    );
    assert.match(
      refused([leg({ heading: 0, airspeed: 48, timeS: 0 }), leg({ heading: 180, airspeed: 48, timeS: 1 })]),
      /Three legs are needed/,
    );
    // Two legs of one track at different speeds and one across: a small circle far away fits exactly.
    const tricked = [
      { eastMps: -36.1, northMps: 38.7 },
      { eastMps: -35.2, northMps: -32.9 },
      { eastMps: -32.4, northMps: -32.4 },
    ].map((velocity, i) => ({ ...velocity, timeS: 150 * i, lengthS: 100, altitudeM: 900, sigmaMps: 0.5 }));
    assert.notEqual(refused(tricked), '');
  });

  it('holds the truth in about 95 % of its intervals when errors are as assumed', () => {
    const random = new Random('legs');
    let airspeedInside = 0;
    let windInside = 0;
    let trials = 0;
    for (let trial = 0; trial < 600; trial += 1) {
      const first = random.uniform(0, 360);
      let drift = { eastMps: random.normal(0, 6), northMps: random.normal(0, 6) };
      const winds: { readonly eastMps: number; readonly northMps: number }[] = [];
      const legs = [0, 90, 180, 270, 45].map((turn, i) => {
        // A random walk as the variogram has it over 150 s.
        const step = Math.sqrt(windVariogram(150, 0));
        drift = { eastMps: drift.eastMps + random.normal(0, step), northMps: drift.northMps + random.normal(0, step) };
        winds.push(drift);
        return leg({ heading: first + turn, airspeed: 50, timeS: 150 * i, error: random.normal(0, 0.5), wind: drift });
      });
      const answer = windFromLegs(legs);
      if (!('found' in answer) || answer.found.airspeeds.length > 1) continue;
      trials += 1;
      const { airspeeds, air: wind, airCovariance, degreesOfFreedom } = answer.found;
      const factor = studentQuantile(0.975, degreesOfFreedom);
      if (Math.abs(airspeeds[0].valueMps - 50) < factor * airspeeds[0].sigmaMps) airspeedInside += 1;
      // The wind stands for the middle of the time: leg 3 of 5.
      if (Math.abs(wind.eastMps - winds[2].eastMps) < factor * Math.sqrt(airCovariance[0][0])) windInside += 1;
    }
    assert.ok(trials > 550, `${trials} fits`);
    for (const [what, inside] of [
      ['airspeed', airspeedInside],
      ['wind', windInside],
    ] as const) {
      const share = inside / trials;
      assert.ok(
        share > 0.92 && share < 0.99,
        `${(100 * share).toFixed(1)} % of the intervals of ${what} hold the truth`,
      );
    }
  });
});

describe('wind from a turn', () => {
  const turn = (degrees: number, speed = 45) =>
    Array.from({ length: degrees / 3 }, (_, i) => {
      const through = velocityTowards((20 + 3 * i) * degree, speed);
      return { eastMps: through.eastMps + air.eastMps, northMps: through.northMps + air.northMps };
    });
  const seconds = (n: number) => Array.from({ length: n }, (_, i) => i);

  it('finds the wind of a steady turn exactly, with an interval that is honest about airspeed', () => {
    const velocities = turn(360);
    const answer = windFromTurn(seconds(velocities.length), velocities, 0.1);
    assert.ok('fit' in answer);
    near(answer.fit.air.eastMps, 6, 1e-6);
    near(answer.fit.air.northMps, -3, 1e-6);
    near(answer.fit.trueAirspeedMps, 45, 1e-6);
    const sigma = Math.sqrt(answer.fit.covariance[0][0]);
    assert.ok(sigma > 0.4 && sigma < 1.5, `${sigma} m/s`);
  });

  it('covers an airspeed that swings once in the turn, which looks like wind', () => {
    const velocities = Array.from({ length: 120 }, (_, i) => {
      const through = velocityTowards(3 * i * degree, 45 - 1 * Math.cos(3 * i * degree));
      return { eastMps: through.eastMps + air.eastMps, northMps: through.northMps + air.northMps };
    });
    const answer = windFromTurn(seconds(120), velocities, 0.1);
    assert.ok('fit' in answer);
    const error = Math.abs(answer.fit.air.northMps - air.northMps);
    assert.ok(error > 0.5, 'the swing is taken for wind');
    assert.ok(error < 2 * Math.sqrt(answer.fit.covariance[1][1]), `${error}`);
  });

  it('skips missing fixes and refuses a part of a turn', () => {
    const velocities = turn(360).map((velocity, i) => (i % 7 === 0 ? { eastMps: Number.NaN, northMps: 0 } : velocity));
    const answer = windFromTurn(seconds(velocities.length), velocities, 0.1);
    assert.ok('fit' in answer);
    near(answer.fit.air.eastMps, 6, 1e-6);
    assert.ok('refused' in windFromTurn(seconds(60), turn(180), 0.1));
    assert.ok('refused' in windFromTurn(seconds(4), turn(12), 0.1));
  });
});
