import { formatDate, formatFixed, formatTime } from '../../../shared/format.ts';
import type { Analysis, Takeoff } from '../analysis.ts';
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
  /** Files in which the recording goes on, and what other recorders wrote of the flight; paths as they shall stand. */
  readonly continuedIn?: readonly string[];
  readonly alsoRecordedBy?: readonly { readonly file: string; readonly continuedIn: readonly string[] }[];
}

export interface NewSpecOptions {
  readonly title?: string;
  /** Names of the two states; default `before` and `after`. */
  readonly configurations?: readonly [string, string];
  /** Known from the name of the folder or the order of dates: configuration of each file; blank where undefined. */
  readonly configurationOf?: (file: string) => string | undefined;
  /** Markdown file of the report, relative to the spec; default `report.md`. */
  readonly reportFile?: string;
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

/** "[a.mp4, b.mp4]"; a name in brackets needs quotes where it has a comma or the like, which `yamlText` gives it. */
function fileList(files: readonly string[]): string {
  return files.length === 1 ? yamlText(files[0]) : `[${files.map((file) => yamlText(file)).join(', ')}]`;
}

function furtherLines({ continuedIn = [], alsoRecordedBy = [] }: RecordedFlight): string[] {
  const simple = alsoRecordedBy.every((second) => second.continuedIn.length === 0);
  return [
    ...(continuedIn.length === 0 ? [] : [`    continued-in: ${fileList(continuedIn)}`]),
    ...(alsoRecordedBy.length === 0
      ? []
      : simple
        ? [`    also-recorded-by: ${fileList(alsoRecordedBy.map(({ file }) => file))}`]
        : [
            '    also-recorded-by:',
            ...alsoRecordedBy.flatMap((second) => [
              `      - track: ${yamlText(second.file)}`,
              ...(second.continuedIn.length === 0 ? [] : [`        continued-in: ${fileList(second.continuedIn)}`]),
            ]),
          ]),
  ];
}

function flightBlock(
  row: Row,
  options: NewSpecOptions,
  names: readonly [string, string],
  places: readonly Place[],
): string[] {
  const { flight } = row;
  const configuration = options.configurationOf?.(flight.file);
  const lines = [`  - track: ${yamlText(flight.file)}`, ...furtherLines(flight)];
  if (flight.analysis !== undefined) lines.push(`    # ${summary(flight.analysis)}`);
  else lines.push('    # this recording could not be read: see "modproof inspect"');
  lines.push(
    configuration === undefined
      ? `    configuration: # ${names[0]} or ${names[1]}`
      : `    configuration: ${yamlText(configuration)}`,
  );
  const first = flight.analysis?.takeoffs.find((takeoff) => takeoff.outcome === 'flown');
  const place = first && places.find((candidate) => candidate.runways.some(({ takeoffs }) => takeoffs.includes(first)));
  const runway = first && place?.runways.find(({ takeoffs }) => takeoffs.includes(first));
  if (place !== undefined && places.length > 1) lines.push(`    airfield: ${place.name}`);
  lines.push(
    runway === undefined
      ? '    runway: # name of a runway above'
      : `    runway: "${runway.name}" # by the recorded heading`,
    '    weight: # kg or lb, at take-off',
  );
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
  const places = placesOf(rows);
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
    ...(places.length === 0 ? emptyAirfield : places.flatMap(airfieldLines)),
    '',
    '# Weather at the time of the take-off, by date (here as recorded, in UTC); it may stand with a flight instead.',
    'days:',
    ...dates.flatMap(dayBlock),
    '',
    'flights:',
    ...rows.flatMap((row) => flightBlock(row, options, names, places)),
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
    `  file: ${yamlText(options.reportFile ?? 'report.md')}`,
    '  units: icao # or us, or metric',
    '',
  ];
  return lines.join('\n');
}

interface RunwayUsed {
  /** Tens of degrees true, two digits: the name on the field may differ. */
  readonly name: string;
  readonly takeoffs: Takeoff[];
}

interface Place {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly runways: RunwayUsed[];
}

/** Take-offs farther apart than this are from different airfields, degrees of latitude (5 km). */
const farDeg = 5 / 111.2;

function isNear(place: Place, takeoff: Takeoff): boolean {
  const east = (takeoff.lonDeg - place.lonDeg) * Math.cos((place.latDeg * Math.PI) / 180);
  return Math.hypot(takeoff.latDeg - place.latDeg, east) < farDeg;
}

function tens(takeoff: Takeoff): number {
  return Math.round(((takeoff.headingRad * 180) / Math.PI + 360) / 10) % 36 || 36;
}

/** Airfields and directions of take-off, in the order in which they were first used. */
function placesOf(rows: readonly Row[]): readonly Place[] {
  const places: Place[] = [];
  const takeoffs = rows.flatMap(({ flight }) => flight.analysis?.takeoffs ?? []);
  for (const takeoff of takeoffs) {
    if (takeoff.outcome === 'rejected' || !Number.isFinite(takeoff.headingRad + takeoff.latDeg + takeoff.lonDeg))
      continue;
    let place = places.find((candidate) => isNear(candidate, takeoff));
    if (place === undefined) {
      const name = places.length === 0 ? 'home' : `field ${places.length + 1}`;
      place = { name, latDeg: takeoff.latDeg, lonDeg: takeoff.lonDeg, runways: [] };
      places.push(place);
    }
    const apart = (name: string): number => {
      const difference = Math.abs(Number(name) - tens(takeoff));
      return Math.min(difference, 36 - difference);
    };
    const runway = place.runways.find(({ name }) => apart(name) <= 1);
    if (runway === undefined) {
      place.runways.push({ name: String(tens(takeoff)).padStart(2, '0'), takeoffs: [takeoff] });
    } else runway.takeoffs.push(takeoff);
  }
  for (const place of places) place.runways.sort((a, b) => (a.name < b.name ? -1 : 1));
  return places;
}

function airfieldLines(place: Place): string[] {
  return [
    `  ${place.name}:`,
    '    elevation: # ft or m',
    '    runways:',
    ...place.runways.flatMap(({ name, takeoffs }) => {
      const headings = takeoffs
        .map((takeoff) => ((takeoff.headingRad * 180) / Math.PI + 360) % 360)
        .sort((a, b) => a - b);
      return [
        `      "${name}":`,
        `        heading: ${formatFixed(headings[Math.floor(headings.length / 2)], 0)} deg # as recorded, true`,
        '        slope: # %, positive uphill in this direction',
        '        surface: # such as paved, or wet grass',
      ];
    }),
  ];
}

const emptyAirfield = [
  '  home:',
  '    elevation: # ft or m',
  '    runways:',
  '      "36":',
  '        surface: # such as paved, or wet grass',
];
