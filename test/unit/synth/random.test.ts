import assert from 'node:assert/strict';
import { GaussMarkov, Random } from '../../synth/random.ts';
import { near } from '../../tools/near.ts';

describe('synth/random', () => {
  it('gives the same stream for the same seed and another for another', () => {
    const draw = (seed: string): number[] => {
      const random = new Random(seed);
      return Array.from({ length: 5 }, () => random.next());
    };
    assert.deepEqual(draw('a'), draw('a'));
    assert.notDeepEqual(draw('a'), draw('b'));
  });

  it('has the moments of a uniform and of a normal deviate', () => {
    const random = new Random('moments');
    const n = 40_000;
    let sum = 0;
    let square = 0;
    let fourth = 0;
    let uniform = 0;
    for (let i = 0; i < n; i++) {
      const x = random.normal();
      sum += x;
      square += x * x;
      fourth += x ** 4;
      uniform += random.next();
    }
    // Five standard errors of each moment.
    near(sum / n, 0, 5 / Math.sqrt(n));
    near(square / n, 1, 5 * Math.sqrt(2 / n));
    near(fourth / n, 3, 5 * Math.sqrt(96 / n));
    near(uniform / n, 0.5, 5 * Math.sqrt(1 / 12 / n));
  });

  it('a Gauss-Markov process keeps its variance and its correlation time', () => {
    const process = new GaussMarkov(new Random('process'), 2, 10);
    const values: number[] = [];
    for (let i = 0; i < 60_000; i++) values.push(process.advance(1));
    const variance = values.reduce((sum, x) => sum + x * x, 0) / values.length;
    let lagged = 0;
    for (let i = 10; i < values.length; i++) lagged += values[i] * values[i - 10];
    near(variance, 4, 0.35);
    // Correlation exp(-1) after one correlation time.
    near(lagged / (values.length - 10) / variance, Math.exp(-1), 0.05);
  });
});
