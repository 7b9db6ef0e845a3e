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
/**
 * Heights of consumer receivers wander by 10 m and more within half an hour: a little higher above the field it may still
 * have been on it, where the signs of rolling are plain.
 */
const wanderedM = 25;
/** Around the lowest reading, which comes late from a slow receiver and where the runway falls. */
const beforeS = 14;
const afterS = 9;
/**
 * Flaring and rolling it moves level for seconds; whoever goes around pulls from the descent into the climb. 0.8 m/s holds
 * a slope of 2 % at 25 m/s and the noise of a vertical speed from heights.
 */
const levelMps = 0.8;
const levelS = 3.5;
const plainly = { levelS: 5, speedLoss: 0.1, losingMps2: 0.8 } as const;
/** Poor heights wobble by more than that while it rolls: then a plain loss of speed and energy must speak for it. */
const wobbling = { levelS: 1.5, speedLoss: 0.12 } as const;
const plateauM = 4;
const plateauS = 2.5;
/**
 * Flaring with the power off and rolling cost a twelfth of the speed of the approach or more before the power stops the
 * loss; whoever flies along the runway has the power on before. Where the height of the field is not known, the speed must
 * also rise.
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
  // The lowest reading comes late from a slow receiver, and late or early on a sloping runway: the slowest moment is near it.
  const near = rowsAround(series, flight, low);
  const slowest = slowestRow(series, near.from, near.to);
  const loss = 1 - speedMps[slowest] / approachSpeed(series, flight, slowest);
  const levelled = levelSeconds(series, near.from, near.to);
  const from = Math.min(slowest, Math.max(near.from, bottom.from));
  const above = lowest - field;
  const plainLoss = losesPlainly(series, near.from, slowest);
  if (Number.isFinite(field) && above > nearGroundM) {
    const rolls = levelled >= plainly.levelS && loss >= plainly.speedLoss && plainLoss;
    if (above > wanderedM || !rolls) return lowOverField(series, low, above);
  }
  const braking = Math.min(...accelerationMps2.slice(near.from, slowest + 1));
  // With a plain new run the power comes at the slowest moment; else it shows in the energy only.
  const newRun = strongest(series, slowest, flight.lastAirborne) > newRunMps2;
  const turned = newRun
    ? slowest
    : powerRow(series, from, Math.min(Math.max(bottom.to, slowest) + 4, flight.lastAirborne));
  const level = levelled >= levelS || (levelled >= wobbling.levelS && loss >= wobbling.speedLoss && plainLoss);
  const touches = level && loss >= speedLoss && braking < -brakingMps2 && turned !== undefined;
  const confirmed =
    Number.isFinite(field) ||
    (loss >= unknownField.speedLoss &&
      braking < -unknownField.brakingMps2 &&
      strongest(series, slowest, flight.lastAirborne) > unknownField.poweredMps2 &&
      losesEnergyLevel(series, from, slowest) &&
      straight(series, from, slowest) &&
      higherAround(series, flight, low, unknownField.prominenceM));
  if (!touches || !confirmed) {
    if (Number.isFinite(field)) return { timeS: timeS[slowest], touches: false, groundAltitudeM: field };
    return approachElsewhere(series, flight, low, runs);
  }
  // The height of the ground where the new run begins: a sloping runway is not as high where it was touched.
  const ground = medianHeight(series, turned - 3, turned + 3);
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
      notBeforeS: timeS[from],
      turnedS: timeS[turned],
    },
    touchdown: touchdownOf(series, from, turned, ground),
  };
}

function rowsAround(series: CoarseSeries, flight: Flight, low: number): { from: number; to: number } {
  const { timeS, stretch } = series;
  const near = (row: number): boolean =>
    row >= flight.firstAirborne &&
    row <= flight.lastAirborne &&
    stretch[row] === stretch[low] &&
    timeS[low] - timeS[row] <= beforeS &&
    timeS[row] - timeS[low] <= afterS;
  let from = low;
  let to = low;
  while (near(from - 1)) from -= 1;
  while (near(to + 1)) to += 1;
  return { from, to };
}

/** Median speed from 18 to 8 s before: of the approach, before the flare. */
function approachSpeed(series: CoarseSeries, flight: Flight, slowest: number): number {
  const speeds: number[] = [];
  for (let row = slowest; row >= flight.firstAirborne; row -= 1) {
    const before = series.timeS[slowest] - series.timeS[row];
    if (before > 18) break;
    if (before >= 8 && Number.isFinite(series.speedMps[row])) speeds.push(series.speedMps[row]);
  }
  return speeds.length > 0 ? median(speeds) : flyingSpeed(series, slowest, -1);
}

function levelSeconds(series: CoarseSeries, from: number, to: number): number {
  let seconds = 0;
  for (let row = from + 1; row <= to; row += 1) {
    if (Math.abs(series.verticalSpeedMps[row]) < levelMps) seconds += series.timeS[row] - series.timeS[row - 1];
  }
  return seconds;
}

/** For two rows together it loses more energy than any glide with the engine idling would cost. */
function losesPlainly(series: CoarseSeries, from: number, to: number): boolean {
  for (let row = from + 1; row <= to; row += 1) {
    if (energyGain(series, row - 1) + energyGain(series, row) < -2 * plainly.losingMps2) return true;
  }
  return false;
}

function medianHeight(series: CoarseSeries, from: number, to: number): number {
  return median(
    Array.from(series.altitudeM.slice(Math.max(0, from), to + 1)).filter((height) => Number.isFinite(height)),
  );
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

/**
 * An approach to a field where the recording never stood, with a go-around: a long straight descent down to about the
 * height of the nearest field that is known, slowly, then at once a steady climb straight ahead. A thermal is left turning,
 * and a valley is not flown into at approach speed and sink. How high the ground is there cannot be known.
 */
const elsewhere = { descentM: 150, aboveM: 100, straightRad: 0.35, aroundS: 20, climbM: 60, climbWithinS: 40 } as const;
const approachSinkMps = [1, 5] as const;
const approachOfLiftoff = 1.5;

function approachElsewhere(
  series: CoarseSeries,
  flight: Flight,
  low: number,
  runs: readonly SlowRun[],
): LowPass | undefined {
  const { timeS, altitudeM, speedMps } = series;
  const lowest = altitudeM[low];
  const run = nearestRun(series, low, runs);
  if (run === undefined || lowest - run.altitudeM > elsewhere.aboveM || flight.slowBefore < 0) return undefined;
  if (speedMps[low] > approachOfLiftoff * flyingSpeed(series, flight.firstAirborne, 1)) return undefined;
  let from = low;
  let to = low;
  while (from > flight.firstAirborne && timeS[low] - timeS[from] < elsewhere.aroundS) from -= 1;
  while (to < flight.lastAirborne && timeS[to] - timeS[low] < elsewhere.aroundS) to += 1;
  if (series.stretch[from] !== series.stretch[to] || !turnsLittle(series, from, to)) return undefined;
  const sink = (altitudeM[from] - lowest) / (timeS[low] - timeS[from]);
  if (!(sink > approachSinkMps[0] && sink < approachSinkMps[1])) return undefined;
  const climbed = crossing(series, flight, low, lowest + elsewhere.climbM, 1);
  if (!(altitudeM[climbed] > lowest + elsewhere.climbM && timeS[climbed] - timeS[low] < elsewhere.climbWithinS)) {
    return undefined;
  }
  return higherAround(series, flight, low, elsewhere.descentM)
    ? { timeS: timeS[low], touches: false, groundAltitudeM: Math.min(lowest, run.altitudeM) }
    : undefined;
}

function turnsLittle(series: CoarseSeries, from: number, to: number): boolean {
  let turned = 0;
  for (let row = from + 1; row <= to; row += 1) {
    turned += (series.turnRateRadps[row] || 0) * (series.timeS[row] - series.timeS[row - 1]);
    if (Math.abs(turned) > elsewhere.straightRad) return false;
  }
  return true;
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
  const near = runs.filter((run) => {
    const place = run.to - 1;
    return Math.hypot(series.eastM[row] - series.eastM[place], series.northM[row] - series.northM[place]) < nearFieldM;
  });
  return nearestRun(series, row, near)?.altitudeM ?? Number.NaN;
}

/** The slow run with a height that is nearest in time. */
function nearestRun(series: CoarseSeries, row: number, runs: readonly SlowRun[]): SlowRun | undefined {
  let best: SlowRun | undefined;
  let nearest = Number.POSITIVE_INFINITY;
  for (const run of runs) {
    const apart = Math.abs(series.timeS[row] - series.timeS[run.to - 1]);
    if (apart >= nearest || !Number.isFinite(run.altitudeM)) continue;
    nearest = apart;
    best = run;
  }
  return best;
}
