import { type CircleFit, fitWindCircle } from './fit-circle.ts';
import { turnCovariance } from './wind-errors.ts';
import type { Velocity } from './wind-triangle.ts';

export type TurnAnswer = { readonly fit: CircleFit } | { readonly refused: string };

/** Instants nearer than this are thinned out: they tell the same, and the matrix stays small. */
const stepS = 2;
const mostInstants = 120;
/** The assumed errors count as so many observations: as many as a turn of a minute and a half has independent residuals. */
const priorDegrees = 10;
/** Of the headings, radians: 260 degrees. */
const leastSpreadRad = (260 * Math.PI) / 180;

/**
 * Wind from the ground velocities of one continuous turn. The airspeed of the fit is that of the turn: bank takes some of it away at one power, so it is
 * not the airspeed of level runs.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 4, "orbit".
 * @param noiseMps One standard deviation of the white noise of a ground speed.
 */
export function windFromTurn(timesS: ArrayLike<number>, velocities: readonly Velocity[], noiseMps: number): TurnAnswer {
  const seconds = timesS[timesS.length - 1] - timesS[0];
  const step = Math.max(stepS, seconds / mostInstants);
  const times: number[] = [];
  const points: Velocity[] = [];
  velocities.forEach((velocity, i) => {
    if (!Number.isFinite(velocity.eastMps + velocity.northMps)) return;
    if (times.length > 0 && timesS[i] - times[times.length - 1] < step - 1e-6) return;
    times.push(timesS[i]);
    points.push(velocity);
  });
  if (points.length < 8) return { refused: 'Too few fixes in the turn.' };
  const noise = Number.isFinite(noiseMps) ? Math.max(noiseMps, 0.05) : 0.3;
  const answer = fitWindCircle(points, { covariance: turnCovariance(times, noise), priorDegrees, neverSmaller: true });
  if ('refused' in answer) return answer;
  if (answer.fit.headingSpreadRad < leastSpreadRad)
    return { refused: 'The turn has a break: its headings leave a gap.' };
  return answer;
}
