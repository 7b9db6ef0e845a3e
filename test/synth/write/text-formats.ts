import type { Fix, Recording } from '../receive.ts';
import { civilTime, isoDate, isoTime, padded } from './civil-time.ts';

/**
 * Recordings as the text files that recorders write. Field orders follow the formats' public descriptions: GPX 1.1
 * schema, KML 2.2 with the gx extension, NMEA 0183 RMC and GGA, FAI/IGC flight-recorder B records.
 */
const degree = Math.PI / 180;
const knotMps = 1852 / 3600;
const footM = 0.3048;

export type TextFormat =
  | 'gpx'
  | 'gpx-speed'
  | 'kml'
  | 'kml-speed'
  | 'nmea'
  | 'igc'
  | 'csv-metric'
  | 'csv-aviation'
  | 'csv-semicolon';

function decimalsOf(recording: Recording): number {
  if (recording.kind.wholeSeconds) return 0;
  if (recording.kind.rateHz <= 1) return 0;
  return Number.isInteger(recording.kind.rateHz) ? 1 : 3;
}

function valid(recording: Recording): readonly Fix[] {
  return recording.fixes.filter((fix) => fix.valid);
}

export function writeGpx(recording: Recording, withSpeed: boolean): string {
  const decimals = decimalsOf(recording);
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="recorder" xmlns="http://www.topografix.com/GPX/1/1" xmlns:m="urn:invented:motion">',
    '<trk><trkseg>',
  ];
  let before = Number.NaN;
  for (const fix of valid(recording)) {
    // Lost reception is a new segment, as the schema says.
    if (fix.trueTimeS - before > 6) lines.push('</trkseg><trkseg>');
    before = fix.trueTimeS;
    const speed = withSpeed ? `<extensions><m:speed>${fix.groundSpeedMps.toFixed(2)}</m:speed></extensions>` : '';
    lines.push(
      `<trkpt lat="${fix.latDeg.toFixed(7)}" lon="${fix.lonDeg.toFixed(7)}"><ele>${fix.heightM.toFixed(1)}</ele>` +
        `<time>${isoTime(fix.timeS, decimals)}</time>${speed}</trkpt>`,
    );
  }
  lines.push('</trkseg></trk>', '</gpx>', '');
  return lines.join('\n');
}

export function writeKml(recording: Recording, withSpeed: boolean): string {
  const decimals = decimalsOf(recording);
  const fixes = valid(recording);
  const schema = withSpeed
    ? '<Schema id="s"><gx:SimpleArrayField name="speed" type="float"><displayName>Speed (m/s)</displayName></gx:SimpleArrayField></Schema>'
    : '';
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">',
    `<Document>${schema}<Placemark><gx:Track><altitudeMode>absolute</altitudeMode>`,
    ...fixes.map((fix) => `<when>${isoTime(fix.timeS, decimals)}</when>`),
    ...fixes.map(
      (fix) => `<gx:coord>${fix.lonDeg.toFixed(6)} ${fix.latDeg.toFixed(6)} ${fix.heightM.toFixed(1)}</gx:coord>`,
    ),
    ...(withSpeed
      ? [
          '<ExtendedData><SchemaData schemaUrl="#s"><gx:SimpleArrayData name="speed">',
          ...fixes.map((fix) => `<gx:value>${fix.groundSpeedMps.toFixed(2)}</gx:value>`),
          '</gx:SimpleArrayData></SchemaData></ExtendedData>',
        ]
      : []),
    '</gx:Track></Placemark></Document>',
    '</kml>',
    '',
  ].join('\n');
}

function sentence(body: string): string {
  let sum = 0;
  for (let i = 0; i < body.length; i++) sum ^= body.charCodeAt(i);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
}

/** Degrees and decimal minutes with the hemisphere as its own field. */
function minutes(value: number, width: number, letters: string): string {
  const ticks = Math.round(Math.abs(value) * 60 * 1e5);
  const whole = Math.floor(ticks / (60 * 1e5));
  const rest = (ticks - whole * 60 * 1e5) / 1e5;
  return `${padded(whole, width)}${rest.toFixed(5).padStart(8, '0')},${value < 0 ? letters[1] : letters[0]}`;
}

export function writeNmea(recording: Recording): string {
  const lines: string[] = [];
  const geoid = recording.geoidHeightM;
  const datum = recording.kind.heightDatum === 'ellipsoid' ? geoid : 0;
  for (const fix of recording.fixes) {
    const t = civilTime(fix.timeS, 2);
    const time = `${padded(t.hour, 2)}${padded(t.minute, 2)}${t.second.toFixed(2).padStart(5, '0')}`;
    const date = `${padded(t.day, 2)}${padded(t.month, 2)}${padded(t.year % 100, 2)}`;
    if (!fix.valid) {
      lines.push(sentence(`GPRMC,${time},V,,,,,,,${date},,,N`));
      continue;
    }
    const where = `${minutes(fix.latDeg, 2, 'NS')},${minutes(fix.lonDeg, 3, 'EW')}`;
    const speed = Number.isNaN(fix.groundSpeedMps) ? '' : (fix.groundSpeedMps / knotMps).toFixed(2);
    const track = Number.isNaN(fix.trackRad) ? '' : (fix.trackRad / degree).toFixed(2);
    lines.push(sentence(`GPRMC,${time},A,${where},${speed},${track},${date},,,A`));
    lines.push(
      sentence(`GPGGA,${time},${where},1,11,0.9,${(fix.heightM - datum).toFixed(1)},M,${geoid.toFixed(1)},M,,`),
    );
  }
  return `${lines.join('\r\n')}\r\n`;
}

function thousandths(value: number, width: number, letters: string): string {
  const ticks = Math.round(Math.abs(value) * 60_000);
  const whole = Math.floor(ticks / 60_000);
  return `${padded(whole, width)}${padded(ticks - whole * 60_000, 5)}${value < 0 ? letters[1] : letters[0]}`;
}

function igcHeight(metres: number): string {
  const whole = Math.round(metres);
  return whole < 0 ? `-${padded(-whole, 4)}` : padded(whole, 5);
}

export function writeIgc(recording: Recording): string {
  const fixes = valid(recording);
  const first = civilTime(fixes[0].timeS, 0);
  const lines = [
    'AXXX001',
    `HFDTE${padded(first.day, 2)}${padded(first.month, 2)}${padded(first.year % 100, 2)}`,
    'HFFXA035',
    'HFPLTPILOTINCHARGE:NOT RECORDED',
    'HFDTM100GPSDATUM:WGS-1984',
    `HFALGALTGPS:${recording.kind.heightDatum === 'ellipsoid' ? 'ELL' : 'GEO'}`,
    'HFALPALTPRESSURE:ISA',
    'I013638FXA',
  ];
  for (const fix of fixes) {
    const t = civilTime(fix.timeS, 0);
    const pressure = Number.isNaN(fix.pressureAltitudeM) ? 0 : fix.pressureAltitudeM;
    lines.push(
      `B${padded(t.hour, 2)}${padded(t.minute, 2)}${padded(t.second, 2)}${thousandths(fix.latDeg, 2, 'NS')}` +
        `${thousandths(fix.lonDeg, 3, 'EW')}A${igcHeight(pressure)}${igcHeight(fix.heightM)}004`,
    );
  }
  lines.push('G0000000000000000');
  return `${lines.join('\r\n')}\r\n`;
}

function number(value: number, decimals: number): string {
  return Number.isNaN(value) ? '' : value.toFixed(decimals);
}

interface Column {
  readonly heading: string;
  readonly text: (fix: Fix) => string;
}

export function writeCsv(recording: Recording, dialect: 'metric' | 'aviation' | 'semicolon'): string {
  const { kind } = recording;
  const decimals = decimalsOf(recording);
  const hasSpeed = kind.velocity !== undefined;
  const some = (present: boolean, column: Column): Column[] => (present ? [column] : []);
  const time = (fix: Fix): string => isoTime(fix.timeS, decimals);
  let columns: Column[];
  if (dialect === 'metric') {
    columns = [
      { heading: 'time_utc', text: time },
      { heading: 'latitude_deg', text: (fix) => number(fix.latDeg, 7) },
      { heading: 'longitude_deg', text: (fix) => number(fix.lonDeg, 7) },
      { heading: 'altitude_m', text: (fix) => number(fix.heightM, 2) },
      ...some(hasSpeed, { heading: 'ground_speed_mps', text: (fix) => number(fix.groundSpeedMps, 2) }),
      ...some(hasSpeed, { heading: 'track_deg', text: (fix) => number(fix.trackRad / degree, 1) }),
      ...some(kind.verticalVelocity !== undefined, {
        heading: 'vertical_speed_mps',
        text: (fix) => number(fix.verticalSpeedMps, 2),
      }),
      ...some(kind.pressure !== undefined, {
        heading: 'pressure_altitude_m',
        text: (fix) => number(fix.pressureAltitudeM, 1),
      }),
      ...some(kind.airData === true, { heading: 'ias_mps', text: (fix) => number(fix.indicatedAirspeedMps, 2) }),
      ...some(kind.airData === true, {
        heading: 'oat_c',
        text: (fix) => number(fix.outsideAirTemperatureK - 273.15, 1),
      }),
      ...some(kind.engineData === true, { heading: 'rpm', text: (fix) => number(fix.rpm, 0) }),
      ...some(kind.engineData === true, {
        heading: 'fuel_flow_lph',
        text: (fix) => number(fix.fuelFlowM3ps * 3.6e6, 1),
      }),
    ];
  } else if (dialect === 'aviation') {
    columns = [
      { heading: 'Date', text: (fix) => time(fix).slice(0, 10) },
      { heading: 'Time (UTC)', text: (fix) => time(fix).slice(11, -1) },
      { heading: 'Latitude', text: (fix) => number(fix.latDeg, 6) },
      { heading: 'Longitude', text: (fix) => number(fix.lonDeg, 6) },
      { heading: 'GPS Altitude (ft)', text: (fix) => number(fix.heightM / footM, 0) },
      ...some(hasSpeed, { heading: 'Ground Speed (kt)', text: (fix) => number(fix.groundSpeedMps / knotMps, 1) }),
      ...some(hasSpeed, { heading: 'Track (deg)', text: (fix) => number(fix.trackRad / degree, 0) }),
      ...some(kind.pressure !== undefined, {
        heading: 'Pressure Altitude (ft)',
        text: (fix) => number(fix.pressureAltitudeM / footM, 0),
      }),
      ...some(kind.airData === true, {
        heading: 'IAS (kt)',
        text: (fix) => number(fix.indicatedAirspeedMps / knotMps, 1),
      }),
      ...some(kind.airData === true, {
        heading: 'OAT (C)',
        text: (fix) => number(fix.outsideAirTemperatureK - 273.15, 1),
      }),
      ...some(kind.engineData === true, { heading: 'RPM', text: (fix) => number(fix.rpm, 0) }),
      ...some(kind.engineData === true, {
        heading: 'Fuel Flow (L/h)',
        text: (fix) => number(fix.fuelFlowM3ps * 3.6e6, 1),
      }),
    ];
  } else {
    const comma = (text: string): string => text.replace('.', ',');
    columns = [
      { heading: 'date', text: (fix) => isoDate(civilTime(fix.timeS, decimals)) },
      { heading: 'time UTC', text: (fix) => comma(time(fix).slice(11, -1)) },
      { heading: 'lat', text: (fix) => comma(number(fix.latDeg, 7)) },
      { heading: 'lon', text: (fix) => comma(number(fix.lonDeg, 7)) },
      { heading: 'altitude m', text: (fix) => comma(number(fix.heightM, 1)) },
      ...some(hasSpeed, { heading: 'speed km/h', text: (fix) => comma(number(fix.groundSpeedMps * 3.6, 1)) }),
    ];
  }
  const separator = dialect === 'semicolon' ? ';' : ',';
  const rows = valid(recording).map((fix) => columns.map((column) => column.text(fix)).join(separator));
  return `${[columns.map((column) => column.heading).join(separator), ...rows].join('\n')}\n`;
}

export function writeText(recording: Recording, format: TextFormat): string {
  switch (format) {
    case 'gpx':
      return writeGpx(recording, false);
    case 'gpx-speed':
      return writeGpx(recording, true);
    case 'kml':
      return writeKml(recording, false);
    case 'kml-speed':
      return writeKml(recording, true);
    case 'nmea':
      return writeNmea(recording);
    case 'igc':
      return writeIgc(recording);
    case 'csv-metric':
      return writeCsv(recording, 'metric');
    case 'csv-aviation':
      return writeCsv(recording, 'aviation');
    default:
      return writeCsv(recording, 'semicolon');
  }
}
