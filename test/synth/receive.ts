import type { Airfield } from './airfield.ts';
import { pressureAltitude } from './air.ts';
import type { RecordedForce } from './accelerometer.ts';
import { GaussMarkov, type Random } from './random.ts';
import type { ReceiverKind } from './receiver-kinds.ts';
import type { TruthTable } from './recorder.ts';

/** One row as a recorder would write it, already rounded to its steps. Missing values are NaN. */
export interface Fix {
  /** Unix time as written. */
  readonly timeS: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly heightM: number;
  readonly groundSpeedMps: number;
  readonly trackRad: number;
  readonly verticalSpeedMps: number;
  readonly eastMps: number;
  readonly northMps: number;
  readonly pressureAltitudeM: number;
  readonly indicatedAirspeedMps: number;
  readonly outsideAirTemperatureK: number;
  readonly rpm: number;
  readonly fuelFlowM3ps: number;
  readonly fuelUsedM3: number;
  /** False for the made-up rows that a camera writes before it has a fix. */
  readonly valid: boolean;
  /** True time of the sample, where the written one is cut. */
  readonly trueTimeS: number;
}

export interface Recording {
  readonly kind: ReceiverKind;
  readonly fixes: readonly Fix[];
  readonly geoidHeightM: number;
  /** Reception was lost between these times. */
  readonly gaps: readonly { readonly startS: number; readonly endS: number }[];
  readonly antennaHeightM: number;
  /** What the camera's accelerometer felt, where it has one. */
  readonly force?: RecordedForce;
}

const degree = Math.PI / 180;
const semiMajorM = 6378137;
const eccentricitySquared = 6.69437999014e-3;

/** Metres a radian of latitude and of longitude on the WGS 84 ellipsoid at a latitude and height. */
export function radii(latDeg: number, heightM: number): { northM: number; eastM: number } {
  const sine = Math.sin(latDeg * degree);
  const w = 1 - eccentricitySquared * sine * sine;
  const meridian = (semiMajorM * (1 - eccentricitySquared)) / w ** 1.5;
  const normal = semiMajorM / Math.sqrt(w);
  return { northM: meridian + heightM, eastM: (normal + heightM) * Math.cos(latDeg * degree) };
}

function rounded(value: number, step: number): number {
  return step > 0 ? Math.round(value / step) * step : value;
}

/** Records a flight. `keep` limits the recording to a span (it may begin or end in the air). */
export function receive(
  table: TruthTable,
  field: Airfield,
  kind: ReceiverKind,
  random: Random,
  keep?: { readonly fromS?: number; readonly toS?: number },
): Recording {
  const { timeS: times } = table;
  const stepS = (times[times.length - 1] - times[0]) / (times.length - 1);
  const datum = kind.heightDatum === 'ellipsoid' ? field.geoidHeightM : 0;
  const offset = random.normal(0, kind.heightOffsetSigmaM);
  const antennaHeightM = random.uniform(1.4, 2.1);
  const east = kind.position.map((p) => new GaussMarkov(random, p.sigmaM, p.tauS));
  const north = kind.position.map((p) => new GaussMarkov(random, p.sigmaM, p.tauS));
  const up = kind.height.map((p) => new GaussMarkov(random, p.sigmaM, p.tauS));
  const driftEast = new GaussMarkov(random, kind.velocity?.driftMps ?? 0, 60);
  const driftNorth = new GaussMarkov(random, kind.velocity?.driftMps ?? 0, 60);
  const pressureOffset = random.normal(0, kind.pressure?.offsetSigmaM ?? 0);
  const temperatureOffset = random.normal(0.3, 0.6);
  const airspeedFactor = 1 + random.normal(0, 0.015);
  const fuelFactor = 1 + random.normal(0, 0.015);
  const firstFix =
    Math.max(times[0] + 0.5, keep?.fromS ?? 0) +
    (keep?.fromS ? 0 : -kind.firstFixS * Math.log(1 - random.next() * 0.97));
  const last = Math.min(times[times.length - 1], keep?.toS ?? Number.POSITIVE_INFINITY);
  const gaps: { startS: number; endS: number }[] = [];
  if (random.chance(kind.gap)) {
    const startS = times[0] + random.uniform(0.08, 0.92) * (times[times.length - 1] - times[0]);
    gaps.push({ startS, endS: startS + random.uniform(8, 40) });
  }

  // Filters run at the simulation's rate; the state is that of the recorder's own smoothing.
  const state = {
    lat: field.latDeg,
    lon: field.lonDeg,
    east: table.eastM[0],
    north: table.northM[0],
    height: table.heightM[0],
    vEast: 0,
    vNorth: 0,
    vUp: 0,
    pressureM: pressureAltitude(table.pressurePa[0]),
    temperature: table.temperatureK[0],
    airspeed: 0,
  };
  // Latitude and longitude of the true path are integrated locally, so that every displacement is right on the ellipsoid.
  let lat = field.latDeg;
  let lon = field.lonDeg;
  {
    const r = radii(lat, field.elevationM);
    lat += table.northM[0] / r.northM / degree;
    lon += table.eastM[0] / r.eastM / degree;
  }
  const mix = (lagS: number): number => (lagS > 0 ? 1 - Math.exp(-stepS / lagS) : 1);
  const keepPosition = mix(kind.positionLagS);
  const keepHeight = mix(kind.heightLagS);
  const keepVelocity = mix(kind.velocity?.lagS ?? 0);
  const keepUp = mix(kind.verticalVelocity?.lagS ?? 0);
  const keepPressure = mix(kind.pressure?.lagS ?? 0);
  const keepTemperature = mix(6);
  const fixes: Fix[] = [];
  const period = 1 / kind.rateHz;
  // Samples of whole-rate receivers fall on the clock's second; a film's do not.
  let next = Number.isInteger(kind.rateHz)
    ? Math.ceil((times[0] + 0.05) * kind.rateHz) * period
    : times[0] + random.uniform(0, period);
  let previous = times[0];
  let frozen: { lat: number; lon: number } | undefined;
  let stillS = 0;
  let fuelUsed = 0;
  let blunderUntil = 0;
  let blunder = { east: 0, north: 0 };
  // Before its first fix a camera writes a plausible drift from an old place.
  const invented = {
    lat: lat + random.normal(0, 0.02),
    lon: lon + random.normal(0, 0.02),
    heading: random.uniform(0, 6.28),
  };
  const writesFrom = Math.max(times[0], firstFix - random.uniform(5, 60));
  let remaining = { lat, lon };

  for (let i = 1; i < times.length; i++) {
    const r = radii(lat, table.heightM[i]);
    lat += (table.northM[i] - table.northM[i - 1]) / r.northM / degree;
    lon += (table.eastM[i] - table.eastM[i - 1]) / r.eastM / degree;
    fuelUsed += table.fuelFlowM3ps[i] * stepS;
    state.east += keepPosition * (table.eastM[i] - state.east);
    state.north += keepPosition * (table.northM[i] - state.north);
    state.height += keepHeight * (table.heightM[i] - state.height);
    state.vEast += keepVelocity * (table.eastMps[i] - state.vEast);
    state.vNorth += keepVelocity * (table.northMps[i] - state.vNorth);
    state.vUp += keepUp * (table.upMps[i] - state.vUp);
    if (kind.pressure) {
      state.pressureM += keepPressure * (pressureAltitude(table.pressurePa[i]) - state.pressureM);
      state.temperature += keepTemperature * (table.temperatureK[i] - state.temperature);
    }
    state.airspeed += mix(0.3) * (table.easMps[i] - state.airspeed);
    const moving = Math.hypot(state.vEast, state.vNorth);
    stillS = moving < 0.25 ? stillS + stepS : 0;
    if (times[i] < next) continue;
    const sampleS = next;
    next += period;
    const sinceS = sampleS - previous;
    previous = sampleS;
    const error = { east: 0, north: 0, up: 0 };
    for (const process of east) error.east += process.advance(sinceS);
    for (const process of north) error.north += process.advance(sinceS);
    for (const process of up) error.up += process.advance(sinceS);
    driftEast.advance(sinceS);
    driftNorth.advance(sinceS);
    if (sampleS > last) break;
    const gap = gaps.some((g) => sampleS >= g.startS && sampleS < g.endS);
    if (gap || random.chance(kind.missing)) continue;
    const valid = sampleS >= firstFix;
    if (!valid && !(kind.writesBeforeFix && sampleS >= writesFrom)) continue;
    if (random.chance(kind.outlier * Math.min(1, period))) {
      blunderUntil = sampleS + random.uniform(1, 4);
      blunder = { east: random.normal(0, 25), north: random.normal(0, 25) };
    }
    // How far the sample instant lies behind the step: at most 20 ms, but at 40 m/s that is 0.8 m.
    const behind = times[i] - sampleS;
    const eastM =
      state.east -
      state.vEast * behind +
      error.east +
      random.normal(0, kind.positionNoiseM) +
      (sampleS < blunderUntil ? blunder.east : 0);
    const northM =
      state.north -
      state.vNorth * behind +
      error.north +
      random.normal(0, kind.positionNoiseM) +
      (sampleS < blunderUntil ? blunder.north : 0);
    let fixLat = lat + (northM - table.northM[i]) / r.northM / degree;
    let fixLon = lon + (eastM - table.eastM[i]) / r.eastM / degree;
    let vEast = state.vEast + driftEast.value + random.normal(0, kind.velocity?.noiseMps ?? 0);
    let vNorth = state.vNorth + driftNorth.value + random.normal(0, kind.velocity?.noiseMps ?? 0);
    if (kind.freezesAtRest) {
      if (stillS > 3) frozen ??= { lat: remaining.lat, lon: remaining.lon };
      else if (moving > 0.7) frozen = undefined;
      if (frozen) {
        fixLat = frozen.lat;
        fixLon = frozen.lon;
        vEast = 0;
        vNorth = 0;
      }
    }
    remaining = { lat: fixLat, lon: fixLon };
    if (!valid) {
      const drift = 1.6 * (sampleS - writesFrom);
      fixLat = invented.lat + (drift * Math.cos(invented.heading)) / r.northM / degree;
      fixLon = invented.lon + (drift * Math.sin(invented.heading)) / r.eastM / degree;
      vEast = 1.6 * Math.sin(invented.heading);
      vNorth = 1.6 * Math.cos(invented.heading);
    }
    const height = state.height + antennaHeightM + offset + datum + error.up + random.normal(0, kind.heightNoiseM);
    const hasSpeed = kind.velocity !== undefined;
    const speed = Math.hypot(vEast, vNorth);
    const air = kind.airData === true;
    const engine = kind.engineData === true;
    const fix: Fix = {
      timeS: kind.wholeSeconds ? Math.floor(sampleS + 1e-6) : sampleS,
      trueTimeS: sampleS,
      latDeg: rounded(fixLat, kind.steps.positionDeg),
      lonDeg: rounded(fixLon, kind.steps.positionDeg),
      heightM: rounded(height, kind.steps.heightM),
      groundSpeedMps: hasSpeed ? Math.max(0, rounded(speed, kind.steps.speedMps)) : Number.NaN,
      trackRad: hasSpeed ? (Math.atan2(vEast, vNorth) + 2 * Math.PI) % (2 * Math.PI) : Number.NaN,
      verticalSpeedMps: kind.verticalVelocity
        ? rounded(state.vUp + random.normal(0, kind.verticalVelocity.noiseMps), kind.steps.verticalSpeedMps)
        : Number.NaN,
      eastMps: vEast,
      northMps: vNorth,
      pressureAltitudeM: kind.pressure
        ? rounded(
            state.pressureM +
              pressureOffset +
              kind.pressure.cabinPerQ * state.airspeed ** 2 +
              random.normal(0, kind.pressure.noiseM),
            kind.steps.heightM,
          )
        : Number.NaN,
      indicatedAirspeedMps: air
        ? rounded(Math.max(0, state.airspeed * airspeedFactor + random.normal(0, 0.5)), 0.0514)
        : Number.NaN,
      outsideAirTemperatureK: air
        ? rounded(state.temperature + temperatureOffset + random.normal(0, 0.1), 0.1)
        : Number.NaN,
      rpm: engine ? Math.round(table.rpm[i] + random.normal(0, 6)) : Number.NaN,
      fuelFlowM3ps: engine ? rounded(table.fuelFlowM3ps[i] * fuelFactor, 0.1 / 3.6e6) : Number.NaN,
      fuelUsedM3: engine ? fuelUsed * fuelFactor : Number.NaN,
      valid,
    };
    fixes.push(fix);
    if (random.chance(kind.duplicate)) fixes.push(fix);
  }
  return { kind, fixes, geoidHeightM: field.geoidHeightM, gaps, antennaHeightM };
}
