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
const pullKnotsS = [0, 0.8, 1.6, 2.4, 3.3, 4.3, 5.4, 6.6, 8, 10] as const;
const pullMemoryS = 1.5;
const laterPull: Prior = { mean: 0, sigma: 1 };

export interface FirstPull extends Prior {
  readonly weight: number;
}

/** A first pull within a factor of two of a typical one either way: log-normal, as a mixture of three. */
export function firstPullsAround(typicalMps2: number): readonly FirstPull[] {
  return [
    { mean: 0.5 * typicalMps2, sigma: 0.2 * typicalMps2, weight: 0.27 },
    { mean: typicalMps2, sigma: 0.35 * typicalMps2, weight: 0.46 },
    { mean: 2 * typicalMps2, sigma: 0.75 * typicalMps2, weight: 0.27 },
  ];
}

/**
 * How the change comes about. `onsetS`: over how long the first pull builds up. The drag of the lifted wing and the
 * friction of the wheels change from `beforeS` before lift-off to `afterS` after it: a brisk rotation at lift-off, a long
 * one before it, or hardly any (lifting off in the attitude of the roll).
 */
export const manners = [
  { onsetS: 0.3, beforeS: 0.8, afterS: 0.6, weight: 0.3 },
  { onsetS: 0.3, beforeS: 1.8, afterS: 0.8, weight: 0.35 },
  { onsetS: 1, beforeS: 0.8, afterS: 1, weight: 0.2 },
  { onsetS: 1, beforeS: 2.5, afterS: 1, weight: 0.15 },
] as const;
export type Manner = (typeof manners)[number];

/** Step of acceleration by rotation and freed wheels, its recovery as the pull ends, and the pulls. */
export function liftoffEffects(grid: PathGrid, liftoffS: number, manner: Manner): Effect[] {
  const count = grid.length;
  const step = new Float64Array(count);
  const recovery = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    const after = grid.timeS[index] - liftoffS;
    const ramp = Math.max(0, Math.min(1, (after + manner.beforeS) / (manner.beforeS + manner.afterS)));
    step[index] = ramp * ramp * (3 - 2 * ramp);
    recovery[index] = after > 1 ? 1 - Math.exp(-(after - 1) / 2) : 0;
  }
  const effects: Effect[] = [{ acceleration: step }, { acceleration: recovery }];
  const together = 1 / (1 / pullMemoryS + 1 / manner.onsetS);
  for (const [pull, knotS] of pullKnotsS.entries()) {
    const vertical = new Float64Array(count);
    for (let index = 0; index < count; index += 1) {
      const after = grid.timeS[index] - liftoffS - knotS;
      if (after <= 0) continue;
      vertical[index] = pullMemoryS * (1 - Math.exp(-after / pullMemoryS));
      if (pull === 0) vertical[index] -= together * (1 - Math.exp(-after / together));
    }
    // What goes into height is missing from the speed: dV/dt = ... - g w / V.
    const acceleration = vertical.map((w, index) => (-gravityMps2 * w) / grid.speedMps[index]);
    effects.push({ acceleration, vertical });
  }
  return effects;
}

export function liftoffPriors(step: Prior, firstPull: Prior): Prior[] {
  return [step, { mean: 0.1, sigma: 0.25 }, ...pullKnotsS.map((_, pull) => (pull === 0 ? firstPull : laterPull))];
}
