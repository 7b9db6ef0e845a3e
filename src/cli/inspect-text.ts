import type { DisplayUnits } from '../../shared/display-units.ts';
import {
  formatClock,
  formatCount,
  formatDate,
  formatDirection,
  formatDuration,
  formatIntervalParts,
  formatShort,
  formatValue,
  type QuantityKind,
  shownUnit,
} from '../../shared/format.ts';
import type { Interval } from '../../shared/measured.ts';
import { phaseKinds } from '../../shared/phase-kind.ts';
import type { Analysis, Takeoff } from '../engine/analysis.ts';
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

function takeoffRow(takeoff: Takeoff, index: number, heights: readonly number[], units: DisplayUnits): string[] {
  const start = takeoff.outcome === 'touch-and-go' ? 'touch-and-go' : takeoff.rollingStart ? 'rolling' : 'standing';
  return [
    String(index + 1),
    formatClock(takeoff.rollStart.timeS, 1),
    takeoff.liftoff === undefined ? '-' : formatClock(takeoff.liftoff.timeS, 1),
    takeoff.outcome === 'rejected' ? 'rejected' : start,
    formatDirection(takeoff.headingRad),
    cell(takeoff.groundRollM, 'length', units),
    cell(takeoff.liftoffSpeedMps, 'speed', units),
    ...heights.map((heightM) =>
      cell(takeoff.screens.find((screen) => Math.abs(screen.heightM - heightM) < 0.01)?.distanceM, 'length', units),
    ),
  ];
}

function takeoffsText(analysis: Analysis, units: DisplayUnits): string {
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
  const rows = analysis.takeoffs.map((takeoff, index) => takeoffRow(takeoff, index, heights, units));
  const remarks = analysis.takeoffs.flatMap((takeoff, index) =>
    takeoff.remarks.map((remark) => `${index + 1}: ${remark}\n`),
  );
  return textTable(head, rows, ['right']) + remarks.join('');
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

function landingsText(analysis: Analysis, units: DisplayUnits): string {
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
    formatClock(landing.touchdown.timeS, 1),
    landing.stop === undefined ? '-' : formatClock(landing.stop.timeS, 1),
    formatDirection(landing.headingRad),
    cell(landing.groundRollM, 'length', units),
    cell(landing.touchdownSpeedMps, 'speed', units),
  ]);
  const remarks = analysis.landings.flatMap((landing, index) =>
    landing.remarks.map((remark) => `${index + 1}: ${remark}\n`),
  );
  return textTable(head, rows, ['right']) + remarks.join('');
}

/** A recording for people: what it is, then what was found in it. Times are UTC, brackets hold 95 % intervals. */
export function inspectionText(inspected: InspectedFile, units: DisplayUnits): string {
  const { analysis, file, format } = inspected;
  if (analysis === undefined) return `${file}\n  ${format ?? 'not recognised'}: no usable track\n`;
  const { recording } = analysis;
  const gaps = recording.gaps.length === 0 ? '' : `, ${formatCount(recording.gaps.length, 'gap')}`;
  const lines = [
    `${file}\n`,
    `  ${format}, ${formatDate(recording.startS)} ${formatClock(recording.startS)} to ${formatClock(recording.endS)} UTC `,
    `(${formatDuration(recording.endS - recording.startS)}), ${recording.samples} fixes, ${formatShort(recording.rateHz, 2)} Hz${gaps}\n`,
    `  altitude: ${recording.altitudeKinds.map((kind) => altitudeWords[kind] ?? kind).join(', ') || 'none'}; speed: ${recording.speedSource === 'receiver' ? "the receiver's" : 'worked out from positions'}\n`,
    ...inspected.contents.map((content) => `  ${content}\n`),
    block('Phases', analysis.phases.length === 0 ? '' : `${phasesText(analysis)}\n`),
    analysis.takeoffs.length === 0 ? '\n  No take-off found.\n' : block('Take-offs', takeoffsText(analysis, units)),
    analysis.climbs.length === 0 ? '' : block('Climbs', climbsText(analysis, units)),
    analysis.levelRuns.length === 0 ? '' : block('Level runs', levelText(analysis, units)),
    analysis.winds.length === 0 ? '' : block('Winds', windsText(analysis, units)),
    analysis.landings.length === 0 ? '' : block('Landings', landingsText(analysis, units)),
  ];
  return lines.join('');
}
