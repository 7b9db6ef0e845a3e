import { localPlane } from '../geo/local-plane.ts';
import { interpolated } from './interpolate-column.ts';
import type { Track } from './track.ts';

/** A quantity of a track at even times; `NaN` in gaps. */
export interface EvenSeries {
  readonly startS: number;
  readonly stepS: number;
  readonly values: Float64Array;
}

function evenTimes(track: Track, stepS: number): Float64Array {
  const startS = Math.ceil(track.timeS[0] / stepS) * stepS;
  const endS = track.timeS[track.timeS.length - 1];
  return Float64Array.from(
    { length: Math.max(0, Math.floor((endS - startS) / stepS) + 1) },
    (_, i) => startS + i * stepS,
  );
}

/**
 * Ground speed, m/s: the recorder's, or from positions two seconds apart where it wrote none; `undefined` where it has
 * neither. An airspeed does not stand for it: with the wind in the turns it fits other flights as well as its own (7 of 48
 * simulated pairs of different flights), and is half a second off where it fits.
 */
export function speedSeries(track: Track, stepS: number): EvenSeries | undefined {
  const times = evenTimes(track, stepS);
  const series = (values: Float64Array): EvenSeries => ({ startS: times[0] ?? Number.NaN, stepS, values });
  if (track.groundSpeedMps) return series(interpolated(track.timeS, track.groundSpeedMps, track.breaks, times));
  const first = track.latDeg.findIndex((value) => !Number.isNaN(value));
  if (first < 0) return undefined;
  const plane = localPlane(track.latDeg[first], track.lonDeg[first]);
  const places = Array.from(track.latDeg, (latDeg, row) => plane.toPlane(latDeg, track.lonDeg[row]));
  const east = Float64Array.from(places, ({ eastM }) => eastM);
  const north = Float64Array.from(places, ({ northM }) => northM);
  const at = (values: Float64Array, shiftS: number): Float64Array =>
    interpolated(
      track.timeS,
      values,
      track.breaks,
      times.map((timeS) => timeS + shiftS),
    );
  const [eastAfter, eastBefore, northAfter, northBefore] = [at(east, 1), at(east, -1), at(north, 1), at(north, -1)];
  return series(times.map((_, i) => Math.hypot(eastAfter[i] - eastBefore[i], northAfter[i] - northBefore[i]) / 2));
}

/** Height, metres, of the best altitude; `undefined` where the recording has none. Its datum does not matter here. */
export function heightSeries(track: Track, stepS: number): EvenSeries | undefined {
  const altitude = track.altitudes[0];
  if (!altitude) return undefined;
  const times = evenTimes(track, stepS);
  return {
    startS: times[0] ?? Number.NaN,
    stepS,
    values: interpolated(track.timeS, altitude.valuesM, track.breaks, times),
  };
}
