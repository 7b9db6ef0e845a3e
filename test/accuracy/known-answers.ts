import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  meanOver,
  type SimulatedFlight,
  type TruePhase,
  type TruePhaseKind,
  type TruthTable,
  valueAt,
} from '../synth/index.ts';
import type { CampaignFlight } from '../synth/index.ts';

/** The truth of a flight in the one form that scoring asks for: from the own simulator, or from recordings kept beside the repository. */
export interface KnownTakeoff {
  readonly outcome: 'flown' | 'rejected' | 'touch-and-go';
  readonly kind: 'standing' | 'rolling' | 'touch-and-go';
  readonly rollStartS: number;
  readonly liftoffS?: number;
  readonly groundRollM?: number;
  readonly liftoffSpeedMps?: number;
  readonly screens: readonly { readonly heightM: number; readonly timeS: number; readonly distanceM: number }[];
  readonly headwindMps: number;
  readonly slope: number;
  /** Highest ground speed of a rejected take-off, where known: below 8 m/s it is no more than brisk taxiing. */
  readonly peakSpeedMps?: number;
}

export interface KnownLanding {
  readonly touchdownS: number;
  readonly speedMps: number;
  readonly groundRollM?: number;
}

export interface KnownFlight {
  readonly name: string;
  /** Kind of recording, the rows of the tables. */
  readonly group: string;
  readonly takeoffs: readonly KnownTakeoff[];
  readonly landings: readonly KnownLanding[];
  readonly phases: readonly TruePhase[];
  /** Climbs through the spans in which the truth counts as one. */
  readonly climbSpans: readonly { readonly startS: number; readonly endS: number }[];
  readonly legs: readonly { readonly kind: 'leg' | 'turn'; readonly startS: number; readonly endS: number }[];
  /** Means between two times where known. */
  climbRate(startS: number, endS: number): { overGround: number; throughAir: number } | undefined;
  wind(startS: number, endS: number): { eastMps: number; northMps: number } | undefined;
  tas(startS: number, endS: number): number | undefined;
  groundSpeed(startS: number, endS: number): number | undefined;
  readonly airIsStill: boolean;
  /** The wind of one leg is still that of the next: no gale, little gust. */
  readonly windIsSteady: boolean;
}

/** Seconds of recording that a receiver left out (gaps, before the first fix): events there cannot be found. */
export type Blind = (timeS: number) => boolean;

export function knownFromSimulation(
  flight: Pick<SimulatedFlight | CampaignFlight, 'truth' | 'table' | 'receiverName' | 'setup'> & {
    name?: string;
    file?: string;
  },
  group: string,
): KnownFlight {
  const { truth, table } = flight;
  const inside = (startS: number, endS: number): boolean =>
    endS > startS && startS >= table.timeS[0] - 1 && endS <= table.timeS[table.timeS.length - 1] + 1;
  return {
    name: flight.name ?? flight.file ?? group,
    group,
    takeoffs: truth.takeoffs.map((takeoff) => ({
      ...takeoff,
      liftoffSpeedMps: takeoff.liftoffGroundSpeedMps,
      ...(takeoff.stoppedS !== undefined && { peakSpeedMps: peakSpeed(table, takeoff.rollStartS, takeoff.stoppedS) }),
    })),
    landings: truth.landings.map((landing) => ({ ...landing, speedMps: landing.touchdownGroundSpeedMps })),
    phases: truth.phases,
    climbSpans: truth.climbs,
    legs: truth.levelRuns,
    climbRate(startS, endS) {
      if (!inside(startS, endS)) return undefined;
      const overGround = (valueAt(table, 'heightM', endS) - valueAt(table, 'heightM', startS)) / (endS - startS);
      return { overGround, throughAir: overGround - meanOver(table, 'windUpMps', startS, endS) };
    },
    wind(startS, endS) {
      if (!inside(startS, endS)) return undefined;
      return {
        eastMps: meanOver(table, 'windEastMps', startS, endS),
        northMps: meanOver(table, 'windNorthMps', startS, endS),
      };
    },
    tas: (startS, endS) => (inside(startS, endS) ? meanOver(table, 'tasMps', startS, endS) : undefined),
    groundSpeed: (startS, endS) =>
      inside(startS, endS)
        ? (valueAt(table, 'pathM', endS) - valueAt(table, 'pathM', startS)) / (endS - startS)
        : undefined,
    airIsStill: flight.setup.wind.thermalSigmaMps === 0 && flight.setup.wind.waveSigmaMps < 0.05,
    windIsSteady: flight.setup.wind.slowSigmaMps < 0.6 && flight.setup.wind.gustSigmaMps < 0.8,
  };
}

function peakSpeed(table: TruthTable, fromS: number, toS: number): number {
  let peak = 0;
  for (let t = fromS; t <= toS; t += 0.2) {
    peak = Math.max(peak, Math.hypot(valueAt(table, 'eastMps', t), valueAt(table, 'northMps', t)));
  }
  return peak;
}

// --------------------------------------------------------------- recordings with known answers beside the repository

interface SharedTakeoff {
  kind: 'standing' | 'rolling' | 'touch-and-go';
  rejected: boolean;
  failed: boolean;
  brakeRelease: { t: number };
  liftoff?: { t: number; utc: string; groundSpeedKt: number };
  groundRollM?: number;
  to50ft?: { distanceM: number; t: number };
  to100ft?: { distanceM: number; t: number };
  headwindMeanKt: number;
  slopePercentUp: number;
}

export interface SharedFlight {
  file: string;
  configuration: string;
  format: string;
  epochUtc: string;
  receiver: { receiver: string };
  conditions: { verticalAirSigmaMs: number; gustSigmaMs: number };
  phases: { phase: string; t0: number; t1: number }[];
  takeoffs: SharedTakeoff[];
  landings: { touchdown: { t: number }; groundSpeedKt: number; rollM?: number }[];
  climbs: {
    from: { t: number };
    to: { t: number };
    bands500ft: { t0: number; t1: number; rocOverGroundFpm: number; rocThroughAirFpm: number }[];
  }[];
  levelRuns: {
    kind: string;
    from: { t: number };
    to: { t: number };
    tasKt: number;
    groundSpeedKt: number;
    wind: { eastMs: number; northMs: number };
  }[];
}

export interface SharedCampaign {
  readonly folder: string;
  readonly truth: {
    flights: SharedFlight[];
    trueChange: Record<string, unknown>;
    naive: Record<string, unknown>;
    perfectCorrection: Record<string, { changePercent: number; standardErrorPercent: number; truePercent: number }>;
    [key: string]: unknown;
  };
  readonly conditions: Record<string, unknown>;
}

export function sharedCampaign(folder: string): SharedCampaign | undefined {
  const truthFile = join(folder, 'truth.json');
  if (!existsSync(truthFile)) return undefined;
  return {
    folder,
    truth: JSON.parse(readFileSync(truthFile, 'utf8')) as SharedCampaign['truth'],
    conditions: JSON.parse(readFileSync(join(folder, 'conditions.json'), 'utf8')) as Record<string, unknown>,
  };
}

const knotMps = 1852 / 3600;
const fpmMps = 0.3048 / 60;

/** Words of the shared truth for phases, in ours; what stands between two of ours (settle, accelerate ...) joins cruise. */
const phaseWords: Record<string, TruePhaseKind> = {
  parked: 'standing',
  taxi_out: 'taxi',
  taxi_back: 'taxi',
  taxi_in: 'taxi',
  holding_point: 'standing',
  run_up: 'standing',
  line_up: 'taxi',
  lineup: 'taxi',
  lineup_hold: 'standing',
  takeoff_roll: 'takeoff-roll',
  initial_climb: 'initial-climb',
  climb: 'climb',
  level_off: 'cruise',
  accelerate: 'cruise',
  settle: 'cruise',
  cruise_leg: 'cruise',
  turn: 'cruise',
  turn360: 'cruise',
  descent: 'descent',
  descent_orbit: 'descent',
  circuit_join: 'approach',
  circuit_downwind: 'approach',
  circuit_base: 'approach',
  final: 'approach',
  flare: 'approach',
  landing_roll: 'landing-roll',
  parking: 'standing',
};

export function knownFromShared(flight: SharedFlight): KnownFlight {
  const epochS = Date.parse(flight.epochUtc) / 1000;
  const phases: TruePhase[] = [];
  for (const phase of flight.phases) {
    const kind = phaseWords[phase.phase];
    if (!kind) continue;
    const last = phases.at(-1);
    if (last && last.kind === kind) phases[phases.length - 1] = { ...last, endS: epochS + phase.t1 };
    else phases.push({ kind, startS: epochS + phase.t0, endS: epochS + phase.t1 });
  }
  const runs = flight.levelRuns.map((run) => ({ ...run, startS: epochS + run.from.t, endS: epochS + run.to.t }));
  const within = (startS: number, endS: number): typeof runs =>
    runs.filter((run) => Math.min(endS, run.endS) - Math.max(startS, run.startS) > 0.5 * (run.endS - run.startS));
  const weighted = (list: typeof runs, value: (run: (typeof runs)[number]) => number): number => {
    const total = list.reduce((sum, run) => sum + (run.endS - run.startS), 0);
    return list.reduce((sum, run) => sum + value(run) * (run.endS - run.startS), 0) / total;
  };
  return {
    name: flight.file,
    group: `${flight.receiver.receiver} ${flight.format}`,
    takeoffs: flight.takeoffs.map((takeoff) => {
      let outcome: KnownTakeoff['outcome'] = 'flown';
      if (takeoff.rejected || takeoff.failed) outcome = 'rejected';
      else if (takeoff.kind === 'touch-and-go') outcome = 'touch-and-go';
      return {
        outcome,
        kind: takeoff.kind,
        rollStartS: epochS + takeoff.brakeRelease.t,
        ...(takeoff.liftoff && {
          liftoffS: Date.parse(takeoff.liftoff.utc) / 1000,
          liftoffSpeedMps: takeoff.liftoff.groundSpeedKt * knotMps,
        }),
        groundRollM: takeoff.groundRollM,
        screens: [
          ...(takeoff.to50ft
            ? [{ heightM: 15.24, timeS: epochS + takeoff.to50ft.t, distanceM: takeoff.to50ft.distanceM }]
            : []),
          ...(takeoff.to100ft
            ? [{ heightM: 30.48, timeS: epochS + takeoff.to100ft.t, distanceM: takeoff.to100ft.distanceM }]
            : []),
        ],
        headwindMps: takeoff.headwindMeanKt * knotMps,
        slope: takeoff.slopePercentUp / 100,
      };
    }),
    landings: flight.landings.map((landing) => ({
      touchdownS: epochS + landing.touchdown.t,
      speedMps: landing.groundSpeedKt * knotMps,
      ...(landing.rollM !== undefined && landing.rollM !== null && { groundRollM: landing.rollM }),
    })),
    phases,
    climbSpans: flight.climbs.map((climb) => ({ startS: epochS + climb.from.t, endS: epochS + climb.to.t })),
    legs: runs.map((run) => ({ kind: run.kind === 'turn360' ? 'turn' : 'leg', startS: run.startS, endS: run.endS })),
    climbRate(startS, endS) {
      // Height is known at the edges of bands: a broken line through them.
      const bands = flight.climbs.flatMap((climb) => climb.bands500ft);
      let seconds = 0;
      let over = 0;
      let through = 0;
      for (const band of bands) {
        const shared = Math.min(endS, epochS + band.t1) - Math.max(startS, epochS + band.t0);
        if (shared <= 0) continue;
        seconds += shared;
        over += shared * band.rocOverGroundFpm * fpmMps;
        through += shared * band.rocThroughAirFpm * fpmMps;
      }
      // Only where the bands cover nearly all of it, and no band is cut where its inside is not known.
      if (seconds < 0.97 * (endS - startS)) return undefined;
      return { overGround: over / seconds, throughAir: through / seconds };
    },
    wind(startS, endS) {
      const list = within(startS, endS);
      if (list.length === 0) return undefined;
      return { eastMps: weighted(list, (run) => run.wind.eastMs), northMps: weighted(list, (run) => run.wind.northMs) };
    },
    tas(startS, endS) {
      const list = within(startS, endS).filter((run) => run.kind !== 'turn360');
      return list.length > 0 ? weighted(list, (run) => run.tasKt) * knotMps : undefined;
    },
    groundSpeed(startS, endS) {
      const list = within(startS, endS);
      return list.length === 1 && list[0].kind !== 'turn360' ? list[0].groundSpeedKt * knotMps : undefined;
    },
    airIsStill: flight.conditions.verticalAirSigmaMs < 0.1,
    windIsSteady: flight.conditions.gustSigmaMs < 0.8,
  };
}
