/** Powers of ten that double precision holds exactly. */
const exactPowers = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/** Whole numbers above it lose their last digit. */
const largestWhole = 2 ** 53;

/**
 * The decimal number in `text` from `start` to `end`, blanks around it ignored; `NaN` for nothing or anything else. `mark` is the decimal mark. Same
 * value as `Number`, without making a string: a whole number below 2^53 divided by an exact power of ten is rounded once.
 */
export function decimalNumber(text: string, start: number, end: number, mark: '.' | ',' = '.'): number {
  let at = start;
  let last = end;
  while (at < last && text.charCodeAt(at) <= 32) at++;
  while (last > at && text.charCodeAt(last - 1) <= 32) last--;
  const first = at;
  const sign = text.charCodeAt(at);
  if (sign === 45 || sign === 43) at++;
  const point = mark === '.' ? 46 : 44;
  let whole = 0;
  let digits = 0;
  let before = -1;
  for (; at < last; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      whole = whole * 10 + code - 48;
      digits++;
    } else if (code === point && before === -1) before = digits;
    else return slowNumber(text.slice(first, last), mark);
  }
  if (digits === 0) return Number.NaN;
  const decimals = before === -1 ? 0 : digits - before;
  if (whole > largestWhole || decimals > 22) return slowNumber(text.slice(first, last), mark);
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
