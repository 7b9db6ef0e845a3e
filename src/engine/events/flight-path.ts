import type { Prior } from './linear-gaussian.ts';
import type { PathGrid } from './path-grid.ts';

/**
 * The path of an aeroplane around lift-off, as effects on its acceleration and its vertical speed that are linear in
 * their sizes once the instant of lift-off is given.
 */
export interface Effect {
  /** On the acceleration along the ground, m/s2 for a unit of the parameter, on the grid. */
  readonly acceleration?: Float64Array;
  /** On the vertical speed relative to the slope of the runway, m/s. */
  readonly vertical?: Float64Array;
}

const gravityMps2 = 9.80665;

/**
 * The vertical acceleration after lift-off: pulls at these times, each fading with `pullMemoryS` (an Ornstein-Uhlenbeck
 * process seen at the knots). A pilot pulls 0.1 to 0.4 g at lift-off, for a second or two, and corrects after that.
 */
const firstKnotsS = [0, 0.8, 1.6, 2.4, 3.3, 4.3, 5.4, 6.6, 8, 10] as const;
const laterKnotStepS = 2.2;
const pullMemoryS = 1.5;
/** Later pulls are of the size of the first one; well above the ground turbulence adds to them. */
const laterShare = 0.4;
const laterAtLeastMps2 = 0.2;
const turbulentFromS = 4;
const turbulentMps2 = 0.8;

export interface FirstPull extends Prior {
  readonly weight: number;
  readonly typicalMps2: number;
}

/** A first pull within a factor of two of a typical one either way: log-normal, as a mixture of three. */
export function firstPullsAround(typicalMps2: number): readonly FirstPull[] {
  const around = (factor: number, weight: number): FirstPull => {
    const middle = factor * typicalMps2;
    return { mean: middle, sigma: 0.38 * middle, weight, typicalMps2: middle };
  };
  return [around(0.5, 0.25), around(1, 0.4), around(2, 0.25), around(4, 0.1)];
}

/**
 * How the change comes about. `onsetS`: over how long the first pull builds up (lift passes the weight at 0.15 of it a
 * second by the growing speed alone, at twice to three times that when the pilot rotates: half a second and less). The drag of the lifted wing and the
 * friction of the wheels change from `beforeS` before lift-off to `afterS` after it: a brisk rotation at lift-off, a long
 * one before it, or hardly any (lifting off in the attitude of the roll).
 */
export const takeoffManners: readonly Manner[] = [
  { onsetS: 0.25, beforeS: 0.8, afterS: 0.6, weight: 0.22 },
  { onsetS: 0.25, beforeS: 1.6, afterS: 0.7, weight: 0.4 },
  { onsetS: 0.5, beforeS: 1.2, afterS: 0.9, weight: 0.16 },
  { onsetS: 0.5, beforeS: 2.5, afterS: 0.9, weight: 0.1 },
  // Nose raised early and held there until the aeroplane flies.
  { onsetS: 0.25, beforeS: 3.2, afterS: -2, weight: 0.03 },
  { onsetS: 0.25, beforeS: 4.7, afterS: -3.5, weight: 0.03 },
  { onsetS: 0.25, beforeS: 6.2, afterS: -5, weight: 0.03 },
  { onsetS: 0.25, beforeS: 7.7, afterS: -6.5, weight: 0.03 },
];

/**
 * A landing backwards: the deceleration of the rolling aeroplane builds up over some seconds after touchdown, as the wing
 * lets the weight down on the wheels and the pilot begins to brake; touchdown itself hardly shows in the speed.
 */
export const landingManners: readonly Manner[] = [
  { onsetS: 0.5, beforeS: 1.2, afterS: 0.4, weight: 0.2 },
  { onsetS: 0.5, beforeS: 2.5, afterS: 0.4, weight: 0.3 },
  { onsetS: 0.5, beforeS: 4, afterS: 0.4, weight: 0.3 },
  { onsetS: 0.5, beforeS: 6, afterS: 0.4, weight: 0.2 },
];

export interface Manner {
  readonly onsetS: number;
  readonly beforeS: number;
  readonly afterS: number;
  readonly weight: number;
}

/**
 * Induced drag goes with the square of the load: a pull of dn costs 2 dn times the induced drag of level flight, which at
 * lift-off is some 5 % of the weight (lift coefficient 1.3, aspect ratio 7, half taken off by the nearness of the ground).
 */
const pullDrag = 0.1;

/** Times of the later pulls that cover so many seconds after lift-off. */
export function laterKnots(lastingS: number): number[] {
  const knots: number[] = firstKnotsS.slice(1).filter((knot) => knot < lastingS);
  for (let knot = firstKnotsS[firstKnotsS.length - 1] + laterKnotStepS; knot < lastingS; knot += laterKnotStepS)
    knots.push(knot);
  return knots;
}

/** Drag comes down again as the pull ends and the speed grows. */
export function recoveryEffect(grid: PathGrid, liftoffS: number): Effect {
  const recovery = new Float64Array(grid.length);
  for (let index = 0; index < grid.length; index += 1) {
    const after = grid.timeS[index] - liftoffS;
    recovery[index] = after > 1 ? 1 - Math.exp(-(after - 1) / 2) : 0;
  }
  return { acceleration: recovery };
}

/** A vertical speed that is there at once: that of touching down. */
export function sinkEffect(grid: PathGrid, liftoffS: number): Effect {
  return { vertical: grid.timeS.map((time) => (time > liftoffS ? 1 : 0)) };
}

/** Drag of the raised wing and friction of the wheels: a smooth step around lift-off. */
export function stepEffect(grid: PathGrid, liftoffS: number, manner: Manner): Effect {
  const step = new Float64Array(grid.length);
  for (let index = 0; index < grid.length; index += 1) {
    const after = grid.timeS[index] - liftoffS;
    const ramp = Math.max(0, Math.min(1, (after + manner.beforeS) / (manner.beforeS + manner.afterS)));
    step[index] = ramp * ramp * (3 - 2 * ramp);
  }
  return { acceleration: step };
}

/** A pull from a moment on; with an onset it also builds up. */
export function pullEffect(grid: PathGrid, fromS: number, onsetS?: number): Effect {
  const vertical = new Float64Array(grid.length);
  const acceleration = new Float64Array(grid.length);
  const together = onsetS === undefined ? 0 : 1 / (1 / pullMemoryS + 1 / onsetS);
  const first = Math.max(0, Math.floor((fromS - grid.startS) / grid.stepS));
  for (let index = first; index < grid.length; index += 1) {
    const after = grid.timeS[index] - fromS;
    if (after <= 0) continue;
    const fading = Math.exp(-after / pullMemoryS);
    let pull = fading;
    let rate = pullMemoryS * (1 - fading);
    if (together > 0) {
      const building = Math.exp(-after / together);
      pull -= building;
      rate -= together * (1 - building);
    }
    vertical[index] = rate;
    // What goes into height is missing from the speed, dV/dt = ... - g w / V, and pulling costs induced drag.
    acceleration[index] = (-gravityMps2 * rate) / grid.speedMps[index] - pullDrag * pull;
  }
  return { acceleration, vertical };
}

/** Priors in the order: recovery, sink, later pulls, step, first pull. */
export function liftoffPriors(step: Prior, sink: Prior, firstPull: FirstPull, knotsS: readonly number[]): Prior[] {
  const later = knotsS.map((knotS) => ({
    mean: 0,
    sigma: Math.hypot(laterAtLeastMps2, laterShare * firstPull.typicalMps2, knotS > turbulentFromS ? turbulentMps2 : 0),
  }));
  return [{ mean: 0.1, sigma: 0.25 }, sink, ...later, step, firstPull];
}
