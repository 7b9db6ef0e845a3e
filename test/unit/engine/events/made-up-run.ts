import { Random } from '../../../synth/random.ts';
import { trackOf } from '../track/track-of.ts';
import type { Track } from '../../../../src/engine/track/track.ts';

/**
 * One take-off with a closed form: `dV/dt = a0 (1 - (V / Vmax)^2)` gives `V = Vmax tanh(a0 t / Vmax)` and
 * `S = Vmax^2 / a0 ln cosh(a0 t / Vmax)`; lift-off at a speed, then a climb whose vertical speed grows with `1 - exp(-u/T)`,
 * paid for by the acceleration. Standing before, climbing on after.
 */
export interface Run {
  readonly rateHz: number;
  readonly seed: string;
  readonly speedNoiseMps?: number;
  readonly withSpeed?: boolean;
  readonly verticalNoiseMps?: number;
  readonly positionNoiseM?: number;
  readonly positionWanderM?: number;
  readonly heightNoiseM?: number;
  readonly heightWanderM?: number;
  /** Pure lags of the recorder. */
  readonly speedLagS?: number;
  readonly positionLagS?: number;
  readonly heightLagS?: number;
  readonly slope?: number;
  readonly climbMps?: number;
  /** Seconds after the start that are missing. */
  readonly missing?: readonly [number, number];
}

export const liftoffMps = 28;
const mostMps = 42.6;
const startMps2 = 2.64;
export const liftoffAfterS = (mostMps / startMps2) * Math.atanh(liftoffMps / mostMps);
export const rollM = (mostMps ** 2 / startMps2) * Math.log(Math.cosh((startMps2 * liftoffAfterS) / mostMps));
const gravityMps2 = 9.80665;
const riseS = 1.5;
const standS = 40;
const climbS = 40;
/** Start of the roll, Unix time. */
export const startS = 1_700_000_000 + standS;

interface State {
  readonly pathM: number;
  readonly speedMps: number;
  readonly heightM: number;
  readonly climbMps: number;
}

/** True state every hundredth of a second from the start of the recording. */
function fly(run: Run): State[] {
  const step = 0.01;
  const states: State[] = [];
  let pathM = rollM;
  let speedMps = liftoffMps;
  let heightM = (run.slope ?? 0) * rollM;
  for (let index = 0; index <= (standS + liftoffAfterS + climbS) / step; index += 1) {
    const since = index * step - standS;
    if (since <= 0) states.push({ pathM: 0, speedMps: 0, heightM: 0, climbMps: 0 });
    else if (since <= liftoffAfterS) {
      const path = (mostMps ** 2 / startMps2) * Math.log(Math.cosh((startMps2 * since) / mostMps));
      const speed = mostMps * Math.tanh((startMps2 * since) / mostMps);
      states.push({
        pathM: path,
        speedMps: speed,
        heightM: (run.slope ?? 0) * path,
        climbMps: (run.slope ?? 0) * speed,
      });
    } else {
      const climb = (run.climbMps ?? 3.5) * (1 - Math.exp(-(since - liftoffAfterS) / riseS));
      const gain = startMps2 * (1 - (speedMps / mostMps) ** 2) - (gravityMps2 * climb) / speedMps;
      speedMps += gain * step;
      pathM += speedMps * step;
      heightM += (climb + (run.slope ?? 0) * speedMps) * step;
      states.push({ pathM, speedMps, heightM, climbMps: climb + (run.slope ?? 0) * speedMps });
    }
  }
  return states;
}

export function recordRun(run: Run): Track {
  const random = new Random(run.seed);
  const states = fly(run);
  const at = (seconds: number): State => states[Math.max(0, Math.min(states.length - 1, Math.round(seconds * 100)))];
  const wander = {
    east: random.normal(0, run.positionWanderM ?? 0),
    north: 0,
    up: random.normal(0, run.heightWanderM ?? 0),
  };
  const step = 1 / run.rateHz;
  const keepPosition = Math.exp(-step / 100);
  const keepHeight = Math.exp(-step / 60);
  const rows = [];
  const vertical: number[] = [];
  for (let index = 0; index * step < (states.length - 1) / 100; index += 1) {
    const time = index * step;
    wander.east =
      keepPosition * wander.east + random.normal(0, (run.positionWanderM ?? 0) * Math.sqrt(1 - keepPosition ** 2));
    wander.up = keepHeight * wander.up + random.normal(0, (run.heightWanderM ?? 0) * Math.sqrt(1 - keepHeight ** 2));
    const noise = (sigma = 0): number => random.normal(0, sigma);
    const row = {
      t: time,
      east: at(time - (run.positionLagS ?? 0)).pathM + wander.east + noise(run.positionNoiseM),
      north: noise(run.positionNoiseM),
      up: 100 + at(time - (run.heightLagS ?? 0)).heightM + wander.up + noise(run.heightNoiseM),
      ...(run.withSpeed === false
        ? {}
        : { speed: Math.max(0, at(time - (run.speedLagS ?? 0)).speedMps + noise(run.speedNoiseMps)) }),
    };
    const climb = at(time - (run.heightLagS ?? 0)).climbMps + noise(run.verticalNoiseMps);
    const missing = run.missing !== undefined && time - standS > run.missing[0] && time - standS < run.missing[1];
    if (missing) continue;
    rows.push(row);
    vertical.push(climb);
  }
  return trackOf(rows, run.verticalNoiseMps === undefined ? {} : { verticalSpeedMps: Float64Array.from(vertical) });
}
