import type { WindEstimate } from '../analysis.ts';
import {
  isInTroposphere,
  pressureAtPressureAltitudePa,
  standardTemperatureK,
  trueFromCalibratedMps,
} from '../atmosphere/index.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { velocityTowards } from '../wind/wind-triangle.ts';
import { unknownWindDifferenceSigma, windAloft } from './wind-aloft.ts';

/** True airspeed, row by row, with where it is from. */
export interface AirspeedColumn {
  readonly tasMps: Float64Array;
  /** 'recorded' true airspeed; 'indicated' airspeed turned into true; 'wind': ground velocity less an estimated wind; 'ground' speed itself. */
  readonly source: 'recorded' | 'indicated' | 'wind' | 'ground';
  /** Standard deviation, m/s, that unknown wind adds to the difference of airspeeds at two heights; 0 for the aeroplane's own instruments. */
  windDifferenceSigmaMps(lowM: number, highM: number): number;
  readonly remarks: readonly string[];
}

/** A channel counts when it is there in at least this share of the rows in flight. */
const enough = 0.5;

/**
 * The best true airspeed that a recording gives: its own; else from indicated airspeed, pressure altitude and temperature (position error unknown); else
 * the ground velocity less the estimated wind of the height; else the ground speed.
 */
export function airspeedColumn(motion: Motion, track: Track, winds: readonly WindEstimate[]): AirspeedColumn {
  const recorded = recordedAirspeed(motion, track);
  if (recorded !== undefined) return recorded;
  const wind = windAloft(motion, winds);
  const { timeS, groundSpeedMps, trackRad } = motion;
  if (wind === undefined) {
    return {
      tasMps: groundSpeedMps,
      source: 'ground',
      windDifferenceSigmaMps: unknownWindDifferenceSigma(motion),
      remarks: ['No airspeed and no wind: ground speed stands for it.'],
    };
  }
  const tasMps = new Float64Array(timeS.length).fill(Number.NaN);
  for (let row = 0; row < timeS.length; row += 1) {
    if (!Number.isFinite(groundSpeedMps[row]) || Number.isNaN(trackRad[row])) continue;
    const air = wind.at(timeS[row], motion.altitudeM[row]);
    const ground = velocityTowards(trackRad[row], groundSpeedMps[row]);
    tasMps[row] = Math.hypot(ground.eastMps - air.eastMps, ground.northMps - air.northMps);
  }
  return { tasMps, source: 'wind', windDifferenceSigmaMps: wind.differenceSigmaMps, remarks: [] };
}

/** True airspeed from what the aeroplane's own instruments wrote, if they did. */
export function recordedAirspeed(motion: Motion, track: Track): AirspeedColumn | undefined {
  const { trueAirspeedMps, indicatedAirspeedMps, outsideAirTemperatureK } = track.channels;
  const flying = (row: number): boolean => motion.groundSpeedMps[row] > 15;
  if (trueAirspeedMps !== undefined && share(trueAirspeedMps, flying) >= enough) {
    return {
      tasMps: trueAirspeedMps,
      source: 'recorded',
      windDifferenceSigmaMps: noWind,
      remarks: ['True airspeed as recorded: its sensor errors are unknown.'],
    };
  }
  if (indicatedAirspeedMps === undefined || share(indicatedAirspeedMps, flying) < enough) return undefined;
  const remarks = ['From indicated airspeed: the position error is unknown and not corrected.'];
  const heights = motion.pressureAltitudeM ?? motion.altitudeM;
  if (motion.pressureAltitudeM === undefined && motion.altitudeKind !== 'pressure') {
    remarks.push(
      'No pressure altitude recorded: the satellite height stands for it (30 hPa away from standard is 1.5 % of airspeed).',
    );
  }
  if (outsideAirTemperatureK === undefined)
    remarks.push('No air temperature recorded: standard temperature (10 K is 1.7 % of airspeed).');
  const tasMps = new Float64Array(motion.timeS.length).fill(Number.NaN);
  for (let row = 0; row < tasMps.length; row += 1) {
    const height = heights[row];
    const indicated = indicatedAirspeedMps[row];
    if (!(indicated >= 0) || !isInTroposphere(height)) continue;
    const temperatureK =
      outsideAirTemperatureK === undefined ? standardTemperatureK(height) : outsideAirTemperatureK[row];
    if (!(temperatureK > 200 && temperatureK < 330)) continue;
    tasMps[row] = trueFromCalibratedMps(indicated, pressureAtPressureAltitudePa(height), temperatureK);
  }
  return { tasMps, source: 'indicated', windDifferenceSigmaMps: noWind, remarks };
}

function noWind(): number {
  return 0;
}

function share(values: Float64Array, use: (row: number) => boolean): number {
  let rows = 0;
  let finite = 0;
  for (let row = 0; row < values.length; row += 1) {
    if (!use(row)) continue;
    rows += 1;
    if (Number.isFinite(values[row])) finite += 1;
  }
  return rows === 0 ? 0 : finite / rows;
}
