import type { DisplayUnits } from '../../shared/display-units.ts';
import type { EventMark, FlightView } from '../../shared/flight-view.ts';
import { intoFilm } from '../../shared/film-time.ts';
import { formatClock, formatDirection, formatValue, formatFilmTime } from '../../shared/format.ts';
import { nearestRow, type TrackColumns } from '../../shared/track-columns.ts';
import type { PlotAxis, PlotLine, PlotMark, PlotSpec } from '../charts/plot-spec.ts';
import type { SeriesColour } from '../theme.ts';
import type { Along } from './along.ts';

/** Half width of a 95 % interval in standard deviations. */
const z95 = 1.96;

export const heightTitles: Readonly<Record<TrackColumns['heightKind'], string>> = {
  msl: 'Altitude',
  ellipsoid: 'Height above the ellipsoid',
  pressure: 'Pressure altitude',
  unknown: 'Height (datum not stated)',
};

/** A flight as the page holds it: what was sent, and what charts need made of it once. */
export interface FlightModel {
  readonly flight: FlightView;
  readonly columns: TrackColumns;
  readonly units: DisplayUnits;
  readonly durationS: number;
  /** Phases and events are still being looked for. */
  readonly pending: boolean;
  readonly heightBand?: Band;
  readonly speedBand?: Band;
}

interface Band {
  readonly low: Float32Array;
  readonly high: Float32Array;
}

function band(values: Float32Array, sigma: Float32Array | number | undefined): Band | undefined {
  if (sigma === undefined) return undefined;
  const of = (row: number): number => z95 * (typeof sigma === 'number' ? sigma : sigma[row]);
  return { low: values.map((v, row) => v - of(row)), high: values.map((v, row) => v + of(row)) };
}

export function flightModel(
  flight: FlightView,
  columns: TrackColumns,
  units: DisplayUnits,
  pending = false,
): FlightModel {
  return {
    flight,
    columns,
    units,
    pending,
    durationS: columns.timeS[columns.timeS.length - 1],
    heightBand: band(columns.heightM, columns.heightSigmaM),
    speedBand: band(columns.groundSpeedMps, columns.groundSpeedSigmaMps),
  };
}

function eventLines(events: readonly EventMark[], columns: TrackColumns, map: Along): PlotMark[] {
  return events.map((event) => ({
    id: event.id,
    label: event.label,
    x: map.xOf(event.timeS - columns.startS),
    byPilot: event.origin === 'pilot',
    tag: event.origin === 'pilot' ? `${event.label} (pilot)` : event.label,
  }));
}

/** The three charts of a flight. */
export function flightPlots(model: FlightModel, map: Along): PlotSpec[] {
  const { columns, flight } = model;
  const { gapsBefore } = columns;
  const marks = eventLines(
    flight.events.filter((event) => event.kind !== 'screen'),
    columns,
    map,
  );
  const line = (
    id: string,
    label: string,
    ys: ArrayLike<number>,
    colour: SeriesColour,
    more: Partial<PlotLine> = {},
  ): PlotLine => ({
    id,
    label,
    xs: map.xs,
    ys,
    gapsBefore,
    colour,
    dash: [],
    width: 1.5,
    ...more,
  });
  const spec = (id: string, title: string, y: PlotAxis, lines: PlotLine[]): PlotSpec => ({
    id,
    title,
    x: map.axis,
    y,
    lines,
    // Names once, at the top; the lines run through all charts.
    marks: id === 'height' ? marks : marks.map((mark) => ({ ...mark, tag: '' })),
  });
  const heightTitle = heightTitles[columns.heightKind];
  return [
    spec('height', heightTitle, { title: heightTitle, kind: { quantity: 'altitude' }, leastSpan: 30 }, [
      line('height', heightTitle, columns.heightM, 'blue', model.heightBand),
    ]),
    spec(
      'speed',
      columns.airspeedMps === undefined ? 'Ground speed' : 'Ground speed and airspeed',
      { title: 'Speed', kind: { quantity: 'speed' }, include: 0, leastSpan: 5 },
      [
        line('ground-speed', 'Ground speed', columns.groundSpeedMps, 'green', model.speedBand),
        ...(columns.airspeedMps === undefined
          ? []
          : [
              line(
                'airspeed',
                columns.airspeedKind === 'true' ? 'True airspeed' : 'Indicated airspeed',
                columns.airspeedMps,
                'purple',
                { dash: [5, 3] },
              ),
            ]),
      ],
    ),
    spec(
      'vertical-speed',
      'Vertical speed',
      { title: 'Vertical speed', kind: { quantity: 'vertical-speed' }, include: 0, leastSpan: 2 },
      [line('vertical-speed', 'Vertical speed', columns.verticalSpeedMps, 'orange')],
    ),
  ];
}

export interface ReadOut {
  readonly name: string;
  readonly text: string;
}

/** What the flight shows at a time, ready to read. */
export function readOut(model: FlightModel, timeS: number): ReadOut[] {
  const { columns, units, flight } = model;
  const row = nearestRow(columns.timeS, timeS);
  if (row < 0) return [];
  const at = columns.startS + columns.timeS[row];
  const phase = flight.phases.find((one) => one.startS <= at && at < one.endS);
  const value = (v: number, kind: Parameters<typeof formatValue>[1]): string =>
    Number.isFinite(v) ? formatValue(v, kind, units) : 'not recorded';
  const track = columns.trackRad[row];
  const film = intoFilm(flight.analysis.recording.films, at);
  return [
    {
      name: 'Time',
      text: `${formatClock(at, columns.timeS.length > 1 && model.durationS / columns.timeS.length < 0.9 ? 1 : 0)} UTC`,
    },
    ...(film === undefined
      ? []
      : [
          {
            name: 'In the film',
            text: `${formatFilmTime(film.intoS)}${film.part.name === undefined ? '' : `, ${film.part.name}`}`,
          },
        ]),
    ...(phase === undefined ? [] : [{ name: 'Phase', text: phase.kind }]),
    { name: heightTitles[columns.heightKind], text: value(columns.heightM[row], 'altitude') },
    { name: 'Ground speed', text: value(columns.groundSpeedMps[row], 'speed') },
    ...(columns.airspeedMps === undefined
      ? []
      : [
          {
            name: columns.airspeedKind === 'true' ? 'True airspeed' : 'Indicated airspeed',
            text: value(columns.airspeedMps[row], 'speed'),
          },
        ]),
    { name: 'Vertical speed', text: value(columns.verticalSpeedMps[row], 'vertical-speed') },
    { name: 'Track', text: Number.isFinite(track) ? formatDirection(track) : 'too slow to tell' },
    { name: 'Distance flown', text: value(columns.distanceM[row], 'route-distance') },
  ];
}
