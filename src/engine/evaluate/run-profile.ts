import type { RunCurve } from '../../../shared/run-curve.ts';

/** A take-off as it is drawn in a report: few points, rounded, plain lists. */
export interface RunProfile {
  /** From the start of the roll, metres. */
  readonly distanceM: readonly number[];
  /** Above lift-off, metres; NaN where not recorded. */
  readonly heightM: readonly number[];
  readonly groundSpeedMps: readonly number[];
  /** Points before which reception was lost. */
  readonly gapsBefore: readonly number[];
  readonly liftoffDistanceM?: number;
}

/** Points of a drawn curve; a printed figure resolves no more. */
const mostPoints = 80;

function rounded(value: number): number {
  return Math.round(value * 10) / 10;
}

/** Every n-th sample from the start of the roll on, so that no value is invented. */
export function profileOf(curve: RunCurve): RunProfile {
  const first = Math.max(
    0,
    curve.timeS.findIndex((timeS) => timeS >= 0),
  );
  const count = curve.timeS.length - first;
  const step = Math.max(1, Math.ceil(count / mostPoints));
  const rows: number[] = [];
  for (let row = first; row < curve.timeS.length; row += step) rows.push(row);
  return {
    distanceM: rows.map((row) => rounded(curve.distanceM[row])),
    heightM: rows.map((row) => rounded(curve.heightM[row])),
    groundSpeedMps: rows.map((row) => rounded(curve.groundSpeedMps[row])),
    gapsBefore: rows.flatMap((row, index) =>
      curve.gapsBefore.some((gap) => gap > (rows[index - 1] ?? row) && gap <= row) ? [index] : [],
    ),
    ...liftoffOf(curve),
  };
}

function liftoffOf(curve: RunCurve): { readonly liftoffDistanceM?: number } {
  const liftoff = curve.points.find((point) => point.kind === 'liftoff');
  return liftoff === undefined ? {} : { liftoffDistanceM: rounded(liftoff.distanceM) };
}
