import type { Analysis, Takeoff } from '../../shared/analysis.ts';
import type { OpenedFlight } from '../../shared/protocol.ts';
import { defaultDisplayUnits } from '../../shared/display-units.ts';
import { noConditions } from '../../shared/flight-view.ts';
import type { Measured } from '../../shared/measured.ts';
import { deriveMotion } from '../../src/engine/track/derive-motion.ts';
import { columnsOf, flightView, readSummary } from '../../src/engine/view/index.ts';
import { type FlightOptions, simulatedFlight } from '../synth/index.ts';

/** The truth of a simulated flight, dressed as what the engine would find: pages are tested without the engine's finders. */
function analysisOf(flight: ReturnType<typeof simulatedFlight>): Analysis {
  const { truth, track } = flight;
  const about = (value: number, share: number, method: string): Measured => ({
    value,
    low: value * (1 - share),
    high: value * (1 + share),
    method,
  });
  const at = (timeS: number, sigmaS: number) => ({ timeS, sigmaS, origin: 'found' as const });
  const takeoffs = truth.takeoffs.map((one): Takeoff => {
    const { liftoffS, groundRollM, liftoffGroundSpeedMps } = one;
    return {
      outcome: one.outcome,
      rollStart: at(one.rollStartS, 0.5),
      ...(liftoffS === undefined ? {} : { liftoff: at(liftoffS, 0.4) }),
      rollingStart: one.kind !== 'standing',
      startSpeedMps: one.startSpeedMps,
      headingRad: one.headingRad,
      latDeg: track.latDeg[0],
      lonDeg: track.lonDeg[0],
      ...(groundRollM === undefined
        ? {}
        : { groundRollM: about(groundRollM, 0.06, 'speed integrated from start of roll to lift-off') }),
      ...(liftoffGroundSpeedMps === undefined
        ? {}
        : { liftoffSpeedMps: about(liftoffGroundSpeedMps, 0.03, 'ground speed at lift-off') }),
      screens: one.screens.map((screen) => ({
        heightM: screen.heightM,
        time: at(screen.timeS, 0.5),
        distanceM: about(screen.distanceM, 0.07, 'height above lift-off, smoothed'),
        timeFromLiftoffS: screen.timeS - (liftoffS ?? screen.timeS),
      })),
      remarks: [],
    };
  });
  return {
    recording: {
      startS: track.timeS[0],
      endS: track.timeS[track.timeS.length - 1],
      samples: track.timeS.length,
      rateHz: flight.receiver.rateHz,
      gaps: [],
      altitudeKinds: track.altitudes.map(({ kind }) => kind),
      speedSource: track.groundSpeedMps === undefined ? 'differenced' : 'receiver',
    },
    phases: truth.phases,
    takeoffs,
    landings: truth.landings.map((one) => ({
      touchdown: at(one.touchdownS, 0.5),
      ...(one.stopS === undefined ? {} : { stop: at(one.stopS, 0.8) }),
      ...(one.groundRollM === undefined
        ? {}
        : { groundRollM: about(one.groundRollM, 0.08, 'speed integrated from touchdown') }),
      headingRad: one.headingRad,
      latDeg: track.latDeg[0],
      lonDeg: track.lonDeg[0],
      remarks: [],
    })),
    climbs: truth.climbs.map((one) => ({
      startS: one.startS,
      endS: one.endS,
      fromAltitudeM: one.fromHeightM,
      toAltitudeM: one.toHeightM,
      altitudeKind: 'msl',
      rateOfClimbMps: about(one.rateOverGroundMps, 0.08, 'slope of height on time over the climb'),
      bands: [],
      remarks: [],
    })),
    levelRuns: truth.levelRuns.map((one) => ({
      startS: one.startS,
      endS: one.endS,
      altitudeM: one.heightM,
      trackRad: 0,
      groundSpeedMps: about(one.groundSpeedMps, 0.01, 'mean over the run'),
      trueAirspeedMps: about(one.tasMps, 0.02, 'ground speeds on several headings'),
    })),
    winds: [],
    problems: [],
  };
}

/** What the host would answer for a simulated flight. */
export function openedFlight(seed: string, options: FlightOptions = {}): OpenedFlight {
  const flight = simulatedFlight(seed, options);
  const { motion, problems } = deriveMotion(flight.track);
  const columns = columnsOf(motion, flight.track);
  if (columns === undefined) throw new Error('the simulated flight has no fix');
  const read = readSummary({ format: 'gpx', track: flight.track, problems, contents: [] });
  return {
    outcome: 'flight',
    pending: false,
    flight: flightView('morning.gpx', read, analysisOf(flight), columns, {
      fileName: 'morning.gpx.events.yaml',
      overrides: [],
      problems: [],
    }),
    columns,
    settings: { units: defaultDisplayUnits },
    conditions: noConditions,
  };
}
