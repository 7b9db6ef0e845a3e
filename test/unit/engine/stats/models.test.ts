import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { ancova } from '../../../../src/engine/stats/ancova.ts';
import { generalisedLeastSquares } from '../../../../src/engine/stats/generalised-least-squares.ts';
import { linearRegression, type RegressionFit } from '../../../../src/engine/stats/linear-regression.ts';
import { oneWayRandomEffects } from '../../../../src/engine/stats/one-way-random-effects.ts';
import { randomInterceptReml } from '../../../../src/engine/stats/random-intercept-reml.ts';
import { robustRegression } from '../../../../src/engine/stats/robust-regression.ts';
import { mean } from '../../../../src/engine/stats/sample.ts';
import { welchT } from '../../../../src/engine/stats/two-sample.ts';
import { near } from '../../../tools/near.ts';

const fixture = (name: string): number[][] =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/nist-strd/${name}.json`, import.meta.url), 'utf8')) as number[][];

function requireFit(fit: { readonly determined: boolean }): RegressionFit {
  assert.equal(fit.determined, true);
  return fit as RegressionFit;
}

/** R data set mtcars (Henderson and Velleman, 1981): fuel economy, weight, transmission. */
const mpg = [
  21, 21, 22.8, 21.4, 18.7, 18.1, 14.3, 24.4, 22.8, 19.2, 17.8, 16.4, 17.3, 15.2, 10.4, 10.4, 14.7, 32.4, 30.4, 33.9,
  21.5, 15.5, 15.2, 13.3, 19.2, 27.3, 26, 30.4, 15.8, 19.7, 15, 21.4,
];
const wt = [
  2.62, 2.875, 2.32, 3.215, 3.44, 3.46, 3.57, 3.19, 3.15, 3.44, 3.44, 4.07, 3.73, 3.78, 5.25, 5.424, 5.345, 2.2, 1.615,
  1.835, 2.465, 3.52, 3.435, 3.84, 3.845, 1.935, 2.14, 1.513, 3.17, 2.77, 3.57, 2.78,
];
const manual = mpg.map((_, i) => i < 3 || (i >= 17 && i <= 19) || i >= 25);

describe('regression', () => {
  it('NIST StRD Norris: coefficients, standard errors, residual deviation, F (certified)', () => {
    const rows = fixture('Norris');
    const fit = requireFit(
      linearRegression(
        rows.map((row) => row[0]),
        [{ name: 'x', values: rows.map((row) => row[1]) }],
      ),
    );
    const [b0, b1] = fit.coefficients;
    near(b0.value / -0.262323073774029, 1, 1e-9);
    near(b0.standardError / 0.232818234301152, 1, 1e-9);
    near(b1.value / 1.00211681802045, 1, 1e-12);
    near(b1.standardError / 0.000429796848199937, 1, 1e-9);
    near(fit.residualDeviation / 0.884796396144373, 1, 1e-9);
    near(b1.t ** 2 / 5436385.54079785, 1, 1e-9);
  });

  it('rate of climb against density altitude: slope, intercept and their errors (computed independently, R lm)', () => {
    const fit = requireFit(
      linearRegression([690, 590, 500, 395, 300], [{ name: 'altitude', values: [1000, 3000, 5000, 7000, 9000] }]),
    );
    near(fit.coefficients[0].value, 738.75, 1e-9);
    near(fit.coefficients[1].value, -0.04875, 1e-12);
    near(fit.coefficients[1].standardError, 0.000559, 1e-6);
  });

  it('weighted (computed independently, NumPy)', () => {
    const x = [8.05, 8.08, 5.15, 2.86, 0.54, 3.83, 4.08, 0.45, 0.49];
    const y = [7.52, 7.12, 5.21, 4.14, 3.75, 4.98, 4.52, 3.2, 2.9];
    const fit = requireFit(linearRegression(y, [{ name: 'x', values: x }], { weights: [1, 2, 3, 1, 2, 3, 1, 2, 3] }));
    near(fit.coefficients[0].value, 2.89756436, 1e-8);
    near(fit.coefficients[1].value, 0.51078715, 1e-8);
    near(fit.coefficients[0].standardError, 0.1885095, 1e-7);
    near(fit.coefficients[1].standardError, 0.04302843, 1e-8);
    near(fit.residualDeviation, 0.5001036355373307, 1e-12);
  });

  it('a doubled column is refused, not answered with 1e15', () => {
    const values = [1, 2, 3, 4, 6];
    const fit = linearRegression(
      [1, 2, 3, 4, 5],
      [
        { name: 'a', values },
        { name: 'b', values: values.map((value) => 2 * value + 1) },
      ],
    );
    assert.equal(fit.determined, false);
    assert.match(fit.determined ? '' : fit.reason, /depend/);
    assert.equal(linearRegression([1], [{ name: 'a', values: [1] }]).determined, false);
    assert.throws(() => linearRegression([1, 2], [{ name: 'a', values: [1] }]), RangeError);
  });

  it('robust (Huber, k 1.345, MAD) on the stack loss data: as MASS rlm prints (from memory) and an own iteration in NumPy', () => {
    const air = [80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70];
    const water = [27, 27, 25, 24, 22, 23, 24, 24, 23, 18, 18, 17, 18, 19, 18, 18, 19, 19, 20, 20, 20];
    const acid = [89, 88, 90, 87, 87, 87, 93, 93, 87, 80, 89, 88, 82, 93, 89, 86, 72, 79, 80, 82, 91];
    const loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15];
    const fit = robustRegression(loss, [
      { name: 'air', values: air },
      { name: 'water', values: water },
      { name: 'acid', values: acid },
    ]);
    assert.ok(fit.determined);
    const expected = [-41.02649835, 0.82938433, 0.92606597, -0.12784672];
    expected.forEach((value, i) => {
      near(fit.coefficients[i].value, value, 1e-6);
    });
    near(fit.scale, 2.44053609, 1e-6);
    assert.ok(fit.robustWeights[20] < 0.5, 'the last day stands out');
  });
});

describe('a "gain" that is entirely the covariate', () => {
  it('R mtcars: +7.2 without weight, nothing with it', () => {
    const alone = ancova(mpg, manual, []);
    assert.ok(alone.determined);
    near(alone.effect.value, 7.244939, 1e-6);
    near(alone.effect.standardError, 1.764422, 1e-6);
    near(alone.effect.pValue, 0.000285, 1e-6);
    const adjusted = ancova(mpg, manual, [{ name: 'weight', values: wt }]);
    assert.ok(adjusted.determined);
    near(adjusted.effect.value, -0.023615, 1e-6);
    near(adjusted.effect.standardError, 1.545645, 1e-6);
    near(adjusted.effect.pValue, 0.98791, 1e-5);
    near(adjusted.effect.low, -3.184815, 1e-5);
    near(adjusted.effect.high, 3.137584, 1e-5);
    near(adjusted.slopes[0].value, -5.352811, 1e-6);
    near(adjusted.fit.coefficients[0].value, 37.321551, 1e-6);
    near(adjusted.fit.residualDeviation, 3.09794, 1e-6);
    assert.deepEqual(adjusted.warnings, []);
  });

  it('says when ranges do not overlap and when runs are few', () => {
    const result = ancova(
      [1, 2, 3, 5, 6, 7],
      [false, false, false, true, true, true],
      [{ name: 'density altitude', values: [1, 2, 4, 10, 11, 13] }],
    );
    assert.ok(result.determined);
    assert.equal(result.warnings.length, 2);
    assert.match(result.warnings[1], /do not overlap in density altitude/);
  });
});

/** Classical dyestuff data (Davies and Goldsmith, 1972), as in R package lme4. */
const dyestuff = [
  [1545, 1440, 1440, 1520, 1580],
  [1540, 1555, 1490, 1560, 1495],
  [1595, 1550, 1605, 1510, 1560],
  [1445, 1440, 1595, 1465, 1545],
  [1595, 1630, 1515, 1635, 1625],
  [1520, 1455, 1450, 1480, 1445],
];

describe('random effects', () => {
  it('dyestuff: analysis of variance and REML agree with lme4', () => {
    const result = oneWayRandomEffects(dyestuff);
    near(result.meanSquareBetween, 11271.5, 1e-6);
    near(result.meanSquareWithin, 2451.25, 1e-6);
    near(result.f, 4.59827, 1e-5);
    near(result.betweenVariance, 1764.05, 1e-6);
    near(result.intraclassCorrelation, 0.418487, 1e-6);
    near(result.mean, 1527.5, 1e-9);
    near(result.standardError, 19.383412, 1e-6);
    const y = dyestuff.flat();
    const fit = randomInterceptReml(
      y,
      [y.map(() => 1)],
      dyestuff.flatMap((group, g) => group.map(() => g)),
    );
    near(fit.groupVariance, 1764.05, 0.02);
    near(fit.residualVariance, 2451.25, 0.02);
    near(fit.coefficients[0].value, 1527.5, 1e-6);
    near(fit.coefficients[0].standardError, 19.383412, 1e-4);
    near(fit.coefficients[0].df, 5, 0.05);
  });

  it('NIST StRD SmLs07 and SmLs09 (certified F 21 and 2001): thirteen common leading digits', () => {
    near(oneWayRandomEffects(fixture('SmLs07')).f / 21, 1, 1e-4);
    // SmLs09 as published: 2001 values a treatment, the centre first, then 0.1 below and above it in turn.
    const centre = fixture('SmLs07').map((group) => Math.round((group[0] - 1e12) * 10));
    assert.equal(centre.length, 9);
    const groups = centre.map((first) =>
      Array.from({ length: 2001 }, (_, i) =>
        Number(`1000000000000.${i === 0 ? first : i % 2 === 1 ? first - 1 : first + 1}`),
      ),
    );
    near(oneWayRandomEffects(groups).f / 2001, 1, 1e-4);
  });

  it('the unit is the day: run-level Welch is wrong, the day-mean test and the random intercept are right (R)', () => {
    const beforeDays = [
      [214, 221],
      [205, 209],
      [233, 227],
    ];
    const afterDays = [
      [181, 185],
      [199, 192],
      [176, 178],
    ];
    const wrong = welchT(afterDays.flat(), beforeDays.flat());
    near(wrong.t, -5.7985, 1e-4);
    near(wrong.pValue, 0.0002, 1e-6);
    const right = welchT(afterDays.map(mean), beforeDays.map(mean));
    near(right.t, -3.839055, 1e-6);
    near(right.df, 3.851671, 1e-6);
    near(right.pValue, 0.019816, 1e-6);
    near(right.interval.low, -57.2328, 1e-4);
    near(right.interval.high, -8.7672, 1e-4);
    const days = [...beforeDays, ...afterDays];
    const y = days.flat();
    const fit = randomInterceptReml(
      y,
      [y.map(() => 1), days.flatMap((day, d) => day.map(() => (d >= 3 ? 1 : 0)))],
      days.flatMap((day, d) => day.map(() => d)),
    );
    near(fit.coefficients[1].value, -33, 1e-9);
    near(fit.coefficients[1].standardError, 8.595865, 1e-4);
    near(fit.groupVariance, 103.75, 0.01);
    near(fit.residualVariance, 14.1667, 0.001);
    near(fit.coefficients[1].df, 4, 0.05, 'balanced: days - 2');
  });

  it('with equal errors least squares with a covariance is ordinary least squares', () => {
    const y = [1, 3, 2, 5];
    const fit = generalisedLeastSquares(
      y,
      [
        [1, 1, 1, 1],
        [0, 1, 2, 3],
      ],
      Float64Array.from([4, 0, 4, 0, 0, 4, 0, 0, 0, 4]),
    );
    assert.ok(fit);
    const ordinary = requireFit(linearRegression(y, [{ name: 'x', values: [0, 1, 2, 3] }]));
    near(fit.coefficients[1], ordinary.coefficients[1].value, 1e-12);
    near(fit.covariance[1][1], 4 / 5, 1e-12);
    near(
      fit.estimator[1].reduce((sum, share, i) => sum + share * y[i], 0),
      fit.coefficients[1],
      1e-12,
    );
    assert.equal(generalisedLeastSquares([1], [[1]], new Float64Array([0])), undefined);
  });
});
