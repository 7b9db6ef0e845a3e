import type { AltitudeColumn, AltitudeKind, Track } from './track.ts';

export interface GpxOptions {
  readonly name?: string;
  /** What a reader must know, before what the elevations are. */
  readonly remark?: string;
  /** What the elevations are, instead of what their kind says. */
  readonly datum?: string;
}

const degreesPerRadian = 180 / Math.PI;

/** What the elevations are, for the reader of the file: the schema itself does not say. */
const datumTexts: Readonly<Record<AltitudeKind, string>> = {
  msl: 'Elevations are above mean sea level.',
  ellipsoid: 'Elevations are above the WGS 84 ellipsoid.',
  unknown: 'The datum of the elevations was not stated by the recorder.',
  pressure: 'Elevations are pressure altitudes (1013.25 hPa).',
};

/**
 * A track as GPX 1.1, with speed and course in the track point extension, version 2. Written are time, position, the best
 * altitude (with the height of the geoid where both kinds are there), speed, course and dilution of precision; other
 * channels have no place in the format. A stated interruption begins a new segment. Positions have 9 decimals (0.1 mm).
 */
export function writeGpx(track: Track, options: GpxOptions = {}): string {
  const msl = track.altitudes.find(({ kind }) => kind === 'msl');
  const ellipsoid = track.altitudes.find(({ kind }) => kind === 'ellipsoid');
  const elevation = msl ?? track.altitudes[0];
  const breaks = new Set(track.breaks);
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="Modproof" xmlns="http://www.topografix.com/GPX/1/1"' +
      ' xmlns:gpxtpx="http://www.garmin.com/xmlschemas/TrackPointExtension/v2">',
    '<trk>',
  ];
  if (options.name !== undefined) lines.push(`<name>${escaped(options.name)}</name>`);
  const told = [options.remark, elevation && (options.datum ?? datumTexts[elevation.kind])].filter(
    (text) => text !== undefined,
  );
  if (told.length > 0) lines.push(`<desc>${escaped(told.join(' '))}</desc>`);
  lines.push('<trkseg>');
  for (let row = 0; row < track.timeS.length; row++) {
    if (breaks.has(row)) lines.push('</trkseg>', '<trkseg>');
    if (!Number.isNaN(track.latDeg[row])) lines.push(point(track, row, elevation, msl && ellipsoid));
  }
  lines.push('</trkseg>', '</trk>', '</gpx>', '');
  return lines.join('\n');
}

function point(
  track: Track,
  row: number,
  elevation: AltitudeColumn | undefined,
  ellipsoid: AltitudeColumn | undefined,
): string {
  const heightM = elevation?.valuesM[row] ?? Number.NaN;
  const geoidM = (ellipsoid?.valuesM[row] ?? Number.NaN) - heightM;
  const courseDeg = (track.trackRad?.[row] ?? Number.NaN) * degreesPerRadian;
  const motion = element('gpxtpx:speed', track.groundSpeedMps?.[row], 4) + element('gpxtpx:course', courseDeg % 360, 3);
  // The order of the elements is that of the schema.
  return (
    `<trkpt lat="${decimal(track.latDeg[row], 9)}" lon="${decimal(track.lonDeg[row], 9)}">` +
    element('ele', heightM, 3) +
    timeElement(track.timeS[row]) +
    element('geoidheight', geoidM, 3) +
    element('hdop', track.hdop?.[row], 2) +
    (motion === ''
      ? ''
      : `<extensions><gpxtpx:TrackPointExtension>${motion}</gpxtpx:TrackPointExtension></extensions>`) +
    '</trkpt>'
  );
}

/** A time that no calendar holds (a damaged recording) is left out. */
function timeElement(timeS: number): string {
  const date = new Date(Math.round(timeS * 1000));
  return Number.isNaN(date.getTime()) ? '' : `<time>${date.toISOString()}</time>`;
}

function element(name: string, value: number | undefined, decimals: number): string {
  return value === undefined || Number.isNaN(value) ? '' : `<${name}>${decimal(value, decimals)}</${name}>`;
}

/** Without trailing zeros and never in powers of ten. */
function decimal(value: number, decimals: number): string {
  const text = value.toFixed(decimals).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

function escaped(text: string): string {
  return text
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}
