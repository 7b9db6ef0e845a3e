import type { Phase } from '../../../shared/analysis.ts';
import type { PhaseKind } from '../../../shared/phase-kind.ts';
import type { CoarseSeries } from '../events/coarse-series.ts';
import type { FoundEvents } from '../events/find-events.ts';

/** Slower than this is standing (a walking pace; 1 kt is half of it, but positions wander), faster than `movingMps` is not. */
const standingMps = 0.8;
const movingMps = 1.3;
const stillMps = 0.35;
/** Shorter stops are part of taxiing. */
const shortestStopS = 2;

/** Phases between two times on the ground: standing, taxi, and the rolls that the events mark. */
export function groundPhases(series: CoarseSeries, events: FoundEvents, fromS: number, toS: number): Phase[] {
  const rolls: Phase[] = [];
  for (const takeoff of events.takeoffs) {
    const endS = takeoff.liftoff?.timeS ?? rejectedEnd(series, takeoff.rollStart.timeS, toS);
    rolls.push({ kind: 'takeoff-roll', startS: takeoff.rollStart.timeS, endS });
  }
  for (const landing of events.landings) {
    const next = events.takeoffs.find(
      (takeoff) => takeoff.outcome === 'touch-and-go' && takeoff.rollStart.timeS > landing.touchdown.timeS,
    );
    const endS = landing.stop?.timeS ?? Math.min(next?.rollStart.timeS ?? toS, toS);
    rolls.push({ kind: 'landing-roll', startS: landing.touchdown.timeS, endS });
  }
  const inside = rolls
    .map((roll) => ({ ...roll, startS: Math.max(fromS, roll.startS), endS: Math.min(toS, roll.endS) }))
    .filter((roll) => roll.endS > roll.startS)
    .sort((a, b) => a.startS - b.startS);
  const phases: Phase[] = [];
  let last = fromS;
  for (const roll of inside) {
    const startS = Math.max(last, roll.startS);
    if (roll.endS <= startS) continue;
    if (startS > last) phases.push(...slowPhases(series, last, startS));
    phases.push({ ...roll, startS });
    last = roll.endS;
  }
  if (last < toS) phases.push(...slowPhases(series, last, toS));
  return phases;
}

/** A rejected run ends standing or when it has come down to taxiing speed. */
function rejectedEnd(series: CoarseSeries, fromS: number, toS: number): number {
  let top = 0;
  for (let row = 0; row < series.timeS.length; row += 1) {
    const time = series.timeS[row];
    if (time < fromS || time > toS) continue;
    const speed = series.speedMps[row];
    top = Math.max(top, speed);
    if (top > 7 && (speed < movingMps || (speed < 5 && series.accelerationMps2[row] > -0.5)))
      return time - series.speedLagS;
  }
  return toS;
}

/** The first row from here on that is quite still; the row itself if it moves off again before that. */
function stillFrom(series: CoarseSeries, row: number, toS: number): number {
  for (let next = row; next < series.timeS.length && series.timeS[next] <= toS; next += 1) {
    if (series.speedMps[next] < stillMps) return series.timeS[next];
    if (series.speedMps[next] > movingMps || series.timeS[next] > series.timeS[row] + 4) break;
  }
  return series.timeS[row];
}

function slowPhases(series: CoarseSeries, fromS: number, toS: number): Phase[] {
  const phases: { kind: PhaseKind; startS: number; endS: number }[] = [];
  let kind: PhaseKind | undefined;
  let startS = fromS;
  let lastS = fromS;
  let lastStillS = fromS;
  for (let row = 0; row < series.timeS.length; row += 1) {
    const time = series.timeS[row];
    if (time < fromS || time > toS) continue;
    const speed = series.speedMps[row];
    let next = kind;
    if (speed < standingMps) next = 'standing';
    else if (speed > movingMps || next === undefined) next = 'taxi';
    if (next !== kind) {
      let at = kind === undefined ? fromS : (lastS + time) / 2 - series.speedLagS;
      // Coming to rest out of taxiing: when it is quite still. A roll before has ended already. Moving off: back to where
      // it last was.
      if (next === 'standing' && kind !== undefined) at = stillFrom(series, row, toS) - series.speedLagS;
      if (kind === 'standing') at = Math.max(startS, lastStillS - series.speedLagS);
      if (kind !== undefined && at > startS) phases.push({ kind, startS, endS: at });
      startS = Math.max(startS, at);
      kind = next;
    }
    lastS = time;
    if (speed < stillMps) lastStillS = time;
  }
  if (toS > startS) phases.push({ kind: kind ?? 'taxi', startS, endS: toS });
  // Stops too short to count join the taxiing around them.
  return phases.map((phase) =>
    phase.kind === 'standing' && phase.endS - phase.startS < shortestStopS && phase.startS > fromS
      ? { ...phase, kind: 'taxi' as const }
      : phase,
  );
}
