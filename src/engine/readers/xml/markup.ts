/** Name without prefix, of what stands from `start` to `end`. */
export function localName(text: string, start: number, end: number): string {
  const name = text.slice(start, end);
  return name.slice(name.indexOf(':') + 1);
}

/** Position after what is looked for; -1 where it does not stand in the text. */
export function after(text: string, what: string, from: number): number {
  const at = text.indexOf(what, from);
  return at === -1 ? -1 : at + what.length;
}

/** Infinity where it does not stand in the text. */
export function positionOf(text: string, what: string, from: number): number {
  const at = text.indexOf(what, from);
  return at === -1 ? Number.POSITIVE_INFINITY : at;
}

export function blank(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (text.charCodeAt(at) > 32) return false;
  return true;
}

/** Where the name of a tag ends. */
export function endOfName(text: string, from: number): number {
  let at = from;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code <= 32 || code === 62 || code === 47) break;
  }
  return at;
}

/** After the `>` of a tag, quotes respected; -1 if it has not been read yet. */
export function endOfTag(text: string, from: number): number {
  let quote = 0;
  for (let at = from; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (quote !== 0) {
      if (code === quote) quote = 0;
    } else if (code === 62) return at + 1;
    else if (code === 34 || code === 39) quote = code;
  }
  return -1;
}

/** After a comment, CDATA section or instruction; -1 if its end has not been read yet. */
export function afterSpecial(text: string, at: number): number {
  if (text.startsWith('<!--', at)) return after(text, '-->', at + 4);
  return text.startsWith('<?', at) ? after(text, '?>', at) : after(text, ']]>', at);
}
