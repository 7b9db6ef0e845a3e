import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { bootstrapBca } from '../../../../src/engine/stats/bootstrap-bca.ts';
import { equivalenceTest } from '../../../../src/engine/stats/equivalence.ts';
import { hodgesLehmann } from '../../../../src/engine/stats/hodges-lehmann.ts';
import { mannWhitney } from '../../../../src/engine/stats/mann-whitney.ts';
import { choose, permuteLabels, permuteSigns } from '../../../../src/engine/stats/permutation.ts';
import { fiellerRatio, logRatio } from '../../../../src/engine/stats/ratio-of-means.ts';
import { mean, median, robustDeviation, sampleVariance } from '../../../../src/engine/stats/sample.ts';
import { pooledT, pooledTFromSummaries, welchT, welchTFromSummaries } from '../../../../src/engine/stats/two-sample.ts';
import { near } from '../../../tools/near.ts';

const fixture = (name: string): number[][] =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/nist-strd/${name}.json`, import.meta.url), 'utf8')) as number[][];

const after = [181, 192, 176, 188, 199, 185, 190];
const before = [214, 221, 205, 233, 227, 219];

describe('two groups', () => {
  it('NIST StRD AtmWtAg: pooled and Welch t in spite of seven common leading digits', () => {
    const [x, y] = fixture('AtmWtAg');
    const pooled = pooledT(x, y);
    near(pooled.t ** 2 / 15.946733567793, 1, 1e-8, 'F, certified');
    assert.equal(pooled.df, 46);
    near(pooled.standardError / Math.sqrt(2 / 24) / 1.5104831444641e-5, 1, 1e-8, 'residual deviation, certified');
    // Computed independently (R, t.test).
    const welch = welchT(x, y);
    near(welch.t, 3.9933361451, 1e-7);
    near(welch.df, 43.2518342831, 1e-6);
    near(welch.interval.low / 8.62041744e-6, 1, 1e-7);
    near(welch.interval.high / 2.62045826e-5, 1, 1e-7);
  });

  it('NIST/SEMATECH e-Handbook 1.3.5.3 (values from memory): t from summaries', () => {
    const x = { count: 249, mean: 20.14458, deviation: 6.4147 };
    const y = { count: 79, mean: 30.48101, deviation: 6.10771 };
    const pooled = pooledTFromSummaries(x, y);
    near(pooled.t, -12.62059, 1e-5);
    near(pooled.standardError / Math.sqrt(1 / 249 + 1 / 79), 6.3426, 1e-5);
    const welch = welchTFromSummaries(x, y);
    near(welch.t, -12.94627, 1e-5);
    near(welch.df, 136.875, 1e-4);
  });

  it("Student's sleep data: Welch (R data set and output)", () => {
    const x = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const y = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    const { t, df, pValue, interval } = welchT(x, y);
    near(t, -1.8608135, 1e-6);
    near(df, 17.776474, 1e-6);
    near(pValue, 0.07939414, 1e-8);
    near(interval.low, -3.3654832, 1e-6);
    near(interval.high, 0.2054832, 1e-6);
  });

  it('Mann-Whitney and Hodges-Lehmann, the classical example distributed with R', () => {
    const x = [0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
    const y = [1.15, 0.88, 0.9, 0.74, 1.21];
    const test = mannWhitney(x, y);
    assert.equal(test.w, 35);
    assert.equal(test.exact, true);
    near(test.pValue, 0.2544123, 1e-6);
    near(test.upperP, 0.1272061, 1e-6);
    const shift = hodgesLehmann(x, y);
    near(shift.value, 0.305, 1e-9);
    near(shift.low, -0.15, 1e-9);
    near(shift.high, 0.76, 1e-9);
    assert.ok(shift.confidence >= 0.95);
  });

  it('Mann-Whitney with ties uses the tie-corrected approximation (computed independently, SciPy)', () => {
    // scipy.stats.mannwhitneyu([1,2,2,3,5],[2,4,4,6,7,8], method='asymptotic'): U 5, p 0.07934368319771502
    const test = mannWhitney([1, 2, 2, 3, 5], [2, 4, 4, 6, 7, 8]);
    assert.equal(test.exact, false);
    assert.equal(test.w, 5);
    near(test.pValue, 0.07934368319771502, 1e-6);
  });

  it('a level that few values cannot reach is not claimed', () => {
    const shift = hodgesLehmann([4, 5, 6], [1, 2, 3]);
    near(shift.confidence, 0.9, 1e-12);
    assert.deepEqual([shift.low, shift.high], [1, 5]);
  });

  it('exact permutation of labels: the mouse data of the bootstrap textbook, all 11,440', () => {
    const treatment = [94, 197, 16, 38, 99, 141, 23];
    const control = [52, 104, 146, 10, 51, 30, 40, 27, 46];
    near(mean(treatment) - mean(control), 30.63492, 1e-5);
    const result = permuteLabels(treatment, control);
    assert.deepEqual(
      [result.method, result.arrangements, result.oneSidedCount, result.twoSidedCount],
      ['exact', 11_440, 1613, 3184],
    );
    near(result.twoSidedP, 0.2783217, 1e-7);
  });

  it('exact permutation of signs: the historic maize data, 863 of 32,768 in each tail', () => {
    const differences = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48];
    const result = permuteSigns(differences);
    assert.equal(result.arrangements, 32_768);
    assert.equal(result.oneSidedCount, 863);
    near(result.twoSidedP, 0.05267334, 1e-8);
  });

  it('a sampled permutation comes near the exact one, the same with the same seed, and is never 0', () => {
    const exact = permuteLabels([94, 197, 16, 38, 99, 141, 23], [52, 104, 146, 10, 51, 30, 40, 27, 46]);
    const sampled = permuteLabels([94, 197, 16, 38, 99, 141, 23], [52, 104, 146, 10, 51, 30, 40, 27, 46], {
      limit: 8000,
      seed: 7,
    });
    assert.equal(sampled.method, 'sampled');
    near(sampled.twoSidedP, exact.twoSidedP, 0.02);
    const far = permuteLabels([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], [101, 102, 103, 104, 105, 106, 107, 108, 109, 110], {
      limit: 500,
    });
    assert.ok(far.twoSidedP > 0);
    assert.equal(choose(16, 7), 11_440);
  });

  it('ratio of means: Fieller, log-Welch, difference, Hodges-Lehmann and permutation (R; Fieller by test inversion in SciPy)', () => {
    const fieller = fiellerRatio(after, before);
    assert.ok(fieller);
    near(fieller.value, 0.851944, 1e-6);
    near(fieller.low, 0.808558, 1e-6);
    near(fieller.high, 0.897455, 1e-6);
    near(fieller.g, 0.00124582, 1e-8);
    assert.equal(fieller.df, 11);
    const log = logRatio(after, before);
    near(log.value, 0.852066, 1e-6);
    near(log.low, 0.808199, 1e-6);
    near(log.high, 0.898314, 1e-6);
    const { interval } = welchT(after, before);
    near(interval.value, -32.5476, 1e-4);
    near(interval.low, -43.5946, 1e-4);
    near(interval.high, -21.5007, 1e-4);
    const shift = hodgesLehmann(after, before);
    assert.deepEqual([shift.value, shift.low, shift.high], [-33, -45, -20]);
    const permuted = permuteLabels(after, before);
    assert.deepEqual([permuted.twoSidedCount, permuted.arrangements], [1, 1716]);
  });

  it('Fieller has no interval where the denominator may be zero', () => {
    assert.equal(fiellerRatio([1, 2, 3], [-1, 0.5, 1]), undefined);
    assert.throws(() => logRatio([1, 2], [0, 1]), RangeError);
  });

  it('bootstrap BCa of a variance (Efron and Tibshirani textbook, from memory; 200,000 resamples computed independently)', () => {
    const data = [48, 36, 20, 29, 42, 42, 20, 42, 22, 41, 45, 14, 6, 0, 33, 28, 34, 4, 32, 24, 47, 41, 24, 26, 30, 41];
    const variance = (values: readonly number[]): number => {
      const centre = mean(values);
      return values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / values.length;
    };
    const result = bootstrapBca([data], ([values]) => variance(values), {
      seed: 11,
      resamples: 10_000,
      confidence: 0.9,
    });
    near(result.value, 171.534, 1e-3);
    near(result.acceleration, 0.06124, 1e-5);
    near(result.z0, 0.165, 0.04);
    near(result.low, 115.6, 4);
    near(result.high, 260.9, 4);
    assert.equal(result.remark, undefined);
    const again = bootstrapBca([data], ([values]) => variance(values), {
      seed: 11,
      resamples: 10_000,
      confidence: 0.9,
    });
    assert.equal(again.low, result.low);
  });

  it('bootstrap of two small groups says that it is too short', () => {
    const result = bootstrapBca([after, before], ([x, y]) => median(x) / median(y), { seed: 3 });
    assert.match(result.remark ?? '', /too short/);
    assert.ok(result.low < result.value && result.value < result.high);
  });

  it('two one-sided tests (R)', () => {
    const x = [102.1, 99.4, 101.0, 100.2, 98.7, 100.9, 101.5, 99.8];
    const y = [100.4, 101.2, 99.1, 100.0, 101.9, 99.7, 100.8, 100.1];
    const result = equivalenceTest(x, y, 2);
    near(result.interval.value, 0.05, 1e-9);
    near(result.interval.low, -0.848726, 1e-6);
    near(result.interval.high, 0.948726, 1e-6);
    near(result.lowerP, 0.00068582, 1e-8);
    near(result.upperP, 0.00099801, 1e-8);
    near(result.pValue, 0.000998, 1e-6);
    assert.equal(result.equivalent, true);
    assert.equal(equivalenceTest(x, y, 0.5).equivalent, false);
  });

  it('robust scale and refusals', () => {
    near(robustDeviation([1, 2, 3, 4, 100]), 1.4826022185056, 1e-9);
    assert.equal(median([3, 1, 2, 10]), 2.5);
    assert.ok(Number.isNaN(sampleVariance([1])));
    assert.throws(() => welchT([1], [2, 3]), RangeError);
  });
});
