import type { Problem } from '../../../shared/problem.ts';
import { localPlane } from '../geo/local-plane.ts';
import { cleanTrack } from './clean.ts';
import { findCoverage } from './gaps.ts';
import { localFit, type Stretch } from './local-fit.ts';
import type { Motion } from './motion.ts';
import { fastNoise } from './noise.ts';
import { checkSpeed, type SpeedCheck } from './speed-check.ts';
import type { AltitudeColumn, Track } from './track.ts';

export interface DerivedMotion {
  readonly motion: Motion;
  readonly problems: readonly Problem[];
}

/** Half widths of the windows of the local fits, seconds. */
/** Two fixes on each side where sampling is dense enough for that, one where it is coarse. */
const velocityWindow = { halfWidthS: 1.6, samplesEachSide: 2, coarseS: 3, widestS: 40 } as const;
const accelerationHalfS = 1.6;
const verticalHalfS = 3.5;
const turnHalfS = 2.5;
/** Slower than this no direction of motion can be told from wandering positions. */
const slowestTrackMps = 2;
/** Receiver and positions must agree within this share, or the receiver's speed is not what it seems (a wrong unit is off by 1.15 or more). */
const speedTolerance = 0.08;

/**
 * Cleans a track and works out its motion: what every finder of events stands on. Never throws; a track without a usable
 * fix gives empty stretches. Times of the columns are those of the recording; receivers are late by some tenths of a
 * second, which is for the finders of events to allow for.
 */
export function deriveMotion(track: Track): DerivedMotion {
  const cleaned = cleanTrack(track);
  const problems: Problem[] = [...cleaned.problems];
  const { timeS, latDeg, lonDeg, breaks } = cleaned.track;
  const length = timeS.length;
  const coverage = findCoverage(timeS, (row) => Number.isFinite(latDeg[row]), breaks);
  const first = coverage.stretches[0]?.from ?? -1;
  const originLatDeg = first < 0 ? Number.NaN : latDeg[first];
  const originLonDeg = first < 0 ? Number.NaN : lonDeg[first];
  const plane = localPlane(originLatDeg, originLonDeg);
  const eastM = new Float64Array(length).fill(Number.NaN);
  const northM = new Float64Array(length).fill(Number.NaN);
  for (let row = 0; row < length; row += 1) {
    if (Number.isNaN(latDeg[row])) continue;
    const place = plane.toPlane(latDeg[row], lonDeg[row]);
    eastM[row] = place.eastM;
    northM[row] = place.northM;
  }

  const { stretches, gaps, rateHz } = coverage;
  const speed = chooseSpeed(cleaned.track, eastM, northM, stretches, problems);
  const groundSpeedMps = speed.valuesMps;
  const moving = (row: number): boolean => groundSpeedMps[row] > 5;

  const trackRad = directionOfMotion(cleaned.track, speed, length);
  const altitude = chooseAltitude(cleaned.track, problems);
  const pressure = cleaned.track.altitudes.find((column) => column.kind === 'pressure' && hasValues(column));
  const unwrapped = unwrap(trackRad, stretches);

  const east = fastNoise(timeS, eastM, stretches, moving, 0);
  const north = fastNoise(timeS, northM, stretches, moving, 0);
  const motion: Motion = {
    timeS,
    eastM,
    northM,
    originLatDeg,
    originLonDeg,
    altitudeM: altitude.valuesM,
    altitudeKind: altitude.kind,
    altitudeResolutionM: altitude.resolutionM ?? 0,
    ...(pressure === undefined ? {} : { pressureAltitudeM: pressure.valuesM }),
    groundSpeedMps,
    speedSource: speed.source,
    speedNoiseMps: speed.noiseMps,
    altitudeNoiseM: fastNoise(timeS, altitude.valuesM, stretches, moving, altitude.resolutionM ?? 0),
    positionNoiseM: Math.max(Math.hypot(east, north) / Math.SQRT2, (track.positionResolutionM ?? 0) / Math.sqrt(12)),
    ...(speed.check === undefined || speed.source !== 'receiver'
      ? {}
      : { speedLagS: { value: speed.check.lagS, sigma: speed.check.lagSigmaS } }),
    trackRad,
    ...(cleaned.track.verticalSpeedMps !== undefined && hasNumbers(cleaned.track.verticalSpeedMps)
      ? { recordedVerticalSpeedMps: cleaned.track.verticalSpeedMps }
      : {}),
    verticalSpeedMps: localFit(timeS, altitude.valuesM, stretches, { halfWidthS: verticalHalfS }).slope,
    accelerationMps2: localFit(timeS, groundSpeedMps, stretches, { halfWidthS: accelerationHalfS }).slope,
    turnRateRadps: localFit(timeS, unwrapped, stretches, { halfWidthS: turnHalfS }).slope,
    ...forceOf(cleaned.track),
    stretches,
    gaps,
    rateHz,
  };
  return { motion, problems };
}

function forceOf(track: Track): Pick<Motion, 'force'> {
  const { accelerationForwardMps2: forwardMps2 } = track.channels;
  return forwardMps2 === undefined ? {} : { force: { forwardMps2 } };
}

interface ChosenSpeed {
  readonly valuesMps: Float64Array;
  readonly source: Motion['speedSource'];
  readonly noiseMps: number;
  readonly check?: SpeedCheck;
  readonly eastMps: Float64Array;
  readonly northMps: Float64Array;
}

function chooseSpeed(
  track: Track,
  eastM: Float64Array,
  northM: Float64Array,
  stretches: readonly Stretch[],
  problems: Problem[],
): ChosenSpeed {
  const { timeS } = track;
  const eastMps = localFit(timeS, eastM, stretches, velocityWindow).slope;
  const northMps = localFit(timeS, northM, stretches, velocityWindow).slope;
  const differenced = eastMps.map((east, row) => Math.hypot(east, northMps[row]));
  const recorded = track.groundSpeedMps;
  const fixes = count(eastM);
  if (recorded !== undefined) {
    const present = count(recorded);
    const check = checkSpeed(timeS, eastM, northM, recorded, stretches);
    if (present < 0.5 * fixes) {
      problems.push({
        code: 'speed-mostly-missing',
        severity: 'warning',
        message: `The recorded speed is present in ${present} of ${fixes} fixes only; speed was worked out from the positions.`,
      });
    } else if (check !== undefined && Math.abs(check.ratio - 1) > speedTolerance) {
      problems.push({
        code: 'speed-disagrees-with-positions',
        severity: 'warning',
        message: `The positions move ${check.ratio.toFixed(3)} times as fast as the recorded speed says (a wrong unit?); speed was worked out from the positions.`,
      });
    } else {
      const noiseMps = fastNoise(timeS, recorded, stretches, (row) => recorded[row] > 5, track.speedResolutionMps);
      return {
        valuesMps: recorded,
        source: 'receiver',
        noiseMps,
        ...(check === undefined ? {} : { check }),
        eastMps,
        northMps,
      };
    }
  }
  return {
    valuesMps: differenced,
    source: 'differenced',
    noiseMps: fastNoise(timeS, differenced, stretches, (row) => differenced[row] > 5),
    eastMps,
    northMps,
  };
}

/** The receiver's direction of motion where it wrote one, else that of the fitted velocity; 0..2 pi, `NaN` while slow. */
function directionOfMotion(track: Track, speed: ChosenSpeed, length: number): Float64Array {
  const direction = new Float64Array(length).fill(Number.NaN);
  const recorded = track.trackRad !== undefined && hasNumbers(track.trackRad) ? track.trackRad : undefined;
  for (let row = 0; row < length; row += 1) {
    if (!(speed.valuesMps[row] > slowestTrackMps) || Number.isNaN(track.latDeg[row])) continue;
    const angle = recorded?.[row] ?? Math.atan2(speed.eastMps[row], speed.northMps[row]);
    const full = 2 * Math.PI;
    direction[row] = ((angle % full) + full) % full;
  }
  return direction;
}

/** The first geometric altitude with values in at least half of its rows, else the fullest column. */
function chooseAltitude(track: Track, problems: Problem[]): AltitudeColumn {
  const fixes = count(track.latDeg);
  const half = 0.5 * (fixes / Math.max(1, track.latDeg.length));
  const geometric = track.altitudes.filter((column) => column.kind !== 'pressure');
  const good = geometric.find((column) => shareOf(column) >= half);
  if (good !== undefined) return good;
  const fullest = [...track.altitudes].sort((a, b) => shareOf(b) - shareOf(a))[0];
  if (fullest !== undefined && shareOf(fullest) > 0) {
    if (fullest.kind === 'pressure') {
      problems.push({
        code: 'altitude-pressure-only',
        severity: 'info',
        message:
          'There is no usable geometric altitude; pressure altitude is used, whose differences depend on temperature.',
      });
    }
    return fullest;
  }
  problems.push({
    code: 'altitude-missing',
    severity: 'warning',
    message: 'The recording has no usable altitude: no climb, no obstacle distance, and lift-off only roughly.',
  });
  return { kind: 'unknown', valuesM: new Float64Array(track.timeS.length).fill(Number.NaN) };
}

function shareOf(column: AltitudeColumn): number {
  return count(column.valuesM) / Math.max(1, column.valuesM.length);
}

function count(values: Float64Array): number {
  let finite = 0;
  for (const value of values) if (Number.isFinite(value)) finite += 1;
  return finite;
}

function hasNumbers(values: Float64Array): boolean {
  return values.some((value) => Number.isFinite(value));
}

function hasValues(column: AltitudeColumn): boolean {
  return hasNumbers(column.valuesM);
}

/** Directions without the step at north; starts anew in each stretch, and keeps `NaN`. */
function unwrap(trackRad: Float64Array, stretches: readonly Stretch[]): Float64Array {
  const result = trackRad.slice();
  for (const stretch of stretches) {
    let last = Number.NaN;
    for (let row = stretch.from; row < stretch.to; row += 1) {
      const angle = result[row];
      if (Number.isNaN(angle)) continue;
      if (Number.isFinite(last)) result[row] = angle - 2 * Math.PI * Math.round((angle - last) / (2 * Math.PI));
      last = result[row];
    }
  }
  return result;
}
