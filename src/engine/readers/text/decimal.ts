/** Powers of ten that double precision holds exactly. */
export const exactPowers = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/** Whole numbers above it lose their last digit. */
const largestWhole = 2 ** 53;

/**
 * The decimal number that a text is, blanks around it ignored; `NaN` for nothing or anything else. `mark` is the decimal
 * mark. Same value as `Number`, faster: a whole number below 2^53 divided by an exact power of ten is rounded once.
 */
export function decimalNumber(text: string, mark: '.' | ',' = '.'): number {
  let at = 0;
  let end = text.length;
  while (at < end && text.charCodeAt(at) <= 32) at++;
  while (end > at && text.charCodeAt(end - 1) <= 32) end--;
  const start = at;
  const sign = text.charCodeAt(at);
  if (sign === 45 || sign === 43) at++;
  const point = mark === '.' ? 46 : 44;
  let whole = 0;
  let digits = 0;
  let before = -1;
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      whole = whole * 10 + code - 48;
      digits++;
    } else if (code === point && before === -1) before = digits;
    else return slowNumber(text.slice(start, end), mark);
  }
  if (digits === 0) return Number.NaN;
  const decimals = before === -1 ? 0 : digits - before;
  if (whole > largestWhole || decimals > 22) return slowNumber(text.slice(start, end), mark);
  const value = decimals === 0 ? whole : whole / exactPowers[decimals];
  return sign === 45 ? -value : value;
}

/** Exponents and long numbers; not the other forms that `Number` knows (hexadecimal, Infinity). */
function slowNumber(written: string, mark: '.' | ','): number {
  // With decimal commas a point may be a thousands separator: no number is better than one that is wrong by 1000.
  if (mark === ',' && written.includes('.')) return Number.NaN;
  const number = mark === ',' ? written.replace(',', '.') : written;
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(number) ? Number(number) : Number.NaN;
}
