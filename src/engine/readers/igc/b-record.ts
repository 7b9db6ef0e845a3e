/** Where an extension of the B record stands: 0-based, end exclusive. */
export interface Extension {
  readonly code: string;
  readonly start: number;
  readonly end: number;
}

export interface Fix {
  readonly timeOfDayS: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** False for `V`: no position (2D or none), only the pressure altitude counts. */
  readonly valid: boolean;
  readonly pressureAltitudeM: number;
  readonly gnssAltitudeM: number;
}

/** `I` and count, then start, end (1-based, inclusive) and code of each extension; `undefined` if malformed. */
export function readExtensions(line: string): Extension[] | undefined {
  const count = Number(line.slice(1, 3));
  if (!/^I\d\d(?:\d{4}[A-Z0-9]{3})*\s*$/.test(line) || line.trim().length !== 3 + 7 * count) return undefined;
  const extensions: Extension[] = [];
  for (let at = 3; at + 7 <= line.length && extensions.length < count; at += 7) {
    const start = Number(line.slice(at, at + 2)) - 1;
    const end = Number(line.slice(at + 2, at + 4));
    if (start < 35 || end <= start) return undefined;
    extensions.push({ code: line.slice(at + 4, at + 7), start, end });
  }
  return extensions;
}

/** Digits of a line from `start` (0-based) up to `end`, as a number; a leading sign is allowed; `NaN` if anything else. */
export function fieldNumber(line: string, start: number, end: number): number {
  let at = start;
  const sign = line.charCodeAt(at);
  const negative = sign === 45;
  if (negative || sign === 43) at++;
  if (at >= end || end > line.length) return Number.NaN;
  let value = 0;
  for (; at < end; at++) {
    const digit = line.charCodeAt(at) - 48;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    value = value * 10 + digit;
  }
  return negative ? -value : value;
}

/**
 * The fixed part of a B record: `B HHMMSS DDMMmmmN DDDMMmmmE V PPPPP GGGGG`, with further digits of the minutes from the
 * extensions LAD and LOD. `undefined` if it is malformed.
 */
export function readFix(line: string, latitudeDigits?: Extension, longitudeDigits?: Extension): Fix | undefined {
  if (line.length < 35) return undefined;
  const hour = fieldNumber(line, 1, 3);
  const minute = fieldNumber(line, 3, 5);
  const second = fieldNumber(line, 5, 7);
  const latDeg = degrees(line, 7, 2, latitudeDigits, 'N', 'S');
  const lonDeg = degrees(line, 15, 3, longitudeDigits, 'E', 'W');
  const validity = line[24];
  const pressureAltitudeM = fieldNumber(line, 25, 30);
  const gnssAltitudeM = fieldNumber(line, 30, 35);
  if (!(hour < 24 && minute < 60 && second < 61) || Number.isNaN(latDeg + lonDeg + pressureAltitudeM)) return undefined;
  if (Number.isNaN(gnssAltitudeM) || (validity !== 'A' && validity !== 'V')) return undefined;
  return {
    timeOfDayS: hour * 3600 + minute * 60 + second,
    latDeg,
    lonDeg,
    valid: validity === 'A',
    pressureAltitudeM,
    gnssAltitudeM,
  };
}

function degrees(
  line: string,
  start: number,
  width: number,
  further: Extension | undefined,
  positive: string,
  negative: string,
): number {
  const whole = fieldNumber(line, start, start + width);
  let minutes = fieldNumber(line, start + width, start + width + 5);
  let scale = 1000;
  if (further) {
    const digits = fieldNumber(line, further.start, further.end);
    if (!Number.isNaN(digits)) {
      const power = 10 ** (further.end - further.start);
      minutes = minutes * power + digits;
      scale *= power;
    }
  }
  const value = whole + minutes / scale / 60;
  const hemisphere = line[start + width + 5];
  if (minutes >= 60 * scale) return Number.NaN;
  if (hemisphere === positive) return value;
  return hemisphere === negative ? -value : Number.NaN;
}
