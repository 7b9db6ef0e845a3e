import { median } from '../track/gaps.ts';
import type { CoarseSeries } from './coarse-series.ts';
import { airborneRiseM, type Flight, flyingSpeed, type SlowRun } from './ground-and-air.ts';
import type { RunCandidate } from './ground-run.ts';

/** A descent to a low height and a climb away from it, within one flight. */
export interface LowPass {
  /** Time of the lowest or slowest moment. */
  readonly timeS: number;
  readonly touches: boolean;
  /** Height of the runway as flown. */
  readonly groundAltitudeM: number;
  readonly departure: RunCandidate;
  /** In reversed time. */
  readonly arrival: RunCandidate;
}

/** A low pass counts when the flight was so much higher on both sides of it. */
const prominenceM = 30;
const nearFieldM = 3000;
/** Lower than this above a known field: on it, or a few feet off it (heights wander by metres). */
const nearGroundM = 12;
/** On the ground for at least so long, within so much of the lowest height. */
const plateauM = 4;
const plateauS = 2.5;
/** A touch costs speed before the power brings it back: a tenth of it at least, and 0.5 m/s2 for a second or more. */
const speedLoss = 0.1;
const brakingMps2 = 0.4;
const poweredMps2 = 0.5;

export function findTouches(series: CoarseSeries, flight: Flight, runs: readonly SlowRun[]): LowPass[] {
  const passes: LowPass[] = [];
  for (const low of lowPoints(series, flight)) {
    const pass = lowPass(series, flight, low, runs);
    if (pass !== undefined) passes.push(pass);
  }
  return passes;
}

/** Rows of local minima of height with the wanted prominence inside the airborne part. */
function lowPoints(series: CoarseSeries, flight: Flight): number[] {
  const { altitudeM } = series;
  const lows: number[] = [];
  let low = -1;
  let highSince = Number.NEGATIVE_INFINITY;
  let descending = false;
  for (let row = flight.firstAirborne; row <= flight.lastAirborne; row += 1) {
    const height = altitudeM[row];
    if (!Number.isFinite(height)) continue;
    if (!descending) {
      highSince = Math.max(highSince, height);
      if (height < highSince - prominenceM) {
        descending = true;
        low = row;
      }
      continue;
    }
    if (height < altitudeM[low]) low = row;
    if (height > altitudeM[low] + prominenceM) {
      lows.push(low);
      descending = false;
      highSince = height;
    }
  }
  return lows;
}

function lowPass(series: CoarseSeries, flight: Flight, low: number, runs: readonly SlowRun[]): LowPass | undefined {
  const { timeS, altitudeM, speedMps, accelerationMps2 } = series;
  const lowest = altitudeM[low];
  const bottom = rowsWithin(series, flight, low, plateauM);
  const field = knownField(series, low, runs);
  if (Number.isFinite(field) && lowest - field > nearGroundM)
    return undefinedUnlessLow(series, flight, low, lowest - field);
  const slowest = slowestRow(series, bottom.from, bottom.to);
  const lasted = timeS[bottom.to] - timeS[bottom.from];
  const before = flyingSpeed(series, Math.max(flight.firstAirborne, bottom.from - 5), 1);
  const loss = 1 - speedMps[slowest] / before;
  const braking = Math.min(...accelerationMps2.slice(bottom.from, slowest + 1));
  const powered = Math.max(...accelerationMps2.slice(slowest, bottom.to + 1));
  const touches = lasted >= plateauS && loss >= speedLoss && braking < -brakingMps2 && powered > poweredMps2;
  const heights = [];
  for (let row = bottom.from; row <= bottom.to; row += 1) {
    if (Number.isFinite(altitudeM[row]) && altitudeM[row] < lowest + 2.5) heights.push(altitudeM[row]);
  }
  const ground = median(heights);
  const up = crossing(series, flight, slowest, ground + airborneRiseM, 1);
  const down = crossing(series, flight, slowest, ground + airborneRiseM, -1);
  return {
    timeS: timeS[slowest],
    touches,
    groundAltitudeM: ground,
    departure: {
      slowS: timeS[slowest],
      airborneS: timeS[up],
      flyingMps: flyingSpeed(series, up, 1),
      groundAltitudeM: ground,
      notBeforeS: timeS[slowest],
      turnedS: timeS[slowest],
    },
    arrival: {
      slowS: -timeS[slowest],
      airborneS: -timeS[down],
      flyingMps: flyingSpeed(series, down, -1),
      groundAltitudeM: ground,
      notBeforeS: -timeS[slowest],
      turnedS: -timeS[slowest],
    },
  };
}

/** A pass near a known field but not down on it is a go-around when it was an approach: under 150 m above it. */
function undefinedUnlessLow(series: CoarseSeries, flight: Flight, low: number, aboveM: number): LowPass | undefined {
  if (aboveM > 150) return undefined;
  const at = series.timeS[low];
  const nothing: RunCandidate = {
    slowS: at,
    airborneS: at,
    flyingMps: flyingSpeed(series, Math.min(low, flight.lastAirborne), 1),
    groundAltitudeM: series.altitudeM[low] - aboveM,
    notBeforeS: at,
    turnedS: at,
  };
  return {
    timeS: at,
    touches: false,
    groundAltitudeM: series.altitudeM[low] - aboveM,
    departure: nothing,
    arrival: nothing,
  };
}

function rowsWithin(series: CoarseSeries, flight: Flight, low: number, aboveM: number): { from: number; to: number } {
  const limit = series.altitudeM[low] + aboveM;
  let from = low;
  let to = low;
  while (from > flight.firstAirborne && !(series.altitudeM[from - 1] > limit)) from -= 1;
  while (to < flight.lastAirborne && !(series.altitudeM[to + 1] > limit)) to += 1;
  return { from, to };
}

function slowestRow(series: CoarseSeries, from: number, to: number): number {
  let slowest = from;
  for (let row = from; row <= to; row += 1) if (series.speedMps[row] < series.speedMps[slowest]) slowest = row;
  return slowest;
}

function crossing(series: CoarseSeries, flight: Flight, from: number, heightM: number, direction: 1 | -1): number {
  for (let row = from; row >= flight.firstAirborne && row <= flight.lastAirborne; row += direction) {
    if (series.altitudeM[row] > heightM) return row;
  }
  return direction === 1 ? flight.lastAirborne : flight.firstAirborne;
}

/** Height of a field known from standing on it, as the recorder saw it nearest in time; `NaN` if none is near. */
function knownField(series: CoarseSeries, row: number, runs: readonly SlowRun[]): number {
  let best = Number.NaN;
  let nearest = Number.POSITIVE_INFINITY;
  for (const run of runs) {
    const place = run.to - 1;
    const away = Math.hypot(series.eastM[row] - series.eastM[place], series.northM[row] - series.northM[place]);
    const apart = Math.abs(series.timeS[row] - series.timeS[place]);
    if (away < nearFieldM && apart < nearest && Number.isFinite(run.altitudeM)) {
      nearest = apart;
      best = run.altitudeM;
    }
  }
  return best;
}
