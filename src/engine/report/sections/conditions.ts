import { filmMoment } from '../../../../shared/film-time.ts';
import {
  formatClock,
  formatDirection,
  formatFilmTime,
  formatFixed,
  formatList,
  formatSigned,
  formatValue,
  type QuantityKind,
} from '../../../../shared/format.ts';
import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import { airAtField } from '../../corrections/index.ts';
import type { Conditions, Noted, Surface } from '../../spec/index.ts';
import { eventMarks } from '../../view/index.ts';
import type { ReportContext } from '../context.ts';

function notedCell(noted: Noted | undefined, kind: QuantityKind, context: ReportContext): string {
  if (noted === undefined) return 'not noted';
  return formatValue(noted.value, kind, context.units);
}

function windCell(conditions: Conditions, context: ReportContext): string {
  const { wind } = conditions;
  if (wind === undefined) return 'not noted';
  const gust = wind.gustMps === undefined ? '' : ` gusting ${formatValue(wind.gustMps, 'speed', context.units, 0)}`;
  if (wind.speedMps === 0) return `calm or variable${gust}`;
  // With the correction for wind its direction gives that of the runway.
  const from = context.names.hidden ? '' : `${formatDirection(wind.fromRad)} `;
  return `${from}${formatValue(wind.speedMps, 'speed', context.units, 0)}${gust}`;
}

export function surfaceWords(surface: Surface): string {
  const qualities = [surface.wet && 'wet', surface.soft && 'soft', surface.long && 'long'].filter(
    (word) => word !== false,
  );
  return [...qualities, surface.kind].join(' ');
}

function densityAltitude(conditions: Conditions, context: ReportContext): string {
  const { airTemperatureK, altimeterSettingPa, dewPointK, runway } = conditions;
  if (airTemperatureK === undefined || altimeterSettingPa === undefined || runway?.elevationM === undefined) return '-';
  try {
    const air = airAtField({ elevationM: runway.elevationM, airTemperatureK, altimeterSettingPa, dewPointK });
    return formatValue(air.densityAltitudeM.value, 'altitude', context.units);
  } catch {
    return '-';
  }
}

function runwayCell(conditions: Conditions, context: ReportContext): string {
  const { runway } = conditions;
  if (runway === undefined) return 'not noted';
  const parts: string[] = [];
  if (runway.name !== undefined) parts.push(context.names.runway(runway.name));
  if (runway.airfield !== undefined) parts.push(context.names.airfield(runway.airfield));
  if (runway.slope !== undefined) parts.push(`${formatSigned(runway.slope.value * 100, 1)} %`);
  if (runway.surface !== undefined) parts.push(surfaceWords(runway.surface));
  return escapeMarkdown(parts.join(', '));
}

function howFlown(conditions: Conditions, context: ReportContext): string {
  const { technique, start, cruiseSetting } = conditions;
  const parts = [technique, start && `${start} start`, cruiseSetting].filter((part) => part !== undefined);
  return escapeMarkdown(
    parts
      .map((part) => context.names.note(part) ?? '')
      .filter((part) => part !== '')
      .join('; '),
  );
}

/** What was noted of each flight; "not noted" is never a zero. */
export function conditionsSection(context: ReportContext): string {
  const { flights } = context.evaluation;
  const head = [
    'Day',
    'Recording',
    'Configuration',
    'Runway',
    'Temperature',
    // With temperature and density altitude it gives the elevation of the field.
    ...(context.names.hidden ? [] : ['Altimeter setting']),
    'Density altitude',
    'Wind',
    'Weight',
    'How flown',
  ];
  const rows = flights.map((flight) => {
    const { conditions } = flight.entry;
    return [
      flight.day ?? '-',
      codeSpan(context.names.file(flight.file)),
      escapeMarkdown(flight.entry.configuration),
      runwayCell(conditions, context),
      notedCell(conditions.airTemperatureK, 'temperature', context),
      ...(context.names.hidden ? [] : [notedCell(conditions.altimeterSettingPa, 'pressure', context)]),
      densityAltitude(conditions, context),
      windCell(conditions, context),
      notedCell(conditions.takeoffMassKg, 'mass', context),
      howFlown(conditions, context),
    ];
  });
  const lines = [`${context.heading(2)} Conditions of each flight`, '', markdownTable(head, rows)];
  const usual = usualUncertainties(context);
  if (usual !== '') lines.push(usual, '');
  lines.push(...notes(context));
  return lines.join('\n');
}

function usualUncertainties(context: ReportContext): string {
  const words: readonly (readonly [string, (conditions: Conditions) => boolean | undefined])[] = [
    ['air temperature', ({ airTemperatureK }) => airTemperatureK?.sigmaStated],
    ['altimeter setting', ({ altimeterSettingPa }) => altimeterSettingPa?.sigmaStated],
    ['wind', ({ wind }) => wind?.sigmaStated],
    ['weight', ({ takeoffMassKg }) => takeoffMassKg?.sigmaStated],
    ['slope', ({ runway }) => runway?.slope?.sigmaStated],
  ];
  const all = context.evaluation.flights.map((flight) => flight.entry.conditions);
  const usual = words
    .filter(([, stated]) => all.some((conditions) => stated(conditions) === false))
    .map(([word]) => word);
  if (usual.length === 0) return '';
  return `Where no uncertainty of ${formatList(usual, 'or')} was stated, a usual one was taken (temperature 1 K; altimeter setting 1 hPa; wind 2 kt and a fifth of its speed in each component; weight 1.5 %, at least 10 kg; slope ${formatFixed(0.2, 1)} %; one standard deviation each).`;
}

function notes(context: ReportContext): string[] {
  const lines = context.evaluation.flights.flatMap((flight) => {
    const note = flight.entry.conditions.note;
    const shown = note === undefined ? undefined : context.names.note(note);
    return shown === undefined ? [] : [`- ${codeSpan(context.names.file(flight.file))}: ${escapeMarkdown(shown)}`];
  });
  const corrections = context.evaluation.flights.flatMap((flight) => {
    const marks = flight.analysis === undefined ? [] : eventMarks(flight.analysis, flight.entry.overrides);
    const films = flight.analysis?.recording.films;
    // What no take-off or landing took is told among the problems.
    const used = marks.filter(({ origin }) => origin === 'pilot');
    return used.map((mark) => {
      const why = mark.why === undefined ? '' : `: ${context.names.note(mark.why) ?? 'a note'}`;
      const event = mark.kind === 'liftoff' ? 'lift-off' : mark.kind.replace('-', ' ');
      const moment = filmMoment(films, mark);
      const film = moment?.name === undefined ? '' : `${context.names.file(moment.name)} `;
      const into = moment === undefined ? '' : ` (film ${film}${formatFilmTime(moment.atS)})`;
      const at = `${formatClock(mark.timeS, 1)} UTC${into}`;
      return `- ${codeSpan(context.names.file(flight.file))}: ${event} no. ${mark.number}, ${at}, is the pilot's time${escapeMarkdown(why.replace(/\s+$/, ''))}.`;
    });
  });
  return lines.length + corrections.length === 0
    ? []
    : ['Notes and times given by the pilot:', '', ...lines, ...corrections, ''];
}
