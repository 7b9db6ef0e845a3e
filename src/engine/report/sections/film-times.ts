import { formatClock, formatFilmSpan, formatFilmTime, formatValue } from '../../../../shared/format.ts';
import { codeSpan, markdownTable } from '../../../../shared/markdown.ts';
import type { EvaluatedFlight } from '../../evaluate/index.ts';
import { type FilmEvent, filmEvents } from '../../view/index.ts';
import type { ReportContext } from '../context.ts';

/** "3:05.2 (3:04.6 to 3:06.0)". */
function lookCell(event: FilmEvent | undefined): string {
  if (event === undefined) return '-';
  const { moment, origin } = event;
  // The name of a file may hold a place; it is said only where one film has several files.
  const whose = origin === 'pilot' ? ", the pilot's" : '';
  return `${formatFilmTime(moment.atS)} (${formatFilmSpan(moment)})${whose}`;
}

function fileCell(flight: EvaluatedFlight, event: FilmEvent | undefined, context: ReportContext): string {
  const part = event?.moment.name;
  const file = codeSpan(context.names.file(flight.file));
  return part === undefined || context.names.hidden ? file : `${file}, in ${codeSpan(context.names.file(part))}`;
}

interface Look {
  readonly flight: EvaluatedFlight;
  readonly events: readonly FilmEvent[];
}

function rowsOf(
  looks: readonly Look[],
  first: FilmEvent['kind'],
  cells: (of: (kind: FilmEvent['kind']) => FilmEvent[]) => (FilmEvent | undefined)[],
  context: ReportContext,
): string[][] {
  return looks.flatMap(({ flight, events }) =>
    [...new Set(events.filter(({ kind }) => kind === first).map(({ number }) => number))].map((number) => {
      const own = (kind: FilmEvent['kind']): FilmEvent[] =>
        events.filter((event) => event.kind === kind && event.number === number);
      const [begin] = own(first);
      return [
        fileCell(flight, begin, context),
        String(number),
        `${flight.day ?? '-'} ${formatClock(begin.timeS)}`,
        ...cells(own).map(lookCell),
      ];
    }),
  );
}

/** Where in the films to look, so that lift-off and the other events can be confirmed; empty where no recording is a film. */
export function filmTimesSection(context: ReportContext): string {
  const looks = context.evaluation.flights.flatMap((flight): Look[] => {
    const events = flight.analysis === undefined ? [] : filmEvents(flight.analysis, flight.entry.overrides);
    return events.length === 0 ? [] : [{ flight, events }];
  });
  if (looks.length === 0) return '';
  const asked = new Set(context.spec.questions.ask.flatMap(({ heightM }) => heightM ?? []));
  const heights = [...asked].sort((a, b) => a - b);
  const named = looks.some(({ events }) => events.some(({ moment }) => moment.name !== undefined));
  const which = named
    ? ' Of a film beside other recordings write its name as well, `lift-off: "film part2.mp4 M:SS.s"`.'
    : '';
  const takeoffs = rowsOf(
    looks,
    'roll-start',
    (own) => [
      ...own('roll-start').slice(0, 1),
      own('liftoff')[0],
      ...heights.map((heightM) => own('screen').find((screen) => Math.abs((screen.heightM ?? 0) - heightM) < 0.01)),
    ],
    context,
  );
  const landings = rowsOf(looks, 'touchdown', (own) => [own('touchdown')[0], own('stop')[0]], context);
  const head = (...events: readonly string[]): string[] => ['Recording', 'No.', 'Day and time, UTC', ...events];
  const over = heights.map((heightM) => `At ${formatValue(heightM, 'altitude', context.units)}`);
  const table = (title: string, columns: string[], rows: string[][]): string[] =>
    rows.length === 0 ? [] : [`${title}:`, '', markdownTable(columns, rows, ['left', 'right'])];
  return [
    `${context.heading(2)} Where to look in the films`,
    '',
    `Minutes and seconds after the first picture, and in brackets the span in which the frame lies: the 95 % interval of the event, and that a camera writes its positions 0.2 to 1 s late. A moment seen there is better than one worked out: write it as a correction of its flight, \`lift-off: "film M:SS.s"\`. It is then used and marked as the pilot's.${which}`,
    '',
    ...table('Take-offs', head('Start of roll', 'Lift-off', ...over), takeoffs),
    ...table('Landings', head('Touchdown', 'End of roll'), landings),
    '',
  ].join('\n');
}
