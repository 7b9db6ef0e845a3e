import type { Landing, Takeoff } from './analysis.ts';
import type { Measured } from './measured.ts';
import { lastRowAtOrBefore, nearestRow, type TrackColumns, valueAt } from './track-columns.ts';

/** A take-off or landing against the distance from the start of its roll. Columns of equal length, cut from the track. */
export interface RunCurve {
  readonly kind: 'take-off' | 'landing';
  /** Unix time that `timeS` counts from: start of the roll, or touchdown. */
  readonly originS: number;
  readonly timeS: Float64Array;
  /** From the start of the roll (take-off) or from touchdown (landing), metres; negative before. */
  readonly distanceM: Float64Array;
  /** Above the runway at lift-off or touchdown. */
  readonly heightM: Float32Array;
  readonly groundSpeedMps: Float32Array;
  readonly heightSigmaM?: number;
  readonly gapsBefore: readonly number[];
  readonly points: readonly RunPoint[];
}

export interface RunPoint {
  readonly kind: 'roll-start' | 'liftoff' | 'screen' | 'touchdown' | 'stop';
  readonly label: string;
  /** Unix time. */
  readonly timeS: number;
  readonly sigmaS: number;
  readonly origin: 'found' | 'pilot';
  readonly distanceM: number;
  /** 95 % interval of the distance where the engine measured it. */
  readonly distance?: Measured;
  readonly heightM: number;
  readonly groundSpeedMps: number;
}

/** Before the roll, and after lift-off, that a close-up shows: enough to see the standstill and the climb over 100 ft. */
const leadS = 5;
const afterLiftoffS = 40;
const afterRejectedS = 20;
const beforeTouchdownS = 25;

function meanSigma(sigma: TrackColumns['heightSigmaM'], from: number, to: number): number | undefined {
  if (sigma === undefined || typeof sigma === 'number') return sigma;
  const part = Array.from(sigma.slice(from, to + 1)).filter((one) => Number.isFinite(one));
  return part.length > 0 ? part.reduce((sum, one) => sum + one, 0) / part.length : undefined;
}

function cut(
  columns: TrackColumns,
  kind: RunCurve['kind'],
  originS: number,
  fromS: number,
  toS: number,
  groundHeightAtS: number,
  points: (place: (timeS: number) => { distanceM: number; heightM: number; groundSpeedMps: number }) => RunPoint[],
): RunCurve {
  const { startS } = columns;
  const from = Math.max(0, nearestRow(columns.timeS, fromS - startS));
  const to = Math.max(from, lastRowAtOrBefore(columns.timeS, toS - startS));
  const at = (values: ArrayLike<number>, timeS: number) => valueAt(columns.timeS, values, timeS - startS);
  const origin = at(columns.distanceM, originS);
  const ground = at(columns.heightM, groundHeightAtS);
  return {
    kind,
    originS,
    timeS: columns.timeS.slice(from, to + 1).map((t) => t + startS - originS),
    distanceM: columns.distanceM.slice(from, to + 1).map((d) => d - origin),
    heightM: columns.heightM.slice(from, to + 1).map((h) => h - ground),
    groundSpeedMps: columns.groundSpeedMps.slice(from, to + 1),
    heightSigmaM: meanSigma(columns.heightSigmaM, from, to),
    gapsBefore: columns.gapsBefore.filter((row) => row > from && row <= to).map((row) => row - from),
    points: points((timeS) => ({
      distanceM: at(columns.distanceM, timeS) - origin,
      heightM: at(columns.heightM, timeS) - ground,
      groundSpeedMps: at(columns.groundSpeedMps, timeS),
    })),
  };
}

/** "50 ft", from a height in metres above lift-off. */
function screenLabel(heightM: number): string {
  return `${Math.round(heightM / 0.3048)} ft`;
}

/** The close-up of a take-off. Heights are above the recorded height at lift-off (at the start when it was rejected). */
export function takeoffCurve(columns: TrackColumns, takeoff: Takeoff): RunCurve {
  const startS = takeoff.rollStart.timeS;
  const liftoff = takeoff.liftoff;
  const lastScreen = takeoff.screens[takeoff.screens.length - 1]?.time.timeS ?? Number.NEGATIVE_INFINITY;
  const endS =
    liftoff === undefined ? startS + afterRejectedS + 30 : Math.max(liftoff.timeS + afterLiftoffS, lastScreen + 10);
  return cut(columns, 'take-off', startS, startS - leadS, endS, liftoff?.timeS ?? startS, (place) => [
    { kind: 'roll-start', label: 'Start of roll', ...takeoff.rollStart, ...place(startS), distanceM: 0 },
    ...(liftoff === undefined
      ? []
      : [
          {
            kind: 'liftoff' as const,
            label: 'Lift-off',
            ...liftoff,
            ...place(liftoff.timeS),
            heightM: 0,
            ...(takeoff.groundRollM === undefined
              ? {}
              : { distance: takeoff.groundRollM, distanceM: takeoff.groundRollM.value }),
          },
        ]),
    ...takeoff.screens.map((screen) => ({
      kind: 'screen' as const,
      label: screenLabel(screen.heightM),
      ...screen.time,
      ...place(screen.time.timeS),
      distanceM: screen.distanceM.value,
      distance: screen.distanceM,
      heightM: screen.heightM,
    })),
  ]);
}

/** The close-up of a landing: distance counts from touchdown. */
export function landingCurve(columns: TrackColumns, landing: Landing): RunCurve {
  const { touchdown, stop } = landing;
  const endS = (stop?.timeS ?? touchdown.timeS + 20) + leadS;
  return cut(
    columns,
    'landing',
    touchdown.timeS,
    touchdown.timeS - beforeTouchdownS,
    endS,
    touchdown.timeS,
    (place) => [
      { kind: 'touchdown', label: 'Touchdown', ...touchdown, ...place(touchdown.timeS), distanceM: 0, heightM: 0 },
      ...(stop === undefined
        ? []
        : [
            {
              kind: 'stop' as const,
              label: 'End of roll',
              ...stop,
              ...place(stop.timeS),
              ...(landing.groundRollM === undefined
                ? {}
                : { distance: landing.groundRollM, distanceM: landing.groundRollM.value }),
            },
          ]),
    ],
  );
}
