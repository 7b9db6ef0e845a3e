import type { AltitudeKind, ChannelName, Track } from './track.ts';

const degreesPerRadian = 180 / Math.PI;

export interface CsvOptions {
  /** What a reader must know: a line of its own above the headings, behind "#". */
  readonly remark?: string;
}

interface WrittenColumn {
  /** Understood by the reader of tables, with its unit. */
  readonly heading: string;
  readonly values: Float64Array;
  readonly decimals: number;
  /** From SI to the unit of the heading. */
  readonly convert?: (valueSi: number) => number;
}

const altitudeHeadings: Readonly<Record<AltitudeKind, string>> = {
  msl: 'altitude msl (m)',
  ellipsoid: 'altitude ellipsoid (m)',
  pressure: 'pressure altitude (m)',
  unknown: 'altitude (m)',
};

/** Channels that a table has a heading for; what is not here cannot be carried. */
const channelColumns: Readonly<Partial<Record<ChannelName, Omit<WrittenColumn, 'values'>>>> = {
  indicatedAirspeedMps: { heading: 'indicated airspeed (m/s)', decimals: 4 },
  trueAirspeedMps: { heading: 'true airspeed (m/s)', decimals: 4 },
  outsideAirTemperatureK: { heading: 'outside air temperature (K)', decimals: 3 },
  engineSpeedRpm: { heading: 'engine speed (rpm)', decimals: 2 },
  manifoldPressurePa: { heading: 'manifold pressure (Pa)', decimals: 1 },
  fuelFlowM3ps: { heading: 'fuel flow (L/h)', decimals: 5, convert: (value) => value * 3_600_000 },
  fuelQuantityM3: { heading: 'fuel quantity (L)', decimals: 5, convert: (value) => value * 1000 },
  fuelUsedM3: { heading: 'fuel used (L)', decimals: 5, convert: (value) => value * 1000 },
  pitchRad: { heading: 'pitch (rad)', decimals: 6 },
  rollRad: { heading: 'roll (rad)', decimals: 6 },
  headingRad: { heading: 'heading true (rad)', decimals: 6 },
  windSpeedMps: { heading: 'wind speed (m/s)', decimals: 4 },
  windFromRad: { heading: 'wind from true (rad)', decimals: 6 },
};

/** Channels of a track that a table has no heading for. */
export function channelsNotInCsv(track: Track): ChannelName[] {
  return (Object.keys(track.channels) as ChannelName[]).filter((name) => channelColumns[name] === undefined);
}

function columnsOf(track: Track): WrittenColumn[] {
  const column = (values: Float64Array | undefined, heading: string, decimals: number): WrittenColumn[] =>
    values === undefined ? [] : [{ heading, values, decimals }];
  const inDegrees = (radians: number): number => {
    const degrees = (radians * degreesPerRadian) % 360;
    return degrees < 0 ? degrees + 360 : degrees;
  };
  return [
    { heading: 'latitude (deg)', values: track.latDeg, decimals: 9 },
    { heading: 'longitude (deg)', values: track.lonDeg, decimals: 9 },
    ...track.altitudes.map(({ kind, valuesM }) => ({ heading: altitudeHeadings[kind], values: valuesM, decimals: 3 })),
    ...column(track.groundSpeedMps, 'ground speed (m/s)', 4),
    ...column(track.trackRad, 'track true (deg)', 4).map((one) => ({ ...one, convert: inDegrees })),
    ...column(track.verticalSpeedMps, 'vertical speed (m/s)', 4),
    ...column(track.horizontalSigmaM, 'horizontal accuracy (m)', 3),
    ...column(track.verticalSigmaM, 'vertical accuracy (m)', 3),
    ...column(track.speedSigmaMps, 'speed accuracy (m/s)', 4),
    ...column(track.hdop, 'hdop', 2),
    ...(Object.entries(channelColumns) as [ChannelName, Omit<WrittenColumn, 'values'>][]).flatMap(([name, written]) => {
      const values = track.channels[name];
      return values === undefined ? [] : [{ ...written, values }];
    }),
  ];
}

/**
 * A track as a table (RFC 4180) with a unit in every heading, that the reader of tables reads back: time (UTC), position,
 * all altitudes, speed, course, accuracies and channels. A missing value is an empty cell. Rows without a position are
 * left out; an interruption stays only where time is missing, as a table has no other sign for it.
 */
export function writeCsv(track: Track, options: CsvOptions = {}): string {
  const columns = columnsOf(track);
  const { remark } = options;
  const lines = [
    ...(remark === undefined ? [] : [`# ${remark.replace(/[\r\n]+/g, ' ')}`]),
    ['time (UTC)', ...columns.map(({ heading }) => heading)].join(','),
  ];
  for (let row = 0; row < track.timeS.length; row++) {
    if (Number.isNaN(track.latDeg[row]) || Number.isNaN(track.lonDeg[row])) continue;
    const date = new Date(Math.round(track.timeS[row] * 1000));
    if (Number.isNaN(date.getTime())) continue;
    const cells = columns.map(({ values, decimals, convert }) => {
      const value = convert === undefined ? values[row] : convert(values[row]);
      return Number.isFinite(value) ? fixed(value, decimals) : '';
    });
    lines.push([date.toISOString(), ...cells].join(','));
  }
  return `${lines.join('\r\n')}\r\n`;
}

/** Without trailing zeros, in powers of ten never, and never "-0". */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}
