/**
 * Patterns of file names, for every world alike: `*` (within a name), `**` (any folders), `?`, `[abc]`, `[a-z]`, `[!abc]`
 * and `{one,two}`. A leading dot must be written. Upper and lower case are the same, so that `*.igc` does not lose the
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

/** A test of '/'-separated paths against a pattern; its time grows with the product of both lengths at most. */
export function globMatcher(pattern: string): (path: string) => boolean {
  const alternatives = alternativesOf(pattern.toLowerCase()).map((alternative) =>
    alternative.split('/').map((name) => (name === '**' ? undefined : tokensOf(name))),
  );
  return (path) => {
    const names = path.toLowerCase().split('/');
    return alternatives.some((parts) => matchesNames(parts, names));
  };
}

/** `*`, `?`, a set of signs, or a sign that stands for itself. */
type Token =
  | { readonly kind: 'any' | 'one' }
  | { readonly kind: 'set'; readonly negated: boolean; readonly inside: string }
  | { readonly kind: 'sign'; readonly sign: string };

/** `undefined` stands for `**`. */
type Part = readonly Token[] | undefined;

/** More alternatives than this are a mistake; the rest is not looked at. */
const mostAlternatives = 256;

/** `{a,b}c` to `ac` and `bc`, also nested; a brace without its partner stands for itself. */
function alternativesOf(pattern: string): string[] {
  const open = pattern.indexOf('{');
  if (open === -1) return [pattern];
  let depth = 0;
  let start = open + 1;
  const options: string[] = [];
  for (let at = open; at < pattern.length; at++) {
    if (pattern[at] === '{') depth++;
    else if (pattern[at] === '}') depth--;
    if (depth === 0 || (depth === 1 && pattern[at] === ',')) {
      options.push(pattern.slice(start, at));
      start = at + 1;
    }
    if (depth === 0) {
      const rest = alternativesOf(pattern.slice(at + 1));
      const heads = options
        .flatMap((option) => alternativesOf(option))
        .map((option) => pattern.slice(0, open) + option);
      return heads.flatMap((head) => rest.map((tail) => head + tail)).slice(0, mostAlternatives);
    }
  }
  return [pattern];
}

function tokensOf(name: string): Token[] {
  const tokens: Token[] = [];
  for (let at = 0; at < name.length; at++) {
    const close = name[at] === '[' ? name.indexOf(']', at + 2) : -1;
    if (name[at] === '*') tokens.push({ kind: 'any' });
    else if (name[at] === '?') tokens.push({ kind: 'one' });
    else if (close !== -1) {
      const negated = name[at + 1] === '!' || name[at + 1] === '^';
      tokens.push({ kind: 'set', negated, inside: name.slice(at + (negated ? 2 : 1), close) });
      at = close;
    } else tokens.push({ kind: 'sign', sign: name[at] });
  }
  return tokens;
}

function matchesNames(parts: readonly Part[], names: readonly string[]): boolean {
  // reached[i]: the parts so far can stand for the first i names.
  let reached = names.map(() => false).concat(false);
  reached[0] = true;
  parts.forEach((part, p) => {
    const next = reached.map(() => false);
    for (let i = 0; i <= names.length; i++) {
      if (!reached[i]) continue;
      if (part) {
        if (i < names.length && matchesName(part, names[i])) next[i + 1] = true;
        continue;
      }
      // As the last part `**` needs a file; before others it may stand for no folder.
      if (p < parts.length - 1) next[i] = true;
      for (let end = i; end < names.length && !names[end].startsWith('.'); end++) next[end + 1] = true;
    }
    reached = next;
  });
  return reached[names.length];
}

/** Tries the last `*` again one sign further whenever the rest does not fit: no other one needs to be tried again. */
function matchesName(tokens: readonly Token[], name: string): boolean {
  const [first] = tokens;
  if (name.startsWith('.') && !(first?.kind === 'sign' && first.sign === '.')) return false;
  let token = 0;
  let at = 0;
  let lastAny = -1;
  let anyFrom = 0;
  while (at < name.length) {
    if (token < tokens.length && tokens[token].kind === 'any') {
      lastAny = token++;
      anyFrom = at;
    } else if (token < tokens.length && fits(tokens[token], name[at])) {
      token++;
      at++;
    } else if (lastAny !== -1) {
      token = lastAny + 1;
      at = ++anyFrom;
    } else return false;
  }
  while (token < tokens.length && tokens[token].kind === 'any') token++;
  return token === tokens.length;
}

function fits(token: Token, sign: string): boolean {
  if (token.kind === 'sign') return token.sign === sign;
  if (token.kind !== 'set') return token.kind === 'one';
  let found = false;
  for (let at = 0; at < token.inside.length; at++) {
    if (token.inside[at + 1] === '-' && at + 2 < token.inside.length) {
      found ||= sign >= token.inside[at] && sign <= token.inside[at + 2];
      at += 2;
    } else found ||= sign === token.inside[at];
  }
  return found !== token.negated;
}
