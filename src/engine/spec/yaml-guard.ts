/**
 * What a text must keep to before it is given to the YAML parser, whose time and memory grow without bound with nesting
 * (seen: the process dies of some 100,000 open brackets). A spec written by hand is far from every limit.
 */
const longestSpec = 1_000_000;
const deepestFlow = 60;
const deepestIndent = 400;
const mostMarkersInARow = 12;

export interface Refusal {
  readonly message: string;
  /** Where in the text, UTF-16 units. */
  readonly offset: number;
}

/** The first reason to refuse the text, or undefined. One pass, no regular expression over the whole. */
export function refuseYaml(text: string): Refusal | undefined {
  if (text.length > longestSpec) {
    return {
      message: `The file is larger than a spec may be (${longestSpec} characters): is it a recording?`,
      offset: longestSpec,
    };
  }
  let open = 0;
  let indent = 0;
  let atLineStart = true;
  let markers = 0;
  for (let offset = 0; offset < text.length; offset++) {
    const code = text.charCodeAt(offset);
    if (code === 0) return { message: 'The file holds a zero byte: it is no text.', offset };
    if (code === 10 || code === 13) {
      [indent, atLineStart, markers] = [0, true, 0];
    } else if (code === 0x5b || code === 0x7b) {
      if (++open > deepestFlow) return { message: `More than ${deepestFlow} brackets are open here.`, offset };
    } else if (code === 0x5d || code === 0x7d) {
      open = Math.max(0, open - 1);
    } else if (atLineStart && code === 0x20) {
      if (++indent > deepestIndent)
        return { message: `The line is indented by more than ${deepestIndent} spaces.`, offset };
      continue;
    }
    const marker = code === 0x2d || code === 0x3f || code === 0x26 || code === 0x21 || code === 0x2a;
    const next = text.charCodeAt(offset + 1);
    if (marker && (next === 0x20 || code === 0x3f || code === 0x26 || code === 0x21)) {
      if (++markers > mostMarkersInARow) return { message: 'Too many list or tag marks in one line.', offset };
    }
    if (code !== 10 && code !== 13) atLineStart = false;
  }
  return undefined;
}
