import type { Measured } from '../../shared/measured.ts';
import type { Analysis, Climb, Takeoff } from '../../src/engine/analysis.ts';
import type { CampaignFlight, ReceiverName } from '../synth/index.ts';
import { valueAt } from '../synth/index.ts';
import { Random } from '../synth/random.ts';

/**
 * What an analysis of honest intervals would say of a flight: the truth with errors drawn from the very intervals that it
 * states. Takes a thousandth of the time of a real one, so that the comparison itself can be judged over hundreds of campaigns.
 */

/** Sigma of the lift-off instant by kind of recorder, seconds: what the real analysis reaches, in round numbers. */
const liftoffSigmaS: Partial<Record<ReceiverName, number>> = {
  'good5-vertical': 0.2,
  'film-vertical-10': 0.2,
  good5: 0.35,
  good10: 0.35,
  panel: 0.4,
  'film-vertical': 0.35,
  'handheld-no-speed': 0.8,
  logger: 0.8,
};

export function emulatedAnalysis(flight: CampaignFlight): Analysis {
  const random = new Random(`emulated/${flight.file}/${flight.day}/${flight.truth.takeoffMassKg}`);
  const { truth, table } = flight;
  const known = (truth: number, sigma: number): Measured => {
    const value = truth + random.normal(0, sigma);
    return { value, low: value - 1.96 * sigma, high: value + 1.96 * sigma, method: 'emulated' };
  };
  const liftoffS = liftoffSigmaS[flight.receiverName] ?? 0.5;
  const slow = random.normal(0, 3);
  const takeoffs = truth.takeoffs.map((takeoff): Takeoff => {
    const height = valueAt(table, 'heightM', takeoff.rollStartS) + slow;
    const base = {
      outcome: takeoff.outcome,
      rollStart: { timeS: takeoff.rollStartS, sigmaS: 0.3, origin: 'found' as const },
      rollingStart: takeoff.kind !== 'standing',
      startSpeedMps: takeoff.startSpeedMps,
      headingRad: takeoff.headingRad,
      latDeg: flight.setup.field.latDeg,
      lonDeg: flight.setup.field.lonDeg,
      startAltitudeM: height,
      remarks: [],
    };
    if (takeoff.liftoffS === undefined || takeoff.groundRollM === undefined) return { ...base, screens: [] };
    const speed = takeoff.liftoffGroundSpeedMps ?? 25;
    const late = random.normal(0, liftoffS);
    const roll = takeoff.groundRollM + late * speed + random.normal(0, 1);
    const sigma = Math.hypot(liftoffS * speed, 1);
    const acceleration = 1.5;
    const speedSigma = Math.hypot(liftoffS * acceleration, 0.1);
    return {
      ...base,
      liftoff: { timeS: takeoff.liftoffS + late, sigmaS: liftoffS, origin: 'found' },
      groundRollM: { value: roll, low: roll - 1.96 * sigma, high: roll + 1.96 * sigma, method: 'emulated' },
      timeToLiftoffS: known(takeoff.liftoffS - takeoff.rollStartS, liftoffS),
      liftoffSpeedMps: known(speed, speedSigma),
      screens: takeoff.screens.map((screen) => ({
        heightM: screen.heightM,
        time: { timeS: screen.timeS, sigmaS: 0.3, origin: 'found' as const },
        distanceM: known(screen.distanceM, Math.hypot(0.3 * speed, 1)),
        timeFromLiftoffS: screen.timeS - (takeoff.liftoffS ?? 0),
      })),
    };
  });
  const climbs = truth.climbs
    .filter((climb) => climb.bands.length > 0)
    .map((climb): Climb => {
      const sigma = 0.04;
      return {
        startS: climb.startS,
        endS: climb.endS,
        fromAltitudeM: climb.fromHeightM + slow,
        toAltitudeM: climb.toHeightM + slow,
        altitudeKind: 'msl',
        rateOfClimbMps: known(climb.rateOverGroundMps, sigma),
        bands: climb.bands.map((band) => ({
          fromAltitudeM: band.fromHeightM + slow,
          toAltitudeM: band.toHeightM + slow,
          startS: band.startS,
          endS: band.endS,
          rateOfClimbMps: known(band.rateOverGroundMps, 0.08),
          energyRateMps: known(band.energyRateMps - band.rateThroughAirMps + band.rateOverGroundMps, 0.1),
          groundSpeedMps: band.tasMps,
          trueAirspeedMps: band.tasMps,
          turningFraction: 0,
        })),
        remarks: [],
      };
    });
  const legs = truth.levelRuns.filter((run) => run.kind === 'leg');
  const mean = (of: (run: (typeof legs)[number]) => number): number =>
    legs.reduce((sum, run) => sum + of(run), 0) / legs.length;
  const levelRuns = legs.map((run) => ({
    startS: run.startS,
    endS: run.endS,
    altitudeM: run.heightM + slow,
    trackRad: 0,
    groundSpeedMps: known(run.groundSpeedMps, 0.1),
  }));
  const wind = { east: mean((run) => run.windEastMps), north: mean((run) => run.windNorthMps) };
  const winds =
    legs.length < 3
      ? []
      : [
          {
            startS: legs[0].startS,
            endS: legs[legs.length - 1].endS,
            altitudeM: mean((run) => run.heightM) + slow,
            fromRad: known(Math.atan2(-wind.east, -wind.north), 0.05),
            speedMps: known(Math.hypot(wind.east, wind.north), 0.25),
            trueAirspeedMps: known(
              mean((run) => run.tasMps),
              0.3,
            ),
            method: 'three or more headings',
          },
        ];
  return {
    recording: {
      startS: truth.epochS,
      endS: truth.phases[truth.phases.length - 1].endS,
      samples: 1000,
      rateHz: flight.recording.kind.rateHz,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: truth.phases,
    takeoffs,
    landings: [],
    climbs,
    levelRuns,
    winds,
    problems: [],
  };
}
