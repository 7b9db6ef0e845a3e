import { daysSince1970, isoTimeS } from '../text/date-time.ts';
import { decimalNumber, exactPowers } from '../text/decimal.ts';

const decoder = new TextDecoder();

/** Text of some bytes of UTF-8. */
export function textOf(bytes: Uint8Array, start: number, end: number): string {
  return decoder.decode(bytes.subarray(start, end));
}

/** So many digits a number has at most for its whole digits to stay below 2^53, so that one division rounds it once. */
const mostDigits = 15;

/** The decimal number in UTF-8 bytes from `start` to `end`; the same as `decimalNumber` of its text, without making one. */
export function decimalOf(bytes: Uint8Array, start: number, end: number): number {
  let at = start;
  const first = bytes[at];
  if (first === 45 || first === 43) at++;
  const digitsFrom = at;
  let whole = 0;
  let point = -1;
  for (; at < end; at++) {
    const byte = bytes[at];
    if (byte >= 48 && byte <= 57) whole = whole * 10 + byte - 48;
    else if (byte === 46 && point === -1) point = at;
    else return decimalNumber(textOf(bytes, start, end));
  }
  const digits = end - digitsFrom - (point === -1 ? 0 : 1);
  if (digits < 1 || digits > mostDigits) return decimalNumber(textOf(bytes, start, end));
  const value = point === -1 ? whole : whole / exactPowers[end - point - 1];
  return first === 45 ? -value : value;
}

function twoDigits(bytes: Uint8Array, at: number): number {
  const [tens, ones] = [bytes[at] - 48, bytes[at + 1] - 48];
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

/** The day read last, as its number YYYYMMDD: recordings write thousands of times on the same one. */
let lastDate = 0;
let lastDays = Number.NaN;

/**
 * Unix time in seconds of `YYYY-MM-DDThh:mm:ss[.f…]Z` in UTF-8 bytes from `start` to `end`; any other form goes through
 * `isoTimeS`, whose answer is the same. `NaN` if malformed.
 */
export function timeOf(bytes: Uint8Array, start: number, end: number): number {
  const slow = (): number => isoTimeS(textOf(bytes, start, end));
  if (end - start < 20 || bytes[end - 1] !== 90 || bytes[start + 10] !== 84) return slow();
  if (bytes[start + 4] !== 45 || bytes[start + 7] !== 45 || bytes[start + 13] !== 58 || bytes[start + 16] !== 58)
    return slow();
  const date =
    (twoDigits(bytes, start) * 100 + twoDigits(bytes, start + 2)) * 10_000 +
    twoDigits(bytes, start + 5) * 100 +
    twoDigits(bytes, start + 8);
  if (date !== lastDate) {
    lastDate = date;
    lastDays = daysSince1970(Math.floor(date / 10_000), Math.floor(date / 100) % 100, date % 100);
  }
  const hour = twoDigits(bytes, start + 11);
  const minute = twoDigits(bytes, start + 14);
  const second = twoDigits(bytes, start + 17);
  if (!(hour <= 23 && minute <= 59 && second <= 59)) return slow();
  let fraction = 0;
  if (end - start > 20) {
    if (bytes[start + 19] !== 46 || end - start === 21) return slow();
    fraction = decimalOf(bytes, start + 19, end - 1);
    if (!(fraction >= 0 && fraction < 1)) return slow();
  }
  return lastDays * 86_400 + hour * 3600 + minute * 60 + second + fraction;
}
