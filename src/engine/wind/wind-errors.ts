import type { Velocity } from './wind-triangle.ts';

/** Time and height of a ground velocity that is a mean over a leg, with what is known of its own error. */
export interface LegPoint {
  readonly timeS: number;
  readonly altitudeM: number;
  /** Standard deviation of its airspeed about the setting's, m/s: steadiness of the pilot, air that rises or sinks, gusts not averaged out. */
  readonly sigmaMps: number;
}

/**
 * How the wind changes: standard deviation 1.2 m/s a component with a memory of an hour and 1,000 m of height. Over an hour that is 1.4 m/s a component
 * (2 m/s of vector; upper-air studies find 2 to 3 m/s in an hour, from memory), over ten minutes 0.7 m/s, over 300 m of height 0.9 m/s.
 */
const windSigmaMps = 1.2;
const windTimeS = 3600;
const windHeightM = 1000;

/** Mean square difference of one component of the wind between two times and heights, (m/s)^2. */
export function windVariogram(secondsApart: number, metresApart: number): number {
  const away = Math.abs(secondsApart) / windTimeS + Math.abs(metresApart) / windHeightM;
  return 2 * windSigmaMps ** 2 * (1 - Math.exp(-away));
}

/**
 * Covariance of the radial errors of legs about a fit of one wind at a centre: their own errors, and the change of the wind between the centre and each
 * leg as far as it lies along the headings (intrinsic random function, as in kriging).
 */
export function legCovariance(
  legs: readonly LegPoint[],
  centre: { readonly timeS: number; readonly altitudeM: number },
) {
  const toCentre = legs.map((leg) => windVariogram(leg.timeS - centre.timeS, leg.altitudeM - centre.altitudeM));
  return (i: number, j: number, unitI: Velocity, unitJ: Velocity): number => {
    const between = windVariogram(legs[i].timeS - legs[j].timeS, legs[i].altitudeM - legs[j].altitudeM);
    const wind = 0.5 * (toCentre[i] + toCentre[j] - between) * dot2(unitI, unitJ);
    return wind + (i === j ? legs[i].sigmaMps ** 2 : 0);
  };
}

/**
 * In a continuous turn: gusts of 0.8 m/s with a memory of 10 s (a length of 500 m, the scale of gusts of the lower atmosphere); the airspeed, which
 * falls as the bank goes on, rises as it comes off and wanders with the height, 1 m/s (2 kt) with 40 s; and white noise. An airspeed that swings once
 * in the turn looks like wind and leaves no residual, so the assumed size must carry it.
 */
const gustSigmaMps = 0.8;
const gustTimeS = 10;
const airspeedSigmaMps = 1;
const airspeedTimeS = 40;

/** Covariance of the radial errors of instants of a turn. */
export function turnCovariance(timesS: readonly number[], noiseMps: number) {
  return (i: number, j: number, unitI: Velocity, unitJ: Velocity): number => {
    const apart = Math.abs(timesS[i] - timesS[j]);
    const gust = gustSigmaMps ** 2 * Math.exp(-apart / gustTimeS) * dot2(unitI, unitJ);
    const airspeed = airspeedSigmaMps ** 2 * Math.exp(-apart / airspeedTimeS);
    return gust + airspeed + (i === j ? noiseMps ** 2 : 0);
  };
}

function dot2(a: Velocity, b: Velocity): number {
  return a.eastMps * b.eastMps + a.northMps * b.northMps;
}
