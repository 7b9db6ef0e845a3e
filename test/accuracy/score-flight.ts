import type { Measured } from '../../shared/measured.ts';
import type { Analysis, Landing, Takeoff } from '../../src/engine/analysis.ts';
import type { Blind, KnownFlight, KnownLanding, KnownTakeoff } from './known-answers.ts';
import { mean, type Observation, type Tally } from './tally.ts';

/** Holds what the engine found in one recording against what truly happened. */
const z95 = 1.959964;

function observed(measured: Measured | undefined, truth: number | undefined): Observation | undefined {
  if (!measured || truth === undefined) return undefined;
  return { value: measured.value, low: measured.low, high: measured.high, truth };
}

function instant(
  found: { timeS: number; sigmaS: number } | undefined,
  truthS: number | undefined,
): Observation | undefined {
  if (!found || truthS === undefined) return undefined;
  // Errors of times are asked as differences: the truth is 0.
  const value = found.timeS - truthS;
  return { value, low: value - z95 * found.sigmaS, high: value + z95 * found.sigmaS, truth: 0 };
}

export function scoreFlight(analysis: Analysis, known: KnownFlight, blind: Blind, tally: Tally): void {
  scoreTakeoffs(analysis, known, blind, tally);
  scoreLandings(analysis, known, blind, tally);
  scoreClimbs(analysis, known, tally);
  scoreLevel(analysis, known, tally);
  scorePhases(analysis, known, blind, tally);
}

/** The shortest roll that the aims speak of: half a second is a fifth of what is shorter. */
const usualRollM = 90;

/** Seconds within which a found event counts as the true one: well under the time between two take-offs. */
const matchS = 25;

function scoreTakeoffs(analysis: Analysis, known: KnownFlight, blind: Blind, tally: Tally): void {
  const free = new Set<Takeoff>(analysis.takeoffs);
  for (const truth of known.takeoffs) {
    const at = truth.liftoffS ?? truth.rollStartS + 5;
    const near = [...free]
      .filter((found) => Math.abs((found.liftoff?.timeS ?? found.rollStart.timeS + 5) - at) < matchS)
      .sort(
        (a, b) => Math.abs(a.rollStart.timeS - truth.rollStartS) - Math.abs(b.rollStart.timeS - truth.rollStartS),
      )[0];
    if (near) free.delete(near);
    const lastS = truth.screens.at(-1)?.timeS ?? at + 10;
    const hidden = blind(truth.rollStartS) || blind(at) || blind((truth.rollStartS + at) / 2) || blind(lastS);
    if (hidden) continue;
    // Broken off at the pace of brisk taxiing: nobody could call it either way.
    if (truth.outcome === 'rejected' && (truth.peakSpeedMps ?? 20) < 8) continue;
    const event =
      truth.outcome === 'rejected' ? 'rejected take-off' : truth.kind === 'touch-and-go' ? 'touch-and-go' : 'take-off';
    if (!near) {
      tally.count(event, known.group, 'missed');
      tally.notes.push(`missed ${event}: ${known.name} at ${new Date(truth.rollStartS * 1000).toISOString()}`);
      continue;
    }
    tally.count(event, known.group, 'found');
    if (near.outcome !== truth.outcome) {
      tally.notes.push(
        `${event} called ${near.outcome}: ${known.name} at ${new Date(truth.rollStartS * 1000).toISOString()}`,
      );
      tally.count(`outcome of ${event}`, known.group, 'missed');
      continue;
    }
    tally.count(`outcome of ${event}`, known.group, 'found');
    scoreTakeoff(near, truth, known, tally);
  }
  for (const found of free) {
    if (blind(found.rollStart.timeS) || (found.liftoff && blind(found.liftoff.timeS))) continue;
    // A take-off whose truth lies in a gap may still be found from its other half.
    if (
      known.takeoffs.some((truth) => Math.abs(truth.rollStartS - found.rollStart.timeS) < 60 && blind(truth.rollStartS))
    )
      continue;
    tally.count(found.outcome === 'rejected' ? 'rejected take-off' : 'take-off', known.group, 'invented');
    tally.notes.push(
      `invented ${found.outcome}: ${known.name} at ${new Date(found.rollStart.timeS * 1000).toISOString()}`,
    );
  }
}

function scoreTakeoff(found: Takeoff, truth: KnownTakeoff, known: KnownFlight, tally: Tally): void {
  const { group } = known;
  if (truth.outcome === 'rejected') return;
  const kind = truth.kind === 'standing' ? '' : ` (${truth.kind})`;
  tally.add(`lift-off time${kind}`, group, instant(found.liftoff, truth.liftoffS));
  tally.add(`liftoff-speed${kind}`, group, observed(found.liftoffSpeedMps, truth.liftoffSpeedMps));
  tally.add(`ground-roll${kind}`, group, observed(found.groundRollM, truth.groundRollM));
  if (kind === '' && (truth.groundRollM ?? 0) >= usualRollM) {
    tally.add('ground-roll of 90 m or more', group, observed(found.groundRollM, truth.groundRollM));
  }
  if (truth.kind === 'touch-and-go') return;
  tally.count(
    `rolling start told from standing`,
    group,
    found.rollingStart === (truth.kind === 'rolling') ? 'found' : 'missed',
  );
  if (truth.kind === 'standing') {
    tally.add('roll start time', group, instant(found.rollStart, truth.rollStartS));
    if (truth.liftoffS !== undefined) {
      tally.add('time-to-liftoff', group, observed(found.timeToLiftoffS, truth.liftoffS - truth.rollStartS));
    }
  }
  for (const screen of truth.screens) {
    const same = found.screens.find((one) => Math.abs(one.heightM - screen.heightM) < 0.5);
    const name = `distance-over-${Math.round(screen.heightM)}m${kind}`;
    if (!same) continue;
    tally.add(name, group, observed(same.distanceM, screen.distanceM));
    if (truth.liftoffS !== undefined)
      tally.add(`time over ${Math.round(screen.heightM)} m`, group, instant(same.time, screen.timeS));
  }
}

function scoreLandings(analysis: Analysis, known: KnownFlight, blind: Blind, tally: Tally): void {
  const free = new Set<Landing>(analysis.landings);
  for (const truth of known.landings) {
    const near = [...free]
      .filter((found) => Math.abs(found.touchdown.timeS - truth.touchdownS) < matchS)
      .sort(
        (a, b) => Math.abs(a.touchdown.timeS - truth.touchdownS) - Math.abs(b.touchdown.timeS - truth.touchdownS),
      )[0];
    if (near) free.delete(near);
    if (blind(truth.touchdownS) || blind(truth.touchdownS - 6) || blind(truth.touchdownS + 8)) continue;
    if (!near) {
      tally.count('landing', known.group, 'missed');
      tally.notes.push(`missed landing: ${known.name} at ${new Date(truth.touchdownS * 1000).toISOString()}`);
      continue;
    }
    tally.count('landing', known.group, 'found');
    scoreLanding(near, truth, known, tally);
  }
  for (const found of free) {
    if (blind(found.touchdown.timeS)) continue;
    tally.count('landing', known.group, 'invented');
    tally.notes.push(`invented landing: ${known.name} at ${new Date(found.touchdown.timeS * 1000).toISOString()}`);
  }
}

function scoreLanding(found: Landing, truth: KnownLanding, known: KnownFlight, tally: Tally): void {
  tally.add('touchdown time', known.group, instant(found.touchdown, truth.touchdownS));
  tally.add('touchdown speed', known.group, observed(found.touchdownSpeedMps, truth.speedMps));
  tally.add('landing-roll', known.group, observed(found.groundRollM, truth.groundRollM));
}

function scoreClimbs(analysis: Analysis, known: KnownFlight, tally: Tally): void {
  for (const span of known.climbSpans) {
    if (span.endS - span.startS < 60) continue;
    const covered = analysis.climbs.reduce(
      (sum, climb) => sum + Math.max(0, Math.min(climb.endS, span.endS) - Math.max(climb.startS, span.startS)),
      0,
    );
    tally.count(
      'climb of a minute or more',
      known.group,
      covered > 0.5 * (span.endS - span.startS) ? 'found' : 'missed',
    );
  }
  for (const climb of analysis.climbs) {
    const whole = known.climbRate(climb.startS, climb.endS);
    tally.add('rate-of-climb, whole', known.group, observed(climb.rateOfClimbMps, whole?.overGround));
    if (known.airIsStill)
      tally.add('rate-of-climb, still air', known.group, observed(climb.rateOfClimbMps, whole?.throughAir));
    for (const band of climb.bands) {
      const rate = known.climbRate(band.startS, band.endS);
      tally.add('rate-of-climb, band', known.group, observed(band.rateOfClimbMps, rate?.overGround));
      if (known.airIsStill)
        tally.add('rate-of-climb, band, still air', known.group, observed(band.rateOfClimbMps, rate?.throughAir));
    }
  }
}

function scoreLevel(analysis: Analysis, known: KnownFlight, tally: Tally): void {
  const { group } = known;
  const legs = known.legs.filter((leg) => leg.kind === 'leg' && leg.endS - leg.startS > 50);
  for (const leg of legs) {
    const covered = analysis.levelRuns.some(
      (run) => Math.min(run.endS, leg.endS) - Math.max(run.startS, leg.startS) > 0.4 * (leg.endS - leg.startS),
    );
    tally.count('level leg of 50 s or more', group, covered ? 'found' : 'missed');
  }
  for (const run of analysis.levelRuns) {
    // Steady legs only: what the engine takes from elsewhere has no known answer of a steady run.
    const leg = legs.find(
      (one) => Math.min(run.endS, one.endS) - Math.max(run.startS, one.startS) > 0.7 * (run.endS - run.startS),
    );
    if (!leg) continue;
    tally.add('ground speed, level', group, observed(run.groundSpeedMps, known.groundSpeed(run.startS, run.endS)));
    tally.add('level-speed (TAS)', group, observed(run.trueAirspeedMps, known.tas(run.startS, run.endS)));
  }
  for (const estimate of analysis.winds) {
    const wind = known.wind(estimate.startS, estimate.endS);
    if (!wind) continue;
    const method = /turn/.test(estimate.method) ? 'turn' : /airspeed/.test(estimate.method) ? 'airspeed' : 'headings';
    const speed = Math.hypot(wind.eastMps, wind.northMps);
    tally.add(`wind speed, ${method}`, group, observed(estimate.speedMps, speed));
    const east = -estimate.speedMps.value * Math.sin(estimate.fromRad.value);
    const north = -estimate.speedMps.value * Math.cos(estimate.fromRad.value);
    const off = Math.hypot(east - wind.eastMps, north - wind.northMps);
    tally.add(`wind vector error, ${method}`, group, { value: off, low: 0, high: off, truth: 0 });
    if (known.windIsSteady) {
      tally.add(`wind vector error, steady wind, ${method}`, group, { value: off, low: 0, high: off, truth: 0 });
    }
    if (speed > 2) {
      const trueFrom = Math.atan2(-wind.eastMps, -wind.northMps);
      const turn = 2 * Math.PI * Math.round((trueFrom - estimate.fromRad.value) / (2 * Math.PI));
      tally.add(`wind direction, ${method}`, group, {
        value: estimate.fromRad.value - (trueFrom - turn),
        low: estimate.fromRad.low - (trueFrom - turn),
        high: estimate.fromRad.high - (trueFrom - turn),
        truth: 0,
      });
    }
    const inside = legs.filter((leg) => leg.startS > estimate.startS - 15 && leg.endS < estimate.endS + 15);
    if (estimate.trueAirspeedMps && inside.length >= 3) {
      const tas = inside.map((leg) => known.tas(leg.startS, leg.endS)).filter((value) => value !== undefined);
      if (tas.length === inside.length) {
        if (known.windIsSteady) {
          tally.add(`TAS, steady wind, ${method}`, group, observed(estimate.trueAirspeedMps, mean(tas)));
        }
        tally.add(`TAS, ${method}`, group, observed(estimate.trueAirspeedMps, mean(tas)));
      }
    }
  }
}

/** Boundaries that an instant can be given to; the rest (where a climb ends) are judged with the same 3 s. */
function scorePhases(analysis: Analysis, known: KnownFlight, blind: Blind, tally: Tally): void {
  for (let i = 1; i < known.phases.length; i++) {
    const before = known.phases[i - 1];
    const phase = known.phases[i];
    const at = phase.startS;
    if (blind(at - 5) || blind(at) || blind(at + 5)) continue;
    const name = `${before.kind} > ${phase.kind}`;
    // The nearest boundary of the engine at which the same phase begins (or the same one ends).
    let error = Number.POSITIVE_INFINITY;
    for (let k = 0; k < analysis.phases.length; k++) {
      const found = analysis.phases[k];
      if (found.kind === phase.kind && Math.abs(found.startS - at) < Math.abs(error)) error = found.startS - at;
      if (found.kind === before.kind && Math.abs(found.endS - at) < Math.abs(error)) error = found.endS - at;
    }
    const good = Math.abs(error) <= 3;
    // Circuit entry is no instant that the taxonomy fixes: shown, and judged apart.
    const group = phase.kind === 'approach' ? 'no definition' : 'phase boundary';
    tally.count(name, group, good ? 'found' : 'missed');
    if (Math.abs(error) < 120) tally.add(name, group, { value: error, low: error - 3, high: error + 3, truth: 0 });
  }
}
