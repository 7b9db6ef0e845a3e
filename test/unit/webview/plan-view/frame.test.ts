import assert from 'node:assert/strict';
import { defaultDisplayUnits } from '../../../../shared/display-units.ts';
import { frameOf, scaleBar, thinPath } from '../../../../webview/plan-view/frame.ts';

const size = { width: 480, height: 400 };
const square = {
  eastM: Float32Array.of(0, 1000, 1000, Number.NaN, 0),
  northM: Float32Array.of(0, 0, 1000, Number.NaN, 1000),
  gapsBefore: [] as number[],
};

describe('the frame of the plan view', () => {
  it('fits everything in, the same scale both ways, north up', () => {
    const frame = frameOf(square, 0, 4, size);
    for (const row of [0, 1, 2, 4]) {
      const [x, y] = [frame.x(square.eastM[row]), frame.y(square.northM[row])];
      assert.ok(x >= 0 && x <= size.width && y >= 0 && y <= size.height, `${x}, ${y}`);
    }
    assert.ok(frame.x(1000) > frame.x(0));
    assert.ok(frame.y(1000) < frame.y(0));
    assert.ok(Math.abs(frame.x(1000) - frame.x(0) - 1000 * frame.pixelsPerM) < 1e-9);
  });

  it('does not blow up the wandering of a receiver that stands', () => {
    const still = { eastM: Float32Array.of(0, 0.3, -0.2), northM: Float32Array.of(0, 0.1, 0.2) };
    assert.ok(frameOf(still, 0, 2, size).pixelsPerM < 10);
  });

  it('lifts the pen at gaps, and skips what would not be seen', () => {
    const frame = frameOf(square, 0, 4, size);
    assert.equal((thinPath(square, 0, 4, frame).match(/M/g) ?? []).length, 1);
    assert.equal((thinPath({ ...square, gapsBefore: [2] }, 0, 4, frame).match(/M/g) ?? []).length, 2);
    const dense = {
      eastM: Float32Array.from({ length: 100_000 }, (_, i) => i / 100),
      northM: new Float32Array(100_000),
      gapsBefore: [],
    };
    const points = (thinPath(dense, 0, 99_999, frameOf(dense, 0, 99_999, size)).match(/[ML]/g) ?? []).length;
    assert.ok(points > 300 && points < 1200, `${points} points`);
  });

  it('has a scale bar of a round length', () => {
    assert.equal(scaleBar(0.05, defaultDisplayUnits, 150).text, '1 NM');
    const { pixels } = scaleBar(0.05, defaultDisplayUnits, 150);
    assert.ok(Math.abs(pixels - 1852 * 0.05) < 1e-6);
    assert.equal(scaleBar(1, defaultDisplayUnits, 150).text, '100 m');
  });
});
