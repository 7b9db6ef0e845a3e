import { median } from '../../stats/sample.ts';
import type { Track } from '../../track/track.ts';
import type { BinnedForce } from './binned-force.ts';

/** Accelerations at the rows of a track, in the axes of the aeroplane as it stands. */
export interface BodyAcceleration {
  readonly forwardMps2: Float64Array;
  readonly upMps2: Float64Array;
  /** Of the forward force with the change of the ground speed, during rolls. */
  readonly correlation: number;
}

/** Slower than this for this long, a receiver shows an aeroplane that stands (noise of Doppler speed 0.05 to 0.15 m/s). */
const standingMps = 0.5;
const standingS = 5;

/** Standing, the force is that of gravity; a sensor in a camera may be off by a few per cent. */
const gravityMps2 = 9.80665;
const gravityPart = 0.1;

/** The roll shows the way forward: this much acceleration, below flying speed, for this long altogether. */
const rollMps2 = 1;
const rollFastestMps = 25;
const rollS = 3;

/**
 * The forward force must follow the speed: the receiver's speed is late by some tenths of a second and the pitch of a
 * tailwheel aeroplane changes in the roll, so that neither is perfect.
 */
const leastCorrelation = 0.7;
const sizeRange = [0.6, 1.4] as const;

/** Averages over a fifth of a second. */
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
  const atRow = (row: number): [number, number, number] | undefined =>
    force.around(track.timeS[row] - filmStartS, halfWidthS);
  const standing = standingRows(track.timeS, speed);
  const still = axisMedians(standing.flatMap((row) => [atRow(row) ?? []]).filter((value) => value.length === 3));
  if (!still) return `the aeroplane never stands for ${standingS} s with a fix`;
  const size = Math.hypot(...still);
  if (Math.abs(size / gravityMps2 - 1) > gravityPart) {
    return `standing it shows ${size.toFixed(2)} m/s2, which is not gravity`;
  }
  const up = still.map((value) => value / size);
  const forward = forwardAxis(track.timeS, speed, atRow, still, up);
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
  return { forwardMps2, upMps2, correlation: forward.correlation };
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

function axisMedians(forces: readonly number[][]): [number, number, number] | undefined {
  if (forces.length === 0) return undefined;
  const [x, y, z] = [0, 1, 2].map((axis) => median(forces.map((force) => force[axis])));
  return [x, y, z];
}

/** The direction across "up" whose force goes with the change of the ground speed, by least squares. */
function forwardAxis(
  timeS: Float64Array,
  speed: Float64Array,
  atRow: (row: number) => [number, number, number] | undefined,
  still: readonly number[],
  up: readonly number[],
): { axis: readonly number[]; correlation: number } | string {
  const changes: number[] = [];
  const across: number[][] = [];
  let rolledS = 0;
  for (const { row, change, lastsS } of speedChanges(timeS, speed)) {
    const felt = atRow(row);
    if (!felt) continue;
    const less = felt.map((value, axis) => value - still[axis]);
    const along = dot(less, up);
    across.push(less.map((value, axis) => value - along * up[axis]));
    changes.push(change);
    if (change >= rollMps2) rolledS += lastsS;
  }
  if (rolledS < rollS) return 'there is no take-off roll in it';
  const squares = changes.reduce((sum, change) => sum + change * change, 0);
  const vector = [0, 1, 2].map((axis) => across.reduce((sum, part, i) => sum + part[axis] * changes[i], 0) / squares);
  const size = Math.hypot(...vector);
  const axis = vector.map((value) => value / size);
  const correlation = correlated(
    changes,
    across.map((part) => dot(part, axis)),
  );
  if (!(size >= sizeRange[0] && size <= sizeRange[1] && correlation >= leastCorrelation)) {
    return `its force does not follow the speed in the roll (correlation ${correlation.toFixed(2)}): it was moved, or is not fixed to the aeroplane`;
  }
  return { axis, correlation };
}

/** Changes of the ground speed over a second, m/s2, at rows on the ground (below flying speed). */
function speedChanges(timeS: Float64Array, speed: Float64Array): { row: number; change: number; lastsS: number }[] {
  const found: { row: number; change: number; lastsS: number }[] = [];
  let low = 0;
  let high = 0;
  for (let row = 1; row < timeS.length; row++) {
    while (timeS[row] - timeS[low] > 0.5 && low < row - 1) low++;
    high = Math.max(high, row);
    while (high + 1 < timeS.length && timeS[high] - timeS[row] < 0.5) high++;
    const spanS = timeS[high] - timeS[low];
    const change = (speed[high] - speed[low]) / spanS;
    if (!(spanS > 0.4 && spanS < 3.5 && speed[row] < rollFastestMps && Number.isFinite(change))) continue;
    found.push({ row, change, lastsS: Math.min(1, timeS[row] - timeS[row - 1]) });
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
