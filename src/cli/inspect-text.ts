import type { DisplayUnits } from '../../shared/display-units.ts';
import {
  formatClock,
  formatCount,
  formatDate,
  formatDirection,
  formatDuration,
  formatFilmSpan,
  formatFilmTime,
  formatIntervalParts,
  formatShort,
  formatValue,
  type QuantityKind,
  shownUnit,
} from '../../shared/format.ts';
import { type FilmPart, filmMoment } from '../../shared/film-time.ts';
import type { Instant, Interval } from '../../shared/measured.ts';
import { phaseKinds } from '../../shared/phase-kind.ts';
import type { RecordingPart } from '../../shared/recording-part.ts';
import type { Analysis, EventOverride, Takeoff } from '../engine/analysis.ts';
import { eventFileName } from '../engine/event-file/index.ts';
import { broughtText, offsetText, partSentences, roleText } from '../engine/recordings/index.ts';
import { filmEvents } from '../engine/view/index.ts';
import type { InspectedFile } from './inspect-json.ts';
import { indented, textTable } from './text-table.ts';

/** Above what an altitude counts, in few words. */
const altitudeWords: Readonly<Record<string, string>> = {
  msl: 'msl',
  ellipsoid: 'ellipsoid',
  pressure: 'pressure',
  unknown: 'datum not stated',
};

/** "213 (205 to 221)", or a dash. */
function cell(interval: Interval | undefined, kind: QuantityKind, units: DisplayUnits): string {
  if (interval === undefined || !Number.isFinite(interval.value)) return '-';
  const parts = formatIntervalParts(interval, kind, units);
  return `${parts.value} (${parts.low} to ${parts.high})`;
}

function unit(kind: QuantityKind, units: DisplayUnits): string {
  return shownUnit(kind, units).symbol;
}

function block(title: string, body: string): string {
  return body === '' ? '' : `\n  ${title}\n${indented(body, '    ')}`;
}

/** The files of a flight, what each is, and the offset of its clock; then what must be known of them. */
function partsText(parts: readonly RecordingPart[]): string {
  const head = ['file', 'what it is', 'from', 'to', 'clock offset', 'gives'];
  const clock = (timeS: number | undefined): string => (timeS === undefined ? '-' : formatClock(timeS));
  const rows = parts.map((part) => [
    part.file,
    part.joined ? roleText(part) : 'NOT JOINED',
    clock(part.startS),
    clock(part.endS),
    part.clockOffsetS === undefined
      ? '-'
      : `${offsetText(part.clockOffsetS)}, by ${part.clockOffsetBy === 'pilot' ? 'the pilot' : part.clockOffsetBy}`,
    broughtText(part) ?? '-',
  ]);
  const remarks = parts.flatMap(({ file, remarks: told }) => told.map((remark) => `${file}: ${remark}\n`));
  return textTable(head, rows) + remarks.join('');
}

function phasesText(analysis: Analysis): string {
  const totals = phaseKinds
    .map((kind) => {
      const spans = analysis.phases.filter((phase) => phase.kind === kind);
      const lasted = spans.reduce((sum, phase) => sum + phase.endS - phase.startS, 0);
      return { kind, lasted, count: spans.length };
    })
    .filter(({ count }) => count > 0);
  return totals
    .map(({ kind, lasted, count }) => `${kind} ${formatDuration(lasted)}${count > 1 ? ` (${count}x)` : ''}`)
    .join(', ');
}

function lastName(file: string): string {
  return file.split(/[\\/]/).pop() ?? file;
}

/** "14:03:22.4 (film 3:05.2)", or a dash; an event that the pilot gave is marked. */
function instantCell(instant: Instant | undefined, films: readonly FilmPart[] | undefined): string {
  if (instant === undefined) return '-';
  const moment = filmMoment(films, instant);
  const film =
    moment === undefined
      ? ''
      : ` (film ${moment.name === undefined ? '' : `${lastName(moment.name)} `}${formatFilmTime(moment.atS)})`;
  return `${formatClock(instant.timeS, 1)}${film}${instant.origin === 'pilot' ? ' *' : ''}`;
}

/** What the pilot gave, in the words of the table's mark. */
function pilotLines(
  inspected: InspectedFile,
  events: Readonly<Partial<Record<EventOverride['event'], string>>>,
  instants: (number: number, event: EventOverride['event']) => Instant | undefined,
): string {
  return (inspected.overrides ?? [])
    .filter(({ event, number }) => event in events && instants(number, event)?.origin === 'pilot')
    .map(({ event, number, why }) => {
      const reason = why === undefined ? '' : `: ${why.replace(/\s+/g, ' ').trim()}`;
      return `* ${number}: ${events[event]} is the pilot's time${reason}\n`;
    })
    .join('');
}

function filmText(analysis: Analysis, file: string): string {
  const events = filmEvents(analysis);
  const several = events.some(({ moment }) => moment.name !== undefined);
  const head = ['event', 'time', ...(several ? ['film'] : []), several ? 'into it' : 'film', 'look from'];
  const rows = events.map(({ kind, number, label, timeS, origin, moment }) => [
    `${label.toLowerCase()}${kind === 'screen' && number > 1 ? `, take-off ${number}` : ''}`,
    `${formatClock(timeS, 1)}${origin === 'pilot' ? ' *' : ''}`,
    ...(several ? [moment.name ?? '-'] : []),
    formatFilmTime(moment.atS),
    formatFilmSpan(moment),
  ]);
  return events.length === 0 ? '' : textTable(head, rows) + filmAdvice(file, several);
}

function filmAdvice(file: string, several: boolean): string {
  const beside = eventFileName(lastName(file));
  return `The span holds the 95 % interval of the event, and that a camera writes its positions up to 1 s late.
Seen in the frames? Write it as a correction, lift-off: "film ${several ? 'FILE ' : ''}M:SS.s", in the comparison or in ${beside}.
`;
}

function takeoffRow(
  takeoff: Takeoff,
  index: number,
  heights: readonly number[],
  films: readonly FilmPart[] | undefined,
  units: DisplayUnits,
): string[] {
  const start = takeoff.outcome === 'touch-and-go' ? 'touch-and-go' : takeoff.rollingStart ? 'rolling' : 'standing';
  return [
    String(index + 1),
    instantCell(takeoff.rollStart, films),
    instantCell(takeoff.liftoff, films),
    takeoff.outcome === 'rejected' ? 'rejected' : start,
    formatDirection(takeoff.headingRad),
    cell(takeoff.groundRollM, 'length', units),
    cell(takeoff.liftoffSpeedMps, 'speed', units),
    ...heights.map((heightM) =>
      cell(takeoff.screens.find((screen) => Math.abs(screen.heightM - heightM) < 0.01)?.distanceM, 'length', units),
    ),
  ];
}

/** How fast a rejected take-off got. */
function peakSentence(takeoff: Takeoff, units: DisplayUnits): string[] {
  if (takeoff.peakSpeedMps === undefined) return [];
  return [`Fastest over the ground: ${cell(takeoff.peakSpeedMps, 'speed', units)} ${unit('speed', units)}.`];
}

function takeoffsText(inspected: InspectedFile, analysis: Analysis, units: DisplayUnits): string {
  const heights = [...new Set(analysis.takeoffs.flatMap(({ screens }) => screens.map(({ heightM }) => heightM)))].sort(
    (a, b) => a - b,
  );
  const length = unit('length', units);
  const head = [
    'no.',
    'start of roll',
    'lift-off',
    'start',
    'heading',
    `ground roll, ${length}`,
    `lift-off at, ${unit('speed', units)}`,
    ...heights.map((heightM) => `over ${formatValue(heightM, 'altitude', units)}, ${length}`),
  ];
  const rows = analysis.takeoffs.map((takeoff, index) =>
    takeoffRow(takeoff, index, heights, analysis.recording.films, units),
  );
  const remarks = analysis.takeoffs.flatMap((takeoff, index) =>
    [...takeoff.remarks, ...peakSentence(takeoff, units)].map((remark) => `${index + 1}: ${remark}\n`),
  );
  const given = pilotLines(inspected, { 'roll-start': 'start of roll', liftoff: 'lift-off' }, (number, event) =>
    event === 'liftoff' ? analysis.takeoffs[number - 1]?.liftoff : analysis.takeoffs[number - 1]?.rollStart,
  );
  return textTable(head, rows, ['right']) + given + remarks.join('');
}

function climbsText(analysis: Analysis, units: DisplayUnits): string {
  const rate = unit('vertical-speed', units);
  const head = [
    'no.',
    'from',
    'lasting',
    'altitude',
    `rate of climb, ${rate}`,
    `of energy height, ${rate}`,
    `best minute, ${rate}`,
  ];
  const rows = analysis.climbs.map((climb, index) => [
    String(index + 1),
    formatClock(climb.startS),
    formatDuration(climb.endS - climb.startS),
    `${formatValue(climb.fromAltitudeM, 'altitude', units)} to ${formatValue(climb.toAltitudeM, 'altitude', units)} (${altitudeWords[climb.altitudeKind] ?? climb.altitudeKind})`,
    cell(climb.rateOfClimbMps, 'vertical-speed', units),
    cell(climb.energyRateMps, 'vertical-speed', units),
    cell(climb.bestMinuteMps, 'vertical-speed', units),
  ]);
  return textTable(head, rows, ['right']);
}

function levelText(analysis: Analysis, units: DisplayUnits): string {
  const speed = unit('speed', units);
  const head = ['no.', 'from', 'lasting', 'altitude', 'track', `ground speed, ${speed}`, `true airspeed, ${speed}`];
  const rows = analysis.levelRuns.map((run, index) => [
    String(index + 1),
    formatClock(run.startS),
    formatDuration(run.endS - run.startS),
    formatValue(run.altitudeM, 'altitude', units),
    formatDirection(run.trackRad),
    cell(run.groundSpeedMps, 'speed', units),
    cell(run.trueAirspeedMps, 'speed', units),
  ]);
  return textTable(head, rows, ['right']);
}

function windsText(analysis: Analysis, units: DisplayUnits): string {
  const speed = unit('speed', units);
  const head = ['from', 'altitude', 'wind from', `wind, ${speed}`, `true airspeed, ${speed}`, 'told from'];
  const rows = analysis.winds.map((wind) => [
    formatClock(wind.startS),
    formatValue(wind.altitudeM, 'altitude', units),
    formatDirection(wind.fromRad.value),
    cell(wind.speedMps, 'speed', units),
    cell(wind.trueAirspeedMps, 'speed', units),
    wind.method,
  ]);
  return textTable(head, rows);
}

function landingsText(inspected: InspectedFile, analysis: Analysis, units: DisplayUnits): string {
  const head = [
    'no.',
    'touchdown',
    'end of roll',
    'heading',
    `landing roll, ${unit('length', units)}`,
    `touchdown at, ${unit('speed', units)}`,
  ];
  const rows = analysis.landings.map((landing, index) => [
    String(index + 1),
    instantCell(landing.touchdown, analysis.recording.films),
    instantCell(landing.stop, analysis.recording.films),
    formatDirection(landing.headingRad),
    cell(landing.groundRollM, 'length', units),
    cell(landing.touchdownSpeedMps, 'speed', units),
  ]);
  const remarks = analysis.landings.flatMap((landing, index) =>
    landing.remarks.map((remark) => `${index + 1}: ${remark}\n`),
  );
  const given = pilotLines(inspected, { touchdown: 'touchdown', stop: 'end of roll' }, (number, event) =>
    event === 'stop' ? analysis.landings[number - 1]?.stop : analysis.landings[number - 1]?.touchdown,
  );
  return textTable(head, rows, ['right']) + given + remarks.join('');
}

/** A recording for people: what it is, then what was found in it. Times are UTC, brackets hold 95 % intervals. */
export function inspectionText(inspected: InspectedFile, units: DisplayUnits): string {
  const { analysis, file, format } = inspected;
  const contents = inspected.contents.map((content) => `  ${content}\n`);
  if (analysis === undefined) return `${file}\n  ${format ?? 'not recognised'}: no usable track\n${contents.join('')}`;
  const { recording } = analysis;
  const { parts } = recording;
  const told = new Set(partSentences(parts ?? []).map((sentence) => `  ${sentence}\n`));
  const gaps = recording.gaps.length === 0 ? '' : `, ${formatCount(recording.gaps.length, 'gap')}`;
  const lines = [
    `${file}\n`,
    `  ${format}, ${formatDate(recording.startS)} ${formatClock(recording.startS)} to ${formatClock(recording.endS)} UTC `,
    `(${formatDuration(recording.endS - recording.startS)}), ${formatCount(recording.samples, 'fix', 'fixes')}, ${formatShort(recording.rateHz, 2)} Hz${gaps}\n`,
    `  altitude: ${recording.altitudeKinds.map((kind) => altitudeWords[kind] ?? kind).join(', ') || 'none'}; speed: ${recording.speedSource === 'receiver' ? "the receiver's" : 'worked out from positions'}\n`,
    ...(parts === undefined ? contents : contents.filter((line) => !told.has(line))),
    parts === undefined ? '' : block('One flight in several recordings', partsText(parts)),
    block('Phases', analysis.phases.length === 0 ? '' : `${phasesText(analysis)}\n`),
    analysis.takeoffs.length === 0
      ? '\n  No take-off found.\n'
      : block('Take-offs', takeoffsText(inspected, analysis, units)),
    analysis.climbs.length === 0 ? '' : block('Climbs', climbsText(analysis, units)),
    analysis.levelRuns.length === 0 ? '' : block('Level runs', levelText(analysis, units)),
    analysis.winds.length === 0 ? '' : block('Winds', windsText(analysis, units)),
    analysis.landings.length === 0 ? '' : block('Landings', landingsText(inspected, analysis, units)),
    block('In the film', filmText(analysis, file)),
  ];
  return lines.join('');
}
