import { formatTime } from '../../shared/format.ts';
import type { Instant, Interval } from '../../shared/measured.ts';
import type { Problem } from '../../shared/problem.ts';
import type {
  Analysis,
  Climb,
  ClimbBand,
  EventOverride,
  Landing,
  LevelRun,
  Takeoff,
  WindEstimate,
} from '../engine/analysis.ts';
import type { RecordingOutline } from '../engine/recordings/index.ts';
import { filmJson } from './film-json.ts';
import { recordingsJson } from './recordings-json.ts';
import { problemJson } from './show-problems.ts';

/** A recording that was read and, where it could be, analysed. */
export interface InspectedFile {
  readonly file: string;
  readonly format?: string;
  readonly analysis?: Analysis;
  /** Of reading and of the analysis. */
  readonly problems: readonly Problem[];
  /** What else the file holds, in plain sentences. */
  readonly contents: readonly string[];
  /** Events that the pilot gave, used or not. */
  readonly overrides?: readonly EventOverride[];
  /** To tell whether other files are of the same flight. */
  readonly outline?: RecordingOutline;
}

type Json = Record<string, unknown>;

/** A number as text keeps it: nine significant digits, more than any recorder knows. */
function number(value: number): number {
  return Number(value.toPrecision(9));
}

/** `{value, low, high}`, or nothing where it cannot be told. */
export function measuredJson(interval: Interval | undefined): Json | undefined {
  if (interval === undefined || ![interval.value, interval.low, interval.high].every(Number.isFinite)) return undefined;
  return { value: number(interval.value), low: number(interval.low), high: number(interval.high) };
}

function degrees(interval: Interval | undefined): Json | undefined {
  const scale = 180 / Math.PI;
  return measuredJson(
    interval && { value: interval.value * scale, low: interval.low * scale, high: interval.high * scale },
  );
}

function compass(rad: number): number {
  return number(((((rad * 180) / Math.PI) % 360) + 360) % 360);
}

/** Leaves out what cannot be told. */
export function told(entries: Json): Json {
  return Object.fromEntries(
    Object.entries(entries).filter(
      ([, value]) => value !== undefined && !(typeof value === 'number' && !Number.isFinite(value)),
    ),
  );
}

function remarksJson(remarks: readonly string[]): readonly string[] | undefined {
  return remarks.length === 0 ? undefined : remarks;
}

/** Which of the named instants the pilot gave; nothing where all were found. */
function byPilot(instants: Readonly<Record<string, Instant | undefined>>): readonly string[] | undefined {
  const given = Object.keys(instants).filter((name) => instants[name]?.origin === 'pilot');
  return given.length === 0 ? undefined : given;
}

function takeoffJson(takeoff: Takeoff): Json {
  return told({
    outcome: takeoff.outcome,
    rollStart: formatTime(takeoff.rollStart.timeS),
    liftoff: takeoff.liftoff && formatTime(takeoff.liftoff.timeS),
    rollingStart: takeoff.rollingStart,
    groundRollM: measuredJson(takeoff.groundRollM),
    liftoffSpeedMps: measuredJson(takeoff.liftoffSpeedMps),
    timeToLiftoffS: measuredJson(takeoff.timeToLiftoffS),
    peakSpeedMps: measuredJson(takeoff.peakSpeedMps),
    trackDeg: compass(takeoff.headingRad),
    screens: takeoff.screens.map((screen) =>
      told({
        heightM: number(screen.heightM),
        time: formatTime(screen.time.timeS),
        distanceM: measuredJson(screen.distanceM),
      }),
    ),
    byPilot: byPilot({ rollStart: takeoff.rollStart, liftoff: takeoff.liftoff }),
    remarks: remarksJson(takeoff.remarks),
  });
}

function bandJson(band: ClimbBand): Json {
  return told({
    fromAltitudeM: number(band.fromAltitudeM),
    toAltitudeM: number(band.toAltitudeM),
    rateOfClimbMps: measuredJson(band.rateOfClimbMps),
    energyRateMps: measuredJson(band.energyRateMps),
  });
}

function climbJson(climb: Climb): Json {
  return told({
    start: formatTime(climb.startS),
    end: formatTime(climb.endS),
    fromAltitudeM: number(climb.fromAltitudeM),
    toAltitudeM: number(climb.toAltitudeM),
    altitudeKind: climb.altitudeKind,
    rateOfClimbMps: measuredJson(climb.rateOfClimbMps),
    energyRateMps: measuredJson(climb.energyRateMps),
    bestMinuteMps: measuredJson(climb.bestMinuteMps),
    gradient: measuredJson(climb.gradient),
    bands: climb.bands.map(bandJson),
    remarks: remarksJson(climb.remarks),
  });
}

function levelRunJson(run: LevelRun): Json {
  return told({
    start: formatTime(run.startS),
    end: formatTime(run.endS),
    altitudeM: number(run.altitudeM),
    trackDeg: compass(run.trackRad),
    groundSpeedMps: measuredJson(run.groundSpeedMps),
    tasMps: measuredJson(run.trueAirspeedMps),
    engineSpeedRpm: run.engineSpeedRpm,
    fuelFlowM3ps: measuredJson(run.fuelFlowM3ps),
  });
}

function windJson(wind: WindEstimate): Json {
  return told({
    start: formatTime(wind.startS),
    end: formatTime(wind.endS),
    altitudeM: number(wind.altitudeM),
    fromDeg: degrees(wind.fromRad),
    speedMps: measuredJson(wind.speedMps),
    tasMps: measuredJson(wind.trueAirspeedMps),
    method: wind.method,
  });
}

function landingJson(landing: Landing): Json {
  return told({
    touchdown: formatTime(landing.touchdown.timeS),
    stop: landing.stop && formatTime(landing.stop.timeS),
    groundRollM: measuredJson(landing.groundRollM),
    touchdownSpeedMps: measuredJson(landing.touchdownSpeedMps),
    trackDeg: compass(landing.headingRad),
    byPilot: byPilot({ touchdown: landing.touchdown, stop: landing.stop }),
    remarks: remarksJson(landing.remarks),
  });
}

/** One object of `inspect --json`; the format is described in JSON.md. */
export function inspectionJson(inspected: InspectedFile): Json {
  const { analysis } = inspected;
  const recording = analysis?.recording;
  const film = filmJson(analysis);
  const recordings = recordingsJson(analysis);
  return {
    file: inspected.file,
    ...(recordings === undefined ? {} : { recordings }),
    recording: told({
      format: inspected.format,
      start: recording && formatTime(recording.startS),
      end: recording && formatTime(recording.endS),
      samples: recording?.samples,
      rateHz: recording && number(recording.rateHz),
      gaps: recording?.gaps.map((gap) => ({ start: formatTime(gap.startS), end: formatTime(gap.endS) })),
      altitudeKinds: recording?.altitudeKinds,
      problems: inspected.problems.map(problemJson),
    }),
    phases: (analysis?.phases ?? []).map((phase) => ({
      kind: phase.kind,
      start: formatTime(phase.startS),
      end: formatTime(phase.endS),
    })),
    takeoffs: (analysis?.takeoffs ?? []).map(takeoffJson),
    climbs: (analysis?.climbs ?? []).map(climbJson),
    levelRuns: (analysis?.levelRuns ?? []).map(levelRunJson),
    winds: (analysis?.winds ?? []).map(windJson),
    landings: (analysis?.landings ?? []).map(landingJson),
    ...(film === undefined ? {} : { film }),
  };
}
