import { median } from '../stats/sample.ts';
import type { CoarseSeries } from './coarse-series.ts';
import { airborneRiseM, type Flight, flyingSpeed, type SlowRun } from './ground-and-air.ts';
import type { RunCandidate } from './ground-run.ts';
import type { Prior } from './linear-gaussian.ts';

/** A descent to a low height and a climb away from it, within one flight. */
export interface LowPass {
  /** Time of the lowest or slowest moment. */
  readonly timeS: number;
  readonly touches: boolean;
  /** Height of the runway as flown. */
  readonly groundAltitudeM: number;
  /** The take-off part; only of a touch. */
  readonly departure?: RunCandidate;
  /** Where the wheels met the ground, roughly: from the end of the descent. Only of a touch. */
  readonly touchdown?: Prior;
}

/** A low pass counts when the flight was so much higher on both sides of it. */
const prominenceM = 30;
const nearFieldM = 3000;
/** Lower than this above a known field: on it, or a few feet off it (heights wander by metres). */
const nearGroundM = 12;
/** On the ground for at least so long, within so much of the lowest height. */
const plateauM = 4;
const plateauS = 2.5;
/**
 * Flaring with the power off and rolling cost a twelfth of the speed or more before the power stops the loss; whoever goes
 * around without touching has the power on before. Where the height of the field is not known, the speed must also rise.
 */
const speedLoss = 0.08;
const brakingMps2 = 0.4;
const losingMps2 = 0.25;
const newRunMps2 = 0.7;
const straightRad = 0.2;
const gravityMps2 = 9.80665;
const flareM = 2;
const flareS = 1.5;
const touchdownSigmaS = 1.8;
/** Over ground of unknown height the signs must be plain: a fifth of the speed lost and power that brings it back. */
const unknownField = { speedLoss: 0.2, brakingMps2: 0.6, poweredMps2: 0.6, prominenceM: 60 } as const;

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
  // Interrupted there, nothing can be told.
  if (series.stretch[bottom.from] !== series.stretch[bottom.to]) return undefined;
  const field = knownField(series, low, runs);
  if (Number.isFinite(field) && lowest - field > nearGroundM) return lowOverField(series, low, lowest - field);
  const slowest = slowestRow(series, bottom.from, Math.min(bottom.to + 3, flight.lastAirborne));
  const lasted = timeS[bottom.to] - timeS[bottom.from];
  const before = flyingSpeed(series, Math.max(flight.firstAirborne, bottom.from - 5), 1);
  const loss = 1 - speedMps[slowest] / before;
  const braking = Math.min(...accelerationMps2.slice(bottom.from, slowest + 1));
  // With a plain new run the power comes at the slowest moment; else it shows in the energy only.
  const newRun = strongest(series, slowest, flight.lastAirborne) > newRunMps2;
  const turned = newRun
    ? slowest
    : powerRow(series, bottom.from, Math.min(Math.max(bottom.to, slowest) + 4, flight.lastAirborne));
  const touches = lasted >= plateauS && loss >= speedLoss && braking < -brakingMps2 && turned !== undefined;
  const confirmed =
    Number.isFinite(field) ||
    (loss >= unknownField.speedLoss &&
      braking < -unknownField.brakingMps2 &&
      strongest(series, slowest, flight.lastAirborne) > unknownField.poweredMps2 &&
      losesEnergyLevel(series, bottom.from, slowest) &&
      straight(series, bottom.from, slowest) &&
      higherAround(series, flight, low, unknownField.prominenceM));
  const heights = [];
  for (let row = bottom.from; row <= bottom.to; row += 1) {
    if (Number.isFinite(altitudeM[row]) && altitudeM[row] < lowest + 2.5) heights.push(altitudeM[row]);
  }
  const ground = median(heights);
  if (!touches || !confirmed) {
    // A low point over unknown ground may be a thermal or a valley: only over a known field is it a go-around.
    return Number.isFinite(field) ? { timeS: timeS[slowest], touches: false, groundAltitudeM: field } : undefined;
  }
  const up = crossing(series, flight, turned, ground + airborneRiseM, 1);
  return {
    timeS: timeS[turned],
    touches: true,
    groundAltitudeM: ground,
    departure: {
      slowS: timeS[turned],
      airborneS: timeS[up],
      flyingMps: flyingSpeed(series, up, 1),
      groundAltitudeM: ground,
      notBeforeS: timeS[bottom.from],
      turnedS: timeS[turned],
    },
    touchdown: touchdownOf(series, bottom.from, turned, ground),
  };
}

/**
 * The row at which the power comes up: energy stops being lost (`dV/dt + g w / V` rises through zero for good), after
 * having been lost on the way.
 */
function powerRow(series: CoarseSeries, from: number, to: number): number | undefined {
  let last: number | undefined;
  for (let row = from; row <= to; row += 1) {
    if (energyGain(series, row) < -losingMps2) last = row;
  }
  return last === undefined || last >= to ? undefined : last;
}

/** Two or three feet up the flare is nearly done; the wheels touch a second or two later. */
function touchdownOf(series: CoarseSeries, from: number, turned: number, groundM: number): Prior {
  let low = from;
  while (low < turned && !(series.altitudeM[low] < groundM + flareM)) low += 1;
  const latest = series.timeS[turned] - 0.7;
  return { mean: Math.min(latest, series.timeS[low] + flareS), sigma: touchdownSigmaS };
}

/** A pass near a known field but not down on it is a go-around when it was an approach: under 150 m above it. */
function lowOverField(series: CoarseSeries, low: number, aboveM: number): LowPass | undefined {
  if (aboveM > 150) return undefined;
  return { timeS: series.timeS[low], touches: false, groundAltitudeM: series.altitudeM[low] - aboveM };
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

/**
 * For three seconds or more it flies or rolls level and loses speed faster than any glide would cost: brakes, tyres and a
 * windmilling propeller, not a pull-up.
 */
function losesEnergyLevel(series: CoarseSeries, from: number, to: number): boolean {
  let lasted = 0;
  for (let row = from + 1; row <= to; row += 1) {
    const level = Math.abs(series.verticalSpeedMps[row]) < 1;
    if (level && energyGain(series, row) < -unknownField.brakingMps2)
      lasted += series.timeS[row] - series.timeS[row - 1];
  }
  return lasted >= plateauS;
}

function straight(series: CoarseSeries, from: number, to: number): boolean {
  let turned = 0;
  for (let row = from + 1; row <= to; row += 1) {
    turned += (series.turnRateRadps[row] || 0) * (series.timeS[row] - series.timeS[row - 1]);
  }
  return Math.abs(turned) < straightRad;
}

/** Gain of energy as an acceleration: `dV/dt + g w / V`, m/s2. */
function energyGain(series: CoarseSeries, row: number): number {
  return (
    series.accelerationMps2[row] + (gravityMps2 * series.verticalSpeedMps[row]) / Math.max(5, series.speedMps[row])
  );
}

/** Within three minutes it was so much higher before, and is again after. */
function higherAround(series: CoarseSeries, flight: Flight, low: number, byM: number): boolean {
  const wanted = series.altitudeM[low] + byM;
  const seen = (direction: 1 | -1): boolean => {
    for (let row = low; row >= flight.firstAirborne && row <= flight.lastAirborne; row += direction) {
      if (Math.abs(series.timeS[row] - series.timeS[low]) > 180) return false;
      if (series.altitudeM[row] > wanted) return true;
    }
    return false;
  };
  return seen(1) && seen(-1);
}

/** Highest acceleration within the next ten seconds. */
function strongest(series: CoarseSeries, from: number, last: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let row = from; row <= last && series.timeS[row] - series.timeS[from] <= 10; row += 1) {
    most = Math.max(most, series.accelerationMps2[row]);
  }
  return most;
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
