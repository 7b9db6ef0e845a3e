import assert from 'node:assert/strict';
import type { ClockAnchor } from '../../../../../src/engine/readers/gpmf/sample-clock.ts';
import { sampleClock } from '../../../../../src/engine/readers/gpmf/sample-clock.ts';
import { near } from '../../../../tools/near.ts';

const startS = 1_700_000_000;

/** Payloads of about a second at 18.169 Hz, the rate in the GPMF introduction's table of measured frequencies. */
function payloads(seconds: number, rateHz = 18.169): ClockAnchor[] {
  return Array.from({ length: seconds }, (_, second) => {
    const index = Math.ceil(second * rateHz);
    return { index, videoS: second, utcS: startS + index / rateHz };
  });
}

/** A repeatable jitter of up to one sample either way. */
const jitterS = (k: number): number => 0.055 * Math.sin(k * 12.9898 * k);

describe('clock of a GPS stream', () => {
  it('finds the rate and every time in spite of jitter and single wrong stamps', () => {
    const anchors = payloads(1800).map((anchor, k) => ({
      ...anchor,
      utcS: anchor.utcS + jitterS(k) + (k % 97 === 0 ? 1.5 : 0),
    }));
    const clock = sampleClock(anchors, 0.055);
    assert.ok(clock);
    // Least squares over 1800 stamps that scatter by 0.04 s: one sigma of the slope is 1.8e-6, or 3.3e-5 Hz.
    near(1 / clock.spacingS, 18.169, 1e-4);
    for (const index of [0, 16_352, 32_700]) near(clock.timeAt(index), startS + index / 18.169, 0.006);
    assert.deepEqual(clock.clockStepsS, []);
    assert.deepEqual(clock.lostS, []);
  });

  it('moves times before a correction of the clock to the later clock', () => {
    // The receiver learns the leap seconds after 10 minutes: its stamps jump by 2 s, the film does not.
    const anchors = payloads(1800).map((anchor, k) => ({
      ...anchor,
      utcS: anchor.utcS + jitterS(k) + (k < 600 ? 2 : 0),
    }));
    const clock = sampleClock(anchors, 0.055);
    assert.ok(clock);
    assert.equal(clock.clockStepsS.length, 1);
    near(clock.clockStepsS[0], -2, 0.03);
    for (const index of [0, 10_000, 32_000]) near(clock.timeAt(index), startS + index / 18.169, 0.02);
  });

  it('goes on behind samples that were lost', () => {
    // 40 samples are missing at second 900, without a gap in the count: stamps and film jump alike.
    const anchors = payloads(1800)
      .filter((_, k) => k < 900 || k > 901)
      .map((anchor, k) => ({
        ...anchor,
        index: anchor.index - (anchor.videoS >= 900 ? 40 : 0),
        utcS: anchor.utcS + jitterS(k),
      }));
    const clock = sampleClock(anchors, 0.055);
    assert.ok(clock);
    assert.deepEqual(clock.clockStepsS, []);
    assert.equal(clock.lostS.length, 1);
    near(clock.lostS[0], 40 / 18.169, 0.02);
    near(clock.timeAt(100), startS + 100 / 18.169, 0.02);
    near(clock.timeAt(30_000), startS + 30_040 / 18.169, 0.02);
  });

  it('spaces samples by the payload when there is one stamp only', () => {
    const clock = sampleClock([{ index: 0, videoS: Number.NaN, utcS: startS }], 1 / 19);
    assert.ok(clock);
    near(clock.timeAt(19), startS + 1, 1e-6);
    assert.equal(sampleClock([], 1 / 19), undefined);
  });
});
