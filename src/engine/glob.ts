/**
 * Patterns of file names, for every world alike: `*` (within a name), `**` (any folders), `?`, `[abc]`, `[!abc]` and
 * `{one,two}`. A leading dot must be written. Upper and lower case are the same, so that `*.igc` does not lose the
 * flight whose recorder wrote `.IGC`.
 */
export function isPattern(path: string): boolean {
  return /[*?[{]/.test(path);
}

/** The leading folders that hold no pattern: where a search has to start. `tracks/2026/*.gpx` gives `tracks/2026`. */
export function fixedFolder(pattern: string): string {
  const parts = pattern.split('/');
  const first = parts.findIndex(isPattern);
  return parts.slice(0, first === -1 ? -1 : first).join('/');
}

/** A test of '/'-separated paths against a pattern. */
export function globMatcher(pattern: string): (path: string) => boolean {
  const expression = new RegExp(`^${expressionOf(pattern)}$`, 'iu');
  return (path) => expression.test(path);
}

function expressionOf(pattern: string): string {
  let out = '';
  let depth = 0;
  for (let at = 0; at < pattern.length; at++) {
    const sign = pattern[at];
    const startsName = at === 0 || pattern[at - 1] === '/';
    if (
      sign === '*' &&
      pattern[at + 1] === '*' &&
      startsName &&
      (pattern[at + 2] === '/' || at + 2 === pattern.length)
    ) {
      const last = at + 2 === pattern.length;
      out += last ? '(?:[^/.][^/]*/)*[^/.][^/]*' : '(?:[^/.][^/]*/)*';
      at += last ? 1 : 2;
    } else if (sign === '*') {
      out += startsName ? '(?!\\.)[^/]*' : '[^/]*';
    } else if (sign === '?') {
      out += startsName ? '[^/.]' : '[^/]';
    } else if (sign === '[' && pattern.indexOf(']', at + 2) !== -1) {
      const end = pattern.indexOf(']', at + 2);
      const inside = pattern.slice(at + 1, end);
      const negated = /^[!^]/.test(inside);
      out += `(?!/)[${negated ? '^' : ''}${(negated ? inside.slice(1) : inside).replace(/[\\[\]^]/g, '\\$&')}]`;
      at = end;
    } else if (sign === '{' && pattern.includes('}', at)) {
      out += '(?:';
      depth++;
    } else if (sign === '}' && depth > 0) {
      out += ')';
      depth--;
    } else if (sign === ',' && depth > 0) {
      out += '|';
    } else {
      out += sign.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
    }
  }
  return depth === 0 ? out : `${out}${')'.repeat(depth)}`;
}
