import type { Landing, Phase, Takeoff } from '../../../shared/analysis.ts';
import type { PhaseKind } from '../../../shared/phase-kind.ts';
import type { CoarseSeries } from '../events/coarse-series.ts';
import type { FoundEvents } from '../events/find-events.ts';
import type { Motion } from '../track/motion.ts';
import { approachStart } from './approach.ts';
import { groundPhases } from './ground-phases.ts';
import { initialClimbEnd } from './initial-climb.ts';
import { type VerticalState, verticalStates } from './vertical-states.ts';

/**
 * The phases of a recording, end to end. Words after the Common Taxonomy of CAST and ICAO: the take-off roll is the
 * take-off phase up to lift-off (rejected ones included); the initial climb runs to 1,000 ft above the runway, the first
 * level-off or the first turn away from the runway; the approach from 1,000 ft above the runway or the entry of the
 * circuit to touchdown; the landing roll to taxiing speed or a stop. `unknown` stands over gaps.
 */
export function detectPhases(motion: Motion, events: FoundEvents): Phase[] {
  const { series } = events;
  if (series.timeS.length === 0) return [];
  const parts = airParts(series, events.takeoffs, events.landings, events);
  const marked: Phase[] = [];
  const startS = series.timeS[0];
  const endS = series.timeS[series.timeS.length - 1];
  let last = startS;
  for (const part of parts) {
    if (part.startS > last) marked.push(...groundPhases(series, events, last, part.startS));
    marked.push(...airPhases(series, events, part));
    last = part.endS;
  }
  if (last < endS) marked.push(...groundPhases(series, events, last, endS));
  return overGaps(joined(marked), motion);
}

/** A time in the air with what begins and ends it. */
export interface AirPart {
  readonly startS: number;
  readonly endS: number;
  readonly takeoff?: Takeoff;
  readonly landing?: Landing;
}

function airParts(
  series: CoarseSeries,
  takeoffs: readonly Takeoff[],
  landings: readonly Landing[],
  events: FoundEvents,
): AirPart[] {
  const first = series.timeS[0];
  const final = series.timeS[series.timeS.length - 1];
  const changes = [
    ...takeoffs.flatMap((takeoff) =>
      takeoff.liftoff === undefined ? [] : [{ timeS: takeoff.liftoff.timeS, takeoff }],
    ),
    ...landings.map((landing) => ({ timeS: landing.touchdown.timeS, landing })),
  ].sort((a, b) => a.timeS - b.timeS);
  const parts: AirPart[] = [];
  let open: { startS: number; takeoff?: Takeoff } | undefined;
  // In the air from the beginning: the first flight has no take-off in the recording.
  const flight = events.flights[0];
  if (flight !== undefined && flight.before === undefined && !(changes[0] !== undefined && 'takeoff' in changes[0])) {
    open = { startS: first };
  }
  for (const change of changes) {
    if ('takeoff' in change) open = { startS: change.timeS, takeoff: change.takeoff };
    else {
      // A landing whose take-off was not seen: in the air since the first row that is certainly airborne.
      const startS = open?.startS ?? earliestAirborne(series, events, change.timeS);
      parts.push({
        startS,
        endS: change.timeS,
        ...(open?.takeoff === undefined ? {} : { takeoff: open.takeoff }),
        landing: change.landing,
      });
      open = undefined;
    }
  }
  if (open !== undefined)
    parts.push({ startS: open.startS, endS: final, ...(open.takeoff === undefined ? {} : { takeoff: open.takeoff }) });
  return parts;
}

function earliestAirborne(series: CoarseSeries, events: FoundEvents, beforeS: number): number {
  const flight = events.flights.filter((each) => series.timeS[each.firstAirborne] < beforeS).at(-1);
  return flight === undefined ? beforeS : series.timeS[flight.firstAirborne];
}

function airPhases(series: CoarseSeries, events: FoundEvents, part: AirPart): Phase[] {
  const rows: number[] = [];
  for (let row = 0; row < series.timeS.length; row += 1) {
    if (series.timeS[row] >= part.startS && series.timeS[row] <= part.endS) rows.push(row);
  }
  if (rows.length < 2) return [{ kind: 'unknown', startS: part.startS, endS: part.endS }];
  const times = rows.map((row) => series.timeS[row]);
  const vertical = Float64Array.from(rows, (row) => series.verticalSpeedMps[row]);
  const steps = Float64Array.from(times, (time, index) => Math.min(10, index === 0 ? 1 : time - times[index - 1]));
  const states = verticalStates(vertical, steps);
  const kinds: PhaseKind[] = states.map(kindOf);
  const climbEndS =
    part.takeoff === undefined ? part.startS : initialClimbEnd(series, part.takeoff, rows, states, part.endS);
  const lows = events.goArounds.map((pass) => pass.timeS).filter((time) => time > part.startS && time < part.endS);
  const ends = [...lows, ...(part.landing === undefined ? [] : [part.endS])];
  const stateAt = new Map(rows.map((row, index) => [row, states[index]]));
  const approaches = ends.map((endS, index) => {
    const notBeforeS = index === 0 ? climbEndS : ends[index - 1];
    const groundAltitudeM = groundUnder(series, events, endS);
    return { startS: approachStart(series, { endS, groundAltitudeM, notBeforeS }, (row) => stateAt.get(row)), endS };
  });
  for (const [index, time] of times.entries()) {
    if (part.takeoff !== undefined && time < climbEndS) kinds[index] = 'initial-climb';
    if (approaches.some((approach) => time >= approach.startS && time < approach.endS)) kinds[index] = 'approach';
  }
  const boundaries = [
    part.startS,
    climbEndS,
    part.endS,
    ...approaches.flatMap((approach) => [approach.startS, approach.endS]),
  ];
  return pieces(series.speedLagS, kinds, times, part, boundaries);
}

/** Height of the runway under the end of an approach. */
function groundUnder(series: CoarseSeries, events: FoundEvents, endS: number): number {
  const pass = events.goArounds.find((each) => each.timeS === endS);
  if (pass !== undefined) return pass.groundAltitudeM;
  let row = series.timeS.length - 1;
  while (row > 0 && series.timeS[row] > endS) row -= 1;
  return series.altitudeM[row];
}

function kindOf(state: VerticalState): PhaseKind {
  return state === 'level' ? 'cruise' : state;
}

/** Runs of equal kinds; a boundary lies halfway between rows, or at the exact instant where one is known there. */
function pieces(
  lagS: number,
  kinds: readonly PhaseKind[],
  times: readonly number[],
  part: AirPart,
  exact: readonly number[],
): Phase[] {
  const phases: Phase[] = [];
  let startS = part.startS;
  for (let index = 1; index <= kinds.length; index += 1) {
    if (index < kinds.length && kinds[index] === kinds[index - 1]) continue;
    let endS = part.endS;
    if (index < kinds.length) {
      const middle = (times[index - 1] + times[index]) / 2 - lagS;
      endS = exact.find((time) => time >= times[index - 1] - 1e-6 && time <= times[index] + 1e-6) ?? middle;
    }
    if (endS > startS) phases.push({ kind: kinds[index - 1], startS, endS });
    startS = Math.max(startS, endS);
  }
  return phases;
}

function joined(phases: readonly Phase[]): Phase[] {
  const result: Phase[] = [];
  for (const phase of phases) {
    const last = result.at(-1);
    if (last !== undefined && last.kind === phase.kind) result[result.length - 1] = { ...last, endS: phase.endS };
    else result.push(phase);
  }
  return result;
}

/** Cuts out the gaps and puts `unknown` there. */
function overGaps(phases: readonly Phase[], motion: Motion): Phase[] {
  let result = [...phases];
  for (const gap of motion.gaps) {
    const cut: Phase[] = [];
    let placed = false;
    const place = (): void => {
      if (!placed) cut.push({ kind: 'unknown', startS: gap.startS, endS: gap.endS });
      placed = true;
    };
    for (const phase of result) {
      if (phase.endS <= gap.startS) cut.push(phase);
      else if (phase.startS >= gap.endS) {
        place();
        cut.push(phase);
      } else {
        if (phase.startS < gap.startS) cut.push({ ...phase, endS: gap.startS });
        place();
        if (phase.endS > gap.endS) cut.push({ ...phase, startS: gap.endS });
      }
    }
    result = cut;
  }
  return result;
}
