import type { Phase } from '../analysis.ts';
import type { Track } from '../track/track.ts';
import type { PhaseKind } from '../../../shared/phase-kind.ts';

export interface FuelUse {
  /** Volume, m3, over the time that the recording covers. */
  readonly volumeM3: number;
  /** Seconds that the volume stands for. */
  readonly coveredS: number;
  /** Seconds of the phase that no value covers (gaps): their fuel is not in the volume. */
  readonly missingS: number;
  readonly from: 'fuel flow' | 'fuel used' | 'fuel quantity';
}

/** A step between samples longer than this is a gap: nothing is integrated across it, seconds. */
const gapS = 10;

/**
 * Fuel used between two instants from the best recorded channel: the counter of fuel used (difference), else the fuel flow (trapezoids), else
 * the quantity in the tanks (difference of means over 30 s: floats slosh). Nothing is integrated across a gap: it is told as missing.
 *
 * The calibration of the sensors is unknown: check against fills.
 * @returns undefined where no channel covers at least half of the time.
 */
export function fuelUsedBetween(track: Track, startS: number, endS: number): FuelUse | undefined {
  const { fuelUsedM3, fuelFlowM3ps, fuelQuantityM3 } = track.channels;
  if (!(endS > startS)) return undefined;
  for (const [values, of] of [
    [fuelUsedM3, counter],
    [fuelFlowM3ps, integral],
    [fuelQuantityM3, tanks],
  ] as const) {
    if (values === undefined) continue;
    const use = of(track.timeS, values, startS, endS);
    if (use !== undefined && use.coveredS >= 0.5 * (endS - startS)) return use;
  }
  return undefined;
}

/** Fuel by kind of phase over a recording; kinds without a usable channel are absent. */
export function fuelByPhase(track: Track, phases: readonly Phase[]): Partial<Record<PhaseKind, FuelUse>> {
  const result: Partial<Record<PhaseKind, FuelUse>> = {};
  for (const { kind, startS, endS } of phases) {
    const use = fuelUsedBetween(track, startS, endS);
    if (use === undefined) continue;
    const before = result[kind];
    result[kind] =
      before === undefined
        ? use
        : {
            volumeM3: before.volumeM3 + use.volumeM3,
            coveredS: before.coveredS + use.coveredS,
            missingS: before.missingS + use.missingS,
            from: before.from,
          };
  }
  return result;
}

function integral(timeS: Float64Array, values: Float64Array, startS: number, endS: number): FuelUse | undefined {
  let volumeM3 = 0;
  let coveredS = 0;
  let last = -1;
  for (let row = 0; row < timeS.length; row += 1) {
    if (!(values[row] >= 0)) continue;
    if (last >= 0) {
      const from = Math.max(startS, timeS[last]);
      const to = Math.min(endS, timeS[row]);
      const step = timeS[row] - timeS[last];
      if (to > from && step <= gapS) {
        const at = (t: number): number => values[last] + ((values[row] - values[last]) * (t - timeS[last])) / step;
        volumeM3 += ((at(from) + at(to)) / 2) * (to - from);
        coveredS += to - from;
      }
    }
    last = row;
    if (timeS[row] > endS) break;
  }
  if (coveredS === 0) return undefined;
  return { volumeM3, coveredS, missingS: endS - startS - coveredS, from: 'fuel flow' };
}

/** A counter keeps counting across a gap of the recording: only what lies beyond its first and last value is missing. A reset (a fall) refuses it. */
function counter(timeS: Float64Array, values: Float64Array, startS: number, endS: number): FuelUse | undefined {
  let first = -1;
  let last = -1;
  for (let row = 0; row < timeS.length; row += 1) {
    if (timeS[row] < startS || timeS[row] > endS || !Number.isFinite(values[row])) continue;
    if (first < 0) first = row;
    if (last >= 0 && values[row] < values[last] - 1e-9) return undefined;
    last = row;
  }
  if (first < 0 || last === first) return undefined;
  const coveredS = timeS[last] - timeS[first];
  return {
    volumeM3: values[last] - values[first],
    coveredS,
    missingS: endS - startS - coveredS,
    from: 'fuel used',
  };
}

function tanks(timeS: Float64Array, values: Float64Array, startS: number, endS: number): FuelUse | undefined {
  const settleS = 30;
  if (endS - startS < 10 * settleS) return undefined;
  const mean = (from: number, to: number): number => {
    let sum = 0;
    let count = 0;
    for (let row = 0; row < timeS.length; row += 1) {
      if (timeS[row] < from || timeS[row] > to || !(values[row] >= 0)) continue;
      sum += values[row];
      count += 1;
    }
    return sum / count;
  };
  const before = mean(startS, startS + settleS);
  const after = mean(endS - settleS, endS);
  if (!(before >= after)) return undefined;
  const coveredS = endS - startS - settleS;
  // The means stand half a settling time inside: the same rate is taken for the rest.
  return {
    volumeM3: ((before - after) * (endS - startS)) / coveredS,
    coveredS: endS - startS,
    missingS: 0,
    from: 'fuel quantity',
  };
}
