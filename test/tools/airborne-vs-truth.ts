/**
 * Holds climbs, level runs and winds found in the recordings kept beside the repository against what truly happened in them, by kind of recording, and (with
 * `--simulated`) in flights of the simulator. Prints errors, and the share of 95 % intervals that hold the truth.
 *
 *   npx tsx test/tools/airborne-vs-truth.ts [--simulated] [--details]
 */
import { readFileSync } from 'node:fs';
import { nodeWorld } from '../../src/cli/world-node.ts';
import type { LevelRun, WindEstimate } from '../../src/engine/analysis.ts';
import {
  climbRateBetween,
  estimateWinds,
  findClimbs,
  findLevelRuns,
  withAirspeeds,
} from '../../src/engine/metrics/index.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import { deriveMotion } from '../../src/engine/track/derive-motion.ts';
import type { Track } from '../../src/engine/track/track.ts';
import { meanOver, receiverKinds, type ReceiverName, simulatedFlights, valueAt } from '../synth/index.ts';
import { Scores } from './scores.ts';
import { sharedData } from './shared-data.ts';

const knotMps = 1852 / 3600;
const fpmMps = 0.3048 / 60;
const details = process.argv.includes('--details');

interface TrueVelocity {
  readonly eastMps: number;
  readonly northMps: number;
}

function scoreWind(scores: Scores, kind: string, wind: WindEstimate, truth: TrueVelocity): void {
  const east = -wind.speedMps.value * Math.sin(wind.fromRad.value);
  const north = -wind.speedMps.value * Math.cos(wind.fromRad.value);
  const name = wind.method === 'turn' ? 'wind from a turn' : 'wind from legs';
  scores.add(kind, `${name}: vector error, kt`, Math.hypot(east - truth.eastMps, north - truth.northMps) / knotMps);
  const speed = Math.hypot(truth.eastMps, truth.northMps);
  scores.addInterval(kind, `${name}: speed, kt`, wind.speedMps, speed, knotMps);
  const from = Math.atan2(-truth.eastMps, -truth.northMps);
  const { value, low, high } = wind.fromRad;
  const away = Math.atan2(Math.sin(from - value), Math.cos(from - value));
  scores.addInterval(kind, `${name}: direction, deg`, { value, low, high }, value + away, Math.PI / 180);
}

// --- recordings beside the repository -------------------------------------------------------------------------------

interface TruthFile {
  readonly flights: readonly {
    readonly file: string;
    readonly format: string;
    readonly epochUtc: string;
    readonly climbs: readonly {
      readonly levelOffs: number;
      readonly rocOverGroundFpm: number;
      readonly bands500ft: readonly {
        readonly complete: boolean;
        readonly seconds: number;
        readonly fromFt: number;
        readonly toFt: number;
        readonly t0: number;
        readonly t1: number;
        readonly rocOverGroundFpm: number;
        readonly rocThroughAirFpm: number;
        readonly rocThroughAirEnergyCorrectedFpm: number;
        readonly airVerticalMs: number;
      }[];
    }[];
    readonly levelRuns: readonly {
      readonly kind: string;
      readonly from: { readonly t: number };
      readonly to: { readonly t: number };
      readonly tasKt: number;
      readonly tasSteadyStillAirKt: number;
      readonly groundSpeedKt: number;
      readonly wind: { readonly eastMs: number; readonly northMs: number };
      readonly rpm: number;
      readonly fuelLph: number;
    }[];
  }[];
}

async function recordings(scores: Scores): Promise<void> {
  for (const story of ['engine', 'plugs']) {
    const path = sharedData(`flights/${story}/truth.json`);
    if (path === undefined) {
      console.warn(`skipped: the recordings of ${story} are not here`);
      continue;
    }
    const truth = JSON.parse(readFileSync(path, 'utf8')) as TruthFile;
    for (const flight of truth.flights) {
      const file = sharedData(`flights/${story}/${flight.file}`);
      if (file === undefined) continue;
      const { track, problems } = await readRecording(await nodeWorld('/').open(file));
      if (track === undefined) {
        console.warn(`${flight.file}: not read: ${problems[0]?.message}`);
        continue;
      }
      scoreRecording(scores, flight, track);
    }
  }
}

function scoreRecording(scores: Scores, flight: TruthFile['flights'][number], track: Track): void {
  const kind = flight.format;
  const epochS = Date.parse(flight.epochUtc) / 1000;
  const { motion } = deriveMotion(track);
  const plain = findLevelRuns(motion, track);
  const winds = estimateWinds(motion, track, [], plain);
  const runs = withAirspeeds(plain, winds);
  const climbs = findClimbs(motion, track, [], { winds });
  const legs = flight.levelRuns.filter((run) => run.kind === 'cruise_leg');
  const overlaps = (run: LevelRun, leg: (typeof legs)[number]): boolean =>
    run.startS - epochS < leg.to.t - 20 && run.endS - epochS > leg.from.t + 20;

  scores.count(kind, 'true legs', legs.length);
  for (const leg of legs) {
    const run = runs.find((candidate) => overlaps(candidate, leg));
    if (run === undefined) continue;
    scores.count(kind, 'legs found', 1);
    scores.addInterval(kind, 'level run: ground speed, kt', run.groundSpeedMps, leg.groundSpeedKt * knotMps, knotMps);
    if (run.trueAirspeedMps !== undefined) {
      scores.addInterval(kind, 'level run: TAS, kt', run.trueAirspeedMps, leg.tasKt * knotMps, knotMps);
    }
    if (run.engineSpeedRpm !== undefined) scores.add(kind, 'level run: rpm', run.engineSpeedRpm - leg.rpm);
    if (run.fuelFlowM3ps !== undefined)
      scores.add(kind, 'level run: fuel flow, L/h', run.fuelFlowM3ps.value * 3.6e6 - leg.fuelLph);
  }
  for (const wind of winds) {
    if (wind.method === 'recorded airspeed') continue;
    const own =
      wind.method === 'turn'
        ? flight.levelRuns.filter(
            (run) => run.kind === 'turn360' && wind.startS - epochS < run.to.t && wind.endS - epochS > run.from.t,
          )
        : legs.filter((leg) => wind.startS - epochS < leg.from.t + 40 && wind.endS - epochS > leg.to.t - 40);
    if (own.length === 0) continue;
    const mean = (of: (leg: (typeof legs)[number]) => number): number =>
      own.reduce((sum, leg) => sum + of(leg), 0) / own.length;
    scoreWind(scores, kind, wind, {
      eastMps: mean((leg) => leg.wind.eastMs),
      northMps: mean((leg) => leg.wind.northMs),
    });
    if (wind.method === 'turn' || wind.trueAirspeedMps === undefined) continue;
    scores.addInterval(
      kind,
      'TAS from legs against their mean, kt',
      wind.trueAirspeedMps,
      mean((leg) => leg.tasKt) * knotMps,
      knotMps,
    );
    const still = mean((leg) => leg.tasSteadyStillAirKt) * knotMps;
    scores.addInterval(kind, 'TAS from legs against still air, kt', wind.trueAirspeedMps, still, knotMps);
  }
  for (const climb of flight.climbs) {
    // The seconds of a band leave a level-off in it out; its two instants do not.
    const complete = climb.bands500ft.filter(
      (band) => band.complete && Math.abs(band.t1 - band.t0 - band.seconds) < 0.2,
    );
    for (const band of complete) {
      const found = climbRateBetween(motion, track, winds, epochS + band.t0, epochS + band.t1);
      if (found === undefined) continue;
      scores.addInterval(
        kind,
        'climb band: rate over ground, ft/min',
        found.rateOfClimbMps,
        band.rocOverGroundFpm * fpmMps,
        fpmMps,
      );
      if (found.energyRateMps === undefined) continue;
      const energyFpm = band.rocThroughAirEnergyCorrectedFpm + band.rocOverGroundFpm - band.rocThroughAirFpm;
      scores.addInterval(kind, 'climb band: energy rate, ft/min', found.energyRateMps, energyFpm * fpmMps, fpmMps);
    }
    const first = complete[0];
    const last = complete[complete.length - 1];
    if (climb.levelOffs > 0 || complete.length < 3) continue;
    const whole = climbRateBetween(motion, track, winds, epochS + first.t0, epochS + last.t1);
    const trueMps = ((last.toFt - first.fromFt) * 0.3048) / (last.t1 - first.t0);
    if (whole !== undefined) {
      scores.addInterval(kind, 'whole climb: rate over ground, ft/min', whole.rateOfClimbMps, trueMps, fpmMps);
      scores.add(kind, 'whole climb: rate over ground, %', 100 * (whole.rateOfClimbMps.value / trueMps - 1));
    }
    const own = climbs.find((found) => found.startS - epochS < last.t1 && found.endS - epochS > first.t0);
    if (own === undefined) continue;
    scores.count(kind, 'climbs found', 1);
    const airFpm =
      complete.reduce((sum, band) => sum + band.airVerticalMs * (band.t1 - band.t0), 0) / (last.t1 - first.t0) / fpmMps;
    const sigma = own.airMotionSigmaMps ?? Number.NaN;
    scores.addInterval(
      kind,
      'whole climb: air motion, ft/min',
      { value: 0, low: -1.96 * sigma, high: 1.96 * sigma },
      airFpm * fpmMps,
      fpmMps,
    );
  }
}

// --- simulated flights -----------------------------------------------------------------------------------------------

function simulated(scores: Scores): void {
  for (const receiver of Object.keys(receiverKinds) as ReceiverName[]) {
    for (const flight of simulatedFlights(`airborne-${receiver}`, { count: 16, receiver, length: 'full' })) {
      const track: Track = flight.track;
      const { motion } = deriveMotion(track);
      const plain = findLevelRuns(motion, track);
      const winds = estimateWinds(motion, track, [], plain);
      const runs = withAirspeeds(plain, winds);
      const mean = (
        column: 'windEastMps' | 'windNorthMps' | 'tasMps' | 'windUpMps',
        from: number,
        to: number,
      ): number => meanOver(flight.table, column, from, to);
      for (const run of runs) {
        if (run.trueAirspeedMps === undefined) continue;
        scores.addInterval(
          receiver,
          'level run: TAS, kt',
          run.trueAirspeedMps,
          mean('tasMps', run.startS, run.endS),
          knotMps,
        );
      }
      for (const wind of winds) {
        if (wind.method === 'recorded airspeed') continue;
        const own =
          wind.method === 'turn'
            ? [wind]
            : plain.filter((run) => run.startS >= wind.startS - 1 && run.endS <= wind.endS + 1);
        const over = (column: 'windEastMps' | 'windNorthMps' | 'tasMps'): number =>
          own.reduce((sum, part) => sum + mean(column, part.startS, part.endS), 0) / own.length;
        scoreWind(scores, receiver, wind, { eastMps: over('windEastMps'), northMps: over('windNorthMps') });
        if (wind.method !== 'turn' && wind.trueAirspeedMps !== undefined) {
          scores.addInterval(
            receiver,
            'TAS from legs against their mean, kt',
            wind.trueAirspeedMps,
            over('tasMps'),
            knotMps,
          );
        }
      }
      for (const climb of findClimbs(motion, track, [], { winds })) {
        for (const part of [climb, ...climb.bands]) {
          const height = (at: number): number => valueAt(flight.table, 'heightM', at);
          const energy = (at: number): number => height(at) + valueAt(flight.table, 'tasMps', at) ** 2 / (2 * 9.80665);
          const seconds = part.endS - part.startS;
          const name = part === climb ? 'whole climb' : 'climb band';
          const trueMps = (height(part.endS) - height(part.startS)) / seconds;
          scores.addInterval(receiver, `${name}: rate over ground, ft/min`, part.rateOfClimbMps, trueMps, fpmMps);
          if (part === climb)
            scores.add(receiver, `${name}: rate over ground, %`, 100 * (part.rateOfClimbMps.value / trueMps - 1));
          if (part.energyRateMps === undefined) continue;
          const trueEnergyMps = (energy(part.endS) - energy(part.startS)) / seconds;
          scores.addInterval(receiver, `${name}: energy rate, ft/min`, part.energyRateMps, trueEnergyMps, fpmMps);
        }
        const sigma = climb.airMotionSigmaMps ?? Number.NaN;
        const air = mean('windUpMps', climb.startS, climb.endS);
        scores.addInterval(
          receiver,
          'whole climb: air motion, ft/min',
          { value: 0, low: -1.96 * sigma, high: 1.96 * sigma },
          air,
          fpmMps,
        );
      }
    }
  }
}

const scores = new Scores();
if (process.argv.includes('--simulated')) simulated(scores);
else await recordings(scores);
console.log(scores.report(details));
