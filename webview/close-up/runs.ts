import { formatClock } from '../../shared/format.ts';
import { landingCurve, type RunCurve, takeoffCurve } from '../../shared/run-curve.ts';
import type { FlightModel } from '../viewer/flight-model.ts';

/** A take-off or landing that can be shown close up. */
export interface Run {
  readonly id: string;
  readonly title: string;
  readonly number: number;
  readonly curve: RunCurve;
  readonly remarks: readonly string[];
}

const outcomes = { flown: '', rejected: ', rejected', 'touch-and-go': ', touch-and-go' } as const;

export function runsOf(model: FlightModel): Run[] {
  const { analysis } = model.flight;
  const takeoffs = analysis.takeoffs.map((takeoff, index) => ({
    id: `take-off-${index + 1}`,
    title: `Take-off ${index + 1}${outcomes[takeoff.outcome]}, ${formatClock(takeoff.rollStart.timeS)} UTC`,
    number: index + 1,
    curve: takeoffCurve(model.columns, takeoff),
    remarks: [
      ...(takeoff.rollingStart ? ['Began rolling: the distance is not that from a standstill.'] : []),
      ...takeoff.remarks,
    ],
  }));
  const landings = analysis.landings.map((landing, index) => ({
    id: `landing-${index + 1}`,
    title: `Landing ${index + 1}, ${formatClock(landing.touchdown.timeS)} UTC`,
    number: index + 1,
    curve: landingCurve(model.columns, landing),
    remarks: landing.remarks,
  }));
  return [...takeoffs, ...landings].sort((a, b) => a.curve.originS - b.curve.originS);
}
