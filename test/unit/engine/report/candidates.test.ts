import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import type { CandidateResult, PredictedAndMeasured } from '../../../../src/engine/decision/index.ts';
import { candidatesSection } from '../../../../src/engine/report/index.ts';

const around = {
  units: displayUnitSets.icao,
  heading: (level: number): string => '#'.repeat(level),
  show: (): string => '',
};
const interval = (value: number, half: number) => ({ value, low: value - half, high: value + half, method: '' });

function row(metric: PredictedAndMeasured['metric'], found?: PredictedAndMeasured['found']): PredictedAndMeasured {
  return {
    metric,
    baseline: 400,
    predicted: interval(350, 20),
    change: interval(-0.125, 0.05),
    ...(found && { measured: interval(360, 10), measuredChange: interval(-0.1, 0.03), found }),
  };
}

function textOf(rows: readonly PredictedAndMeasured[], flown?: string): string {
  const candidate: CandidateResult = { id: 'engine', from: 'before', flown, rows, remarks: [] };
  return candidatesSection([candidate], around);
}

describe('candidates in the report: predicted and measured side by side', () => {
  it('shows what was measured since, the measured change and whether it agrees', () => {
    const text = textOf([row('ground-roll', 'as predicted'), row('distance-over-15m', 'as predicted')], 'after');
    assert.match(
      text,
      /\| Metric \| Now \| Predicted \| Predicted change \| Measured since \| Measured change \| Found \|/,
    );
    assert.match(text, /Distance over 50 ft .*-10\.0 % \(-13\.0 to -7\.0\) \| as predicted/);
    assert.match(text, /Flown as \*after\*: what was measured agrees .* in ground roll and distance over 50 ft\./);
  });

  it('names what did not come as predicted, and believes neither', () => {
    const text = textOf([row('ground-roll', 'more than predicted'), row('level-speed', 'as predicted')], 'after');
    assert.match(text, /not as predicted in ground roll\. Either something of the change/);
  });

  it('without a flight there is no column for it; flown and not measured is said', () => {
    assert.doesNotMatch(textOf([row('ground-roll')]), /Measured since|Flown/);
    assert.match(textOf([row('ground-roll')], 'after'), /nothing predicted was measured there yet/);
  });
});
