import { median } from '../../stats/sample.ts';
import type { Track } from '../../track/track.ts';
import type { BinnedForce, Force } from './binned-force.ts';

/** Accelerations at the rows of a track, in the axes of the aeroplane as it stands. */
export interface BodyAcceleration {
  readonly forwardMps2: Float64Array;
  readonly upMps2: Float64Array;
  /** Of the forward force with the change of the ground speed, during rolls. */
  readonly correlation: number;
  /** How much later than the force the speed shows it, roughly. */
  readonly delayS: number;
}

/** Slower than this for this long, a receiver shows an aeroplane that stands (noise of Doppler speed 0.05 to 0.15 m/s). */
const standingMps = 0.5;
const standingS = 5;

/** Standing, the force is that of gravity; a sensor in a camera may be off by a few per cent. */
const gravityMps2 = 9.80665;
const gravityPart = 0.1;

/**
 * The roll shows the way forward: this much acceleration for this long altogether, slower than any aeroplane flies or
 * raises its nose or tail by much (pitching turns gravity into the force).
 */
const rollMps2 = 0.8;
const rollFastestMps = 12;
const rollS = 3;
const changeHalfS = 0.5;

/** The receiver's speed is late by 0.2 to 1 s; clocks may add to that or take from it. */
const leastDelayS = -0.4;
const mostDelayS = 1.6;
const delayStepS = 0.1;

/** The forward force must follow the speed: bumps and the pitch of a tailwheel aeroplane keep it from being perfect. */
const leastCorrelation = 0.7;
const sizeRange = [0.6, 1.4] as const;

/** Averages over a fifth of a second, the middle of it counting most. */
const halfWidthS = 0.1;

/**
 * The force that a camera's accelerometer felt, in the axes of the aeroplane as it stands: up from the gravity at a
 * standstill, forward from the acceleration of the take-off roll (the part across "up" that goes with the change of ground
 * speed). Both less what they are standing. In flight they contain gravity turned by the pitch: 1.7 m/s2 forward at 10
 * degrees. A sentence that says why not, when the film shows no standstill of 5 s or no roll, or the camera was moved.
 *
 * @param filmStartS Unix time of the film's start; the receiver's delay is not taken out, so that force leads speed by it
 */
export function bodyAcceleration(force: BinnedForce, track: Track, filmStartS: number): BodyAcceleration | string {
  const speed = track.groundSpeedMps;
  if (!speed) return 'the recording has no speeds';
  const atRow = (row: number): Force | undefined => force.around(track.timeS[row] - filmStartS, halfWidthS);
  const standing = standingRows(track.timeS, speed);
  const still = axisMedians(standing.flatMap((row) => wrapped(atRow(row))));
  if (!still) return `the aeroplane never stands for ${standingS} s with a fix`;
  const size = Math.hypot(...still);
  if (Math.abs(size / gravityMps2 - 1) > gravityPart) {
    return `standing it shows ${size.toFixed(2)} m/s2, which is not gravity`;
  }
  const up = still.map((value) => value / size);
  const forward = forwardAxis(force, track, filmStartS, still, up);
  if (typeof forward === 'string') return forward;
  const n = track.timeS.length;
  const forwardMps2 = new Float64Array(n).fill(Number.NaN);
  const upMps2 = new Float64Array(n).fill(Number.NaN);
  for (let row = 0; row < n; row++) {
    const felt = atRow(row);
    if (!felt) continue;
    forwardMps2[row] = dot(felt, forward.axis) - dot(still, forward.axis);
    upMps2[row] = dot(felt, up) - size;
  }
  return { forwardMps2, upMps2, correlation: forward.correlation, delayS: forward.delayS };
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** Rows within standstills of at least 5 s, less a second at either end. */
function standingRows(timeS: Float64Array, speed: Float64Array): number[] {
  const rows: number[] = [];
  for (let from = 0; from < timeS.length; from++) {
    if (!(speed[from] < standingMps)) continue;
    let to = from;
    while (to + 1 < timeS.length && speed[to + 1] < standingMps && timeS[to + 1] - timeS[to] < 2) to++;
    if (timeS[to] - timeS[from] >= standingS) {
      for (let row = from; row <= to; row++) {
        if (timeS[row] - timeS[from] >= 1 && timeS[to] - timeS[row] >= 1) rows.push(row);
      }
    }
    from = to;
  }
  return rows;
}

function wrapped<T>(value: T | undefined): T[] {
  return value === undefined ? [] : [value];
}

function axisMedians(forces: readonly Force[]): [number, number, number] | undefined {
  if (forces.length === 0) return undefined;
  const [x, y, z] = [0, 1, 2].map((axis) => median(forces.map((force) => force[axis])));
  return [x, y, z];
}

/** The direction across "up" whose force goes with the change of the ground speed, by least squares, at the best delay. */
function forwardAxis(
  force: BinnedForce,
  track: Track,
  filmStartS: number,
  still: Force,
  up: readonly number[],
): { axis: readonly number[]; correlation: number; delayS: number } | string {
  const changes = speedChanges(track.timeS, track.groundSpeedMps ?? new Float64Array(0));
  const rolledS = changes.reduce((sum, { change, lastsS }) => sum + (change >= rollMps2 ? lastsS : 0), 0);
  if (rolledS < rollS) return 'there is no take-off roll in it';
  let best: { axis: readonly number[]; correlation: number; delayS: number; size: number } | undefined;
  for (let delayS = leastDelayS; delayS < mostDelayS + 0.01; delayS += delayStepS) {
    const seen: number[] = [];
    const across: number[][] = [];
    for (const { middleS, change } of changes) {
      const felt = force.around(middleS - filmStartS - delayS, changeHalfS);
      if (!felt) continue;
      const less = felt.map((value, axis) => value - still[axis]);
      const along = dot(less, up);
      across.push(less.map((value, axis) => value - along * up[axis]));
      seen.push(change);
    }
    const squares = seen.reduce((sum, change) => sum + change * change, 0);
    const vector = [0, 1, 2].map((axis) => across.reduce((sum, part, i) => sum + part[axis] * seen[i], 0) / squares);
    const size = Math.hypot(...vector);
    const axis = vector.map((value) => value / size);
    const correlation = correlated(
      seen,
      across.map((part) => dot(part, axis)),
    );
    if (correlation > (best?.correlation ?? Number.NEGATIVE_INFINITY)) best = { axis, correlation, delayS, size };
  }
  if (!best || !(best.size >= sizeRange[0] && best.size <= sizeRange[1] && best.correlation >= leastCorrelation)) {
    return `its force does not follow the speed in the roll (correlation ${(best?.correlation ?? 0).toFixed(2)}): it was moved, or is not fixed to the aeroplane`;
  }
  return best;
}

/** Changes of the ground speed over about a second, m/s2, while it is slow. */
function speedChanges(timeS: Float64Array, speed: Float64Array): { middleS: number; change: number; lastsS: number }[] {
  const found: { middleS: number; change: number; lastsS: number }[] = [];
  let low = 0;
  let high = 0;
  for (let row = 1; row < timeS.length; row++) {
    while (timeS[row] - timeS[low] > changeHalfS && low < row - 1) low++;
    high = Math.max(high, row);
    while (high + 1 < timeS.length && timeS[high] - timeS[row] < changeHalfS) high++;
    const spanS = timeS[high] - timeS[low];
    const change = (speed[high] - speed[low]) / spanS;
    if (!(spanS > 0.4 && spanS < 3.5 && speed[high] < rollFastestMps && speed[low] < rollFastestMps)) continue;
    if (!Number.isFinite(change)) continue;
    found.push({ middleS: (timeS[low] + timeS[high]) / 2, change, lastsS: Math.min(1, timeS[row] - timeS[row - 1]) });
  }
  return found;
}

function correlated(a: readonly number[], b: readonly number[]): number {
  const n = a.length;
  const meanA = a.reduce((sum, value) => sum + value, 0) / n;
  const meanB = b.reduce((sum, value) => sum + value, 0) / n;
  let [aa, bb, ab] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    aa += (a[i] - meanA) ** 2;
    bb += (b[i] - meanB) ** 2;
    ab += (a[i] - meanA) * (b[i] - meanB);
  }
  return ab / Math.sqrt(aa * bb);
}
