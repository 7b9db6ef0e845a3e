import type { Analysis, EventOverride, Phase } from '../../../shared/analysis.ts';
import type { Corrections, EventMark, FlightView, PhaseRow } from '../../../shared/flight-view.ts';
import type { Instant } from '../../../shared/measured.ts';
import { type TrackColumns, valueAt } from '../../../shared/track-columns.ts';
import type { ReadResult } from '../readers/reader.ts';
import type { Motion } from '../track/motion.ts';
import { summaryOf } from '../track/summary.ts';
import type { Track } from '../track/track.ts';
import { metricRows } from './metric-rows.ts';

const eventLabels: Readonly<Record<EventOverride['event'], string>> = {
  'roll-start': 'Start of roll',
  liftoff: 'Lift-off',
  touchdown: 'Touchdown',
  stop: 'End of roll',
};

function phaseRow(phase: Phase, columns: TrackColumns): PhaseRow {
  const at = (values: ArrayLike<number>, timeS: number): number =>
    valueAt(columns.timeS, values, timeS - columns.startS);
  const heightChangeM = at(columns.heightM, phase.endS) - at(columns.heightM, phase.startS);
  const distanceM = at(columns.distanceM, phase.endS) - at(columns.distanceM, phase.startS);
  return {
    ...phase,
    ...(Number.isFinite(heightChangeM) ? { heightChangeM } : {}),
    ...(Number.isFinite(distanceM) ? { distanceM } : {}),
  };
}

/** Every event that charts mark, in order of time. */
export function eventMarks(analysis: Analysis, overrides: readonly EventOverride[]): EventMark[] {
  const marks: EventMark[] = [];
  const add = (kind: EventOverride['event'], number: number, instant: Instant | undefined): void => {
    if (instant === undefined) return;
    const why = overrides.find((override) => override.event === kind && override.number === number)?.why;
    marks.push({
      id: `${kind}-${number}`,
      kind,
      number,
      label: `${eventLabels[kind]}${number > 1 ? ` ${number}` : ''}`,
      ...instant,
      ...(why === undefined ? {} : { why }),
    });
  };
  analysis.takeoffs.forEach((takeoff, index) => {
    const number = index + 1;
    add('roll-start', number, takeoff.rollStart);
    add('liftoff', number, takeoff.liftoff);
    for (const screen of takeoff.screens) {
      marks.push({
        id: `screen-${number}-${screen.heightM}`,
        kind: 'screen',
        number,
        label: `${Math.round(screen.heightM / 0.3048)} ft`,
        ...screen.time,
        heightM: screen.heightM,
      });
    }
  });
  analysis.landings.forEach((landing, index) => {
    add('touchdown', index + 1, landing.touchdown);
    add('stop', index + 1, landing.stop);
  });
  return marks.sort((a, b) => a.timeS - b.timeS);
}

/** What can be said before phases and events are found: enough to draw the charts at once. */
export function analysisPending(track: Track, motion: Motion): Analysis {
  return {
    recording: summaryOf(track, motion),
    phases: [],
    takeoffs: [],
    landings: [],
    climbs: [],
    levelRuns: [],
    winds: [],
    problems: [],
  };
}

/** What a reading said, without its track. */
export interface ReadSummary extends Pick<ReadResult, 'format' | 'problems' | 'contents'> {
  readonly assumptions: readonly string[];
}

export function readSummary({ format, problems, contents, track }: ReadResult): ReadSummary {
  return { ...(format === undefined ? {} : { format }), problems, contents, assumptions: track?.assumptions ?? [] };
}

/** One flight as the viewer shows it. */
export function flightView(
  fileName: string,
  read: ReadSummary,
  analysis: Analysis,
  columns: TrackColumns,
  corrections: Corrections,
): FlightView {
  return {
    fileName,
    format: read.format,
    analysis,
    phases: analysis.phases.map((phase) => phaseRow(phase, columns)),
    events: eventMarks(analysis, corrections.overrides),
    metrics: metricRows(analysis),
    problems: [...read.problems, ...analysis.problems, ...corrections.problems],
    contents: read.contents,
    assumptions: read.assumptions,
    corrections,
  };
}
