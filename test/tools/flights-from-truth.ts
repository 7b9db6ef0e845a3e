import { readFileSync } from 'node:fs';
import type { Analysis, Climb, ClimbBand, Landing, LevelRun, Takeoff, WindEstimate } from '../../shared/analysis.ts';
import { displayUnitSets } from '../../shared/display-units.ts';
import type { Measured } from '../../shared/measured.ts';
import type { AnalysedFlight } from '../../src/engine/compare/flight.ts';
import * as usual from '../../src/engine/spec/defaults.ts';
import type { Conditions, Spec, SurfaceKind } from '../../src/engine/spec/types.ts';

/**
 * Simulated flights whose `truth.json` stands beside the repository, turned into analysed flights: what a perfect analysis would have
 * found, with errors of the sizes that a real one has, and the pilot's notes as they are.
 */
const foot = 0.3048;
const knot = 1852 / 3600;
const footPerMinute = foot / 60;

/** What of the files is used; everything else is ignored. */
interface TruthFile {
  readonly reference: { readonly massKg: number; readonly loadOnTopOfEmptyKg: number };
  readonly flights: readonly TrueFlight[];
}

interface TrueFlight {
  readonly file: string;
  readonly configuration: string;
  readonly epochUtc: string;
  readonly takeoffs: readonly {
    readonly kind: string;
    readonly rejected: boolean;
    readonly brakeRelease: { readonly t: number };
    readonly startSpeedKt: number;
    readonly start: { readonly lat: number; readonly lon: number; readonly elevM: number };
    readonly runwayHeadingTrueDeg: number;
    readonly liftoff?: { readonly t: number; readonly groundSpeedKt: number };
    readonly groundRollM?: number;
    readonly groundRollTimeS?: number;
    readonly to50ft?: { readonly distanceM: number; readonly timeS: number; readonly t: number };
    readonly to100ft?: { readonly distanceM: number; readonly timeS: number; readonly t: number };
  }[];
  readonly landings: readonly {
    readonly touchdown: { readonly t: number };
    readonly lat: number;
    readonly lon: number;
    readonly groundSpeedKt: number;
    readonly rollM: number | null;
  }[];
  readonly climbs: readonly {
    readonly from: { readonly t: number };
    readonly to: { readonly t: number };
    readonly fromWheelHeightM: number;
    readonly toWheelHeightM: number;
    readonly rocOverGroundFpm: number;
    readonly bands500ft: readonly {
      readonly fromFt: number;
      readonly toFt: number;
      readonly complete: boolean;
      readonly t0: number;
      readonly t1: number;
      readonly rocOverGroundFpm: number;
      readonly rocThroughAirEnergyCorrectedFpm: number;
      readonly airVerticalMs: number;
      readonly tasKt: number;
      readonly turningFraction: number;
    }[];
  }[];
  readonly levelRuns: readonly {
    readonly kind: string;
    readonly setting: string;
    readonly from: { readonly t: number };
    readonly to: { readonly t: number };
    readonly tasKt: number;
    readonly groundSpeedKt: number;
    readonly trackDeg: number;
    readonly wind: { readonly fromDeg: number; readonly speedKt: number };
    readonly heightM: number;
  }[];
}

interface NotesFile {
  readonly configurations: Readonly<
    Record<
      string,
      {
        readonly description: string;
        readonly ratedPowerHp: number;
        readonly weighing: Readonly<Record<string, number>>;
      }
    >
  >;
  readonly aircraft: { readonly wingAreaM2: number; readonly spanM: number; readonly fuelDensityKgPerL: number };
  readonly flights: readonly NotedFlight[];
}

interface NotedFlight {
  readonly file: string;
  readonly oatC: number | null;
  readonly qnhHpa: number | null;
  readonly surfaceWind: { readonly fromTrueDeg: number; readonly speedKt: number; readonly gustKt?: number } | null;
  readonly takeoffMassKg: number | null;
  readonly fuelUsedL: number | null;
  readonly runway: {
    readonly name: string;
    readonly trueHeadingDeg: number;
    readonly elevationFt: number;
    readonly slopePercentUp: number;
    readonly surface: string;
  };
  readonly cruiseSetting: string | null;
  readonly technique?: string | null;
}

/** Errors of the analysis, one standard deviation. */
export interface AnalysisErrors {
  readonly liftoffS: number;
  readonly rateMps: number;
  readonly airspeedMps: number;
}

export const ordinaryErrors: AnalysisErrors = { liftoffS: 0.35, rateMps: 0.1, airspeedMps: 0.4 };

function measured(value: number, sigma: number, method = 'simulated'): Measured {
  return { value, low: value - 1.96 * sigma, high: value + 1.96 * sigma, method };
}

/**
 * @param folder Folder with `truth.json` and `conditions.json`.
 * @param normal Standard normal random numbers.
 */
export function flightsFromTruth(
  folder: string,
  normal: () => number,
  errors: AnalysisErrors = ordinaryErrors,
): { readonly spec: Spec; readonly flights: readonly AnalysedFlight[]; readonly truth: TruthFile } {
  const truth = JSON.parse(readFileSync(`${folder}/truth.json`, 'utf8')) as TruthFile;
  const notes = JSON.parse(readFileSync(`${folder}/conditions.json`, 'utf8')) as NotesFile;
  const flights = truth.flights.map((flight): AnalysedFlight => {
    const note = notes.flights.find(({ file }) => file === flight.file);
    if (note === undefined) throw new Error(`no notes for ${flight.file}`);
    return {
      entry: { track: flight.file, configuration: flight.configuration, conditions: conditionsOf(note), overrides: [] },
      file: flight.file,
      day: flight.epochUtc.slice(0, 10),
      analysis: analysisOf(flight, normal, errors),
      problems: [],
    };
  });
  const spec: Spec = {
    title: 'Simulated flights',
    aircraft: {
      name: 'simulated',
      propeller: 'fixed-pitch',
      turbocharged: false,
      referenceMassKg: truth.reference.massKg,
      wingAreaM2: notes.aircraft.wingAreaM2,
      spanM: notes.aircraft.spanM,
      fuelDensityKgM3: 1000 * notes.aircraft.fuelDensityKgPerL,
    },
    configurations: Object.entries(notes.configurations).map(([id, { description, ratedPowerHp, weighing }]) => ({
      id,
      description,
      ratedPowerW: ratedPowerHp * 745.7,
      emptyMassKg: {
        value: weighing.leftMainKg + weighing.rightMainKg + weighing.tailKg,
        sigma: usual.emptyMassSigmaKg,
        sigmaStated: false,
      },
    })),
    baseline: 'A',
    flights: flights.map(({ entry }) => entry),
    exclusions: [],
    reference: {
      massKg: truth.reference.massKg,
      loadKg: truth.reference.loadOnTopOfEmptyKg,
      densityAltitudeM: 0,
      headwindMps: 0,
      slope: 0,
      climbDensityAltitudeM: 2000 * foot,
      cruiseDensityAltitudeM: 3000 * foot,
    },
    questions: { ask: [{ metric: 'ground-roll', primary: true }], at: ['equal-weight', 'equal-load'] },
    report: { units: displayUnitSets.icao, hidePositions: false, figures: false },
  };
  return { spec, flights, truth };
}

function conditionsOf(note: NotedFlight): Conditions {
  const noted = (value: number, sigma: number) => ({ value, sigma, sigmaStated: false });
  const wind = note.surfaceWind;
  const [kind, ...states] = note.runway.surface.split(',').map((word) => word.trim());
  return {
    ...(note.oatC === null ? {} : { airTemperatureK: noted(note.oatC + 273.15, usual.airTemperatureSigmaK) }),
    ...(note.qnhHpa === null ? {} : { altimeterSettingPa: noted(note.qnhHpa * 100, usual.altimeterSettingSigmaPa) }),
    ...(wind === null
      ? {}
      : {
          wind: {
            fromRad: (wind.fromTrueDeg * Math.PI) / 180,
            speedMps: wind.speedKt * knot,
            sigmaMps: usual.windSigmaMps(wind.speedKt * knot),
            sigmaStated: false,
          },
        }),
    ...(note.takeoffMassKg === null
      ? {}
      : { takeoffMassKg: noted(note.takeoffMassKg, usual.takeoffMassSigmaKg(note.takeoffMassKg)) }),
    ...(note.fuelUsedL === null ? {} : { fuelUsedM3: noted(note.fuelUsedL / 1000, usual.fuelUsedSigmaM3) }),
    runway: {
      name: note.runway.name,
      headingRad: (note.runway.trueHeadingDeg * Math.PI) / 180,
      elevationM: note.runway.elevationFt * foot,
      slope: noted(note.runway.slopePercentUp / 100, usual.slopeSigma),
      surface: {
        kind: (kind === 'asphalt' ? 'paved' : kind) as SurfaceKind,
        wet: states.includes('wet'),
        soft: false,
        long: false,
      },
    },
    ...(typeof note.technique === 'string' ? { technique: note.technique.split(',')[0] } : {}),
    ...(note.cruiseSetting === null ? {} : { cruiseSetting: note.cruiseSetting }),
  };
}

function analysisOf(flight: TrueFlight, normal: () => number, errors: AnalysisErrors): Analysis {
  const epochS = Date.parse(flight.epochUtc) / 1000;
  const instant = (t: number, sigmaS: number) => ({ timeS: epochS + t, sigmaS, origin: 'found' as const });
  const takeoffs = flight.takeoffs.map((takeoff): Takeoff => {
    const base = {
      rollStart: instant(takeoff.brakeRelease.t, 0.3),
      startSpeedMps: takeoff.startSpeedKt * knot,
      rollingStart: takeoff.kind === 'rolling',
      headingRad: (takeoff.runwayHeadingTrueDeg * Math.PI) / 180,
      latDeg: takeoff.start.lat,
      lonDeg: takeoff.start.lon,
      startAltitudeM: takeoff.start.elevM,
      screens: [],
      remarks: [],
    };
    if (takeoff.rejected || takeoff.liftoff === undefined || takeoff.groundRollM === undefined) {
      return { ...base, outcome: 'rejected' };
    }
    const speedMps = takeoff.liftoff.groundSpeedKt * knot;
    const errorS = normal() * errors.liftoffS;
    const sigmaM = Math.hypot(speedMps * errors.liftoffS, 1.5);
    const screens = [
      [50, takeoff.to50ft],
      [100, takeoff.to100ft],
    ] as const;
    return {
      ...base,
      outcome: takeoff.kind === 'touch-and-go' ? 'touch-and-go' : 'flown',
      liftoff: instant(takeoff.liftoff.t + errorS, errors.liftoffS),
      groundRollM: measured(takeoff.groundRollM + speedMps * errorS + 1.5 * normal(), sigmaM),
      timeToLiftoffS: measured((takeoff.groundRollTimeS ?? Number.NaN) + errorS, errors.liftoffS),
      liftoffSpeedMps: measured(speedMps + 1.5 * errorS + 0.1 * normal(), Math.hypot(1.5 * errors.liftoffS, 0.1)),
      screens: screens.flatMap(([feet, screen]) =>
        screen === undefined
          ? []
          : [
              {
                heightM: feet * foot,
                time: instant(screen.t, 0.3),
                distanceM: measured(screen.distanceM + 8 * normal(), 8),
                timeFromLiftoffS: screen.timeS - (takeoff.groundRollTimeS ?? 0) - errorS,
              },
            ],
      ),
    };
  });
  const landings = flight.landings.map(
    (landing): Landing => ({
      touchdown: instant(landing.touchdown.t, 0.5),
      headingRad: takeoffs[0]?.headingRad ?? 0,
      latDeg: landing.lat,
      lonDeg: landing.lon,
      touchdownSpeedMps: measured(landing.groundSpeedKt * knot, 0.4),
      ...(landing.rollM === null ? {} : { groundRollM: measured(landing.rollM + 10 * normal(), 10) }),
      remarks: [],
    }),
  );
  const climbs = flight.climbs.map((climb): Climb => {
    const bands = climb.bands500ft
      .filter((band) => band.complete)
      .map((band): ClimbBand => {
        // Over the ground and corrected for speed: what a recording can show; the air's own motion stays in it.
        const energy = band.rocThroughAirEnergyCorrectedFpm * footPerMinute + band.airVerticalMs;
        const sigma = errors.rateMps;
        return {
          fromAltitudeM: band.fromFt * foot,
          toAltitudeM: band.toFt * foot,
          startS: epochS + band.t0,
          endS: epochS + band.t1,
          rateOfClimbMps: measured(band.rocOverGroundFpm * footPerMinute + sigma * normal(), sigma),
          energyRateMps: measured(energy + sigma * normal(), sigma),
          groundSpeedMps: band.tasKt * knot,
          trueAirspeedMps: band.tasKt * knot,
          turningFraction: band.turningFraction,
        };
      });
    const mean = bands.reduce((sum, band) => sum + (band.energyRateMps?.value ?? 0), 0) / Math.max(1, bands.length);
    return {
      startS: epochS + climb.from.t,
      endS: epochS + climb.to.t,
      fromAltitudeM: climb.fromWheelHeightM,
      toAltitudeM: climb.toWheelHeightM,
      altitudeKind: 'msl',
      rateOfClimbMps: measured(climb.rocOverGroundFpm * footPerMinute, errors.rateMps),
      ...(bands.length === 0 ? {} : { energyRateMps: measured(mean, errors.rateMps) }),
      bands,
      remarks: [],
    };
  });
  const legs = flight.levelRuns.filter((run) => run.kind === 'cruise_leg');
  const levelRuns = legs.map(
    (leg): LevelRun => ({
      startS: epochS + leg.from.t,
      endS: epochS + leg.to.t,
      altitudeM: leg.heightM,
      trackRad: (leg.trackDeg * Math.PI) / 180,
      groundSpeedMps: measured(leg.groundSpeedKt * knot, 0.3),
    }),
  );
  const settings = [...new Set(legs.map((leg) => leg.setting))];
  const winds = settings.flatMap((setting): WindEstimate[] => {
    const own = legs.filter((leg) => leg.setting === setting);
    if (own.length < 3) return [];
    const mean = own.reduce((sum, leg) => sum + leg.tasKt * knot, 0) / own.length;
    return [
      {
        startS: epochS + own[0].from.t,
        endS: epochS + own[own.length - 1].to.t,
        altitudeM: own[0].heightM,
        fromRad: measured((own[0].wind.fromDeg * Math.PI) / 180, 0.2),
        speedMps: measured(own[0].wind.speedKt * knot, 0.5),
        trueAirspeedMps: measured(mean + errors.airspeedMps * normal(), errors.airspeedMps),
        method: 'three or more headings',
      },
    ];
  });
  return {
    recording: {
      startS: epochS,
      endS: epochS + 3600,
      samples: 3600,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: [],
    takeoffs,
    landings,
    climbs,
    levelRuns,
    winds,
    problems: [],
  };
}
