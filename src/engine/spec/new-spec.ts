import { formatDate, formatFixed, formatTime } from '../../../shared/format.ts';
import type { Analysis } from '../analysis.ts';
import { yamlText } from './assist.ts';
import { languageVersion } from './grammar/language.ts';

/** A recording to start a spec from. */
export interface RecordedFlight {
  /** Path as it shall stand in the spec. */
  readonly file: string;
  /** Absent when the recording could not be read. */
  readonly analysis?: Analysis;
  /** Channels that need not be noted, e.g. a recorded air temperature. */
  readonly recordsAirTemperature?: boolean;
  readonly recordsAirspeed?: boolean;
}

export interface NewSpecOptions {
  readonly title?: string;
  /** Names of the two states; default `before` and `after`. */
  readonly configurations?: readonly [string, string];
  /** Known from the name of the folder or the order of dates: configuration of each file; blank where undefined. */
  readonly configurationOf?: (file: string) => string | undefined;
}

interface Row {
  readonly flight: RecordedFlight;
  readonly startS: number | undefined;
}

function byTime(a: Row, b: Row): number {
  if (a.startS !== b.startS) return (a.startS ?? Number.POSITIVE_INFINITY) - (b.startS ?? Number.POSITIVE_INFINITY);
  return a.flight.file < b.flight.file ? -1 : Number(a.flight.file > b.flight.file);
}

/** "take-off 22:31:05 heading 133 deg, climbs 2, level runs 4": what the recording knows, as a comment. */
function summary(analysis: Analysis): string {
  const parts: string[] = [];
  const flown = analysis.takeoffs.filter((takeoff) => takeoff.outcome !== 'rejected');
  for (const takeoff of flown.slice(0, 3)) {
    const time = formatTime(takeoff.rollStart.timeS).slice(11, 19);
    const degrees = ((takeoff.headingRad * 180) / Math.PI + 360) % 360;
    parts.push(
      `take-off ${time} UTC, heading ${formatFixed(degrees, 0)} deg${takeoff.rollingStart ? ', rolling start' : ''}`,
    );
  }
  if (flown.length > 3) parts.push(`${flown.length - 3} more take-offs`);
  if (flown.length === 0) parts.push('no take-off found');
  if (analysis.levelRuns.length > 0)
    parts.push(`${analysis.levelRuns.length} level run${analysis.levelRuns.length === 1 ? '' : 's'}`);
  return parts.join('; ');
}

function dayBlock(date: string): string[] {
  return [
    `  ${date}:`,
    '    air-temperature: # degC, at the field',
    '    altimeter-setting: # hPa or inHg',
    '    wind: # such as 080 deg 4 kt, or calm',
  ];
}

function flightBlock(row: Row, options: NewSpecOptions, names: readonly [string, string]): string[] {
  const { flight } = row;
  const configuration = options.configurationOf?.(flight.file);
  const lines = [`  - track: ${yamlText(flight.file)}`];
  if (flight.analysis !== undefined) lines.push(`    # ${summary(flight.analysis)}`);
  else lines.push('    # this recording could not be read: see "modproof inspect"');
  lines.push(
    configuration === undefined
      ? `    configuration: # ${names[0]} or ${names[1]}`
      : `    configuration: ${yamlText(configuration)}`,
  );
  lines.push('    runway: # name of a runway above', '    weight: # kg or lb, at take-off');
  const first = flight.analysis?.takeoffs.find((takeoff) => takeoff.outcome === 'flown');
  if (first?.rollingStart === true) lines.push('    start: rolling # as recorded');
  return lines;
}

/**
 * A spec to start from: what the recordings know is filled in, what the pilot must note is a blank with a comment. It is
 * valid YAML and parses with nothing but "to be filled" notices.
 */
export function newSpec(flights: readonly RecordedFlight[], options: NewSpecOptions = {}): string {
  const rows = flights.map((flight): Row => ({ flight, startS: flight.analysis?.recording.startS })).sort(byTime);
  const names = options.configurations ?? ['before', 'after'];
  const dates = [...new Set(rows.flatMap(({ startS }) => (startS === undefined ? [] : [formatDate(startS)])))];
  const lines = [
    `modproof: ${languageVersion}`,
    options.title === undefined
      ? 'title: # what was changed on what, in one line'
      : `title: ${yamlText(options.title)}`,
    '',
    'aircraft:',
    '  name: # type or call-name',
    '  propeller: # fixed-pitch or constant-speed',
    '  reference-weight: # kg or lb: a usual take-off weight',
    '  maximum-weight: # kg or lb',
    '',
    'configurations:',
    `  ${yamlText(names[0])}:`,
    '    baseline: true',
    '    description: # as it was',
    '    empty-weight: # kg or lb, as weighed',
    `  ${yamlText(names[1])}:`,
    '    description: # what is different',
    '    empty-weight: # kg or lb, as weighed',
    '',
    '# One entry for each direction of take-off.',
    'airfields:',
    '  home:',
    '    elevation: # ft or m',
    '    runways:',
    ...runwayLines(rows),
    '',
    '# Weather at the time of the take-off, by date (here as recorded, in UTC); it may stand with a flight instead.',
    'days:',
    ...dates.flatMap(dayBlock),
    '',
    'flights:',
    ...rows.flatMap((row) => flightBlock(row, options, names)),
    '',
    'reference:',
    '  density-altitude: # ft or m: choose one near your flights',
    '',
    '# Decide the margin before you look at the answer.',
    'questions:',
    '  - metric: ground-roll',
    '    primary: true',
    '    margin: 5 %',
    '  - distance-over: 50 ft',
    '  - rate-of-climb',
    '  - level-speed',
    '',
    'report:',
    '  file: # such as report.md',
    '  units: icao # or us, or metric',
    '',
  ];
  return lines.join('\n');
}

/** Runway directions that were used, from the recorded headings, named by tens of degrees (true: the name may differ). */
function runwayLines(rows: readonly Row[]): string[] {
  const headings = rows.flatMap(({ flight }) =>
    (flight.analysis?.takeoffs ?? [])
      .filter((takeoff) => takeoff.outcome !== 'rejected' && Number.isFinite(takeoff.headingRad))
      .map((takeoff) => ((takeoff.headingRad * 180) / Math.PI + 360) % 360),
  );
  const groups = new Map<number, number[]>();
  for (const heading of headings) {
    const name = Math.round(heading / 10) % 36 || 36;
    const near = [...groups.keys()].find((known) => Math.min(Math.abs(known - name), 36 - Math.abs(known - name)) <= 1);
    groups.set(near ?? name, [...(groups.get(near ?? name) ?? []), heading]);
  }
  const lines = [...groups]
    .sort(([a], [b]) => a - b)
    .flatMap(([name, members]) => {
      const middle = [...members].sort((a, b) => a - b)[Math.floor(members.length / 2)];
      return [
        `      "${String(name).padStart(2, '0')}":`,
        `        heading: ${formatFixed(middle, 0)} deg # as recorded, true`,
        '        slope: # %, positive uphill in this direction',
        '        surface: # such as paved, or wet grass',
      ];
    });
  return lines.length > 0 ? lines : ['      "36":', '        surface: # such as paved, or wet grass'];
}
