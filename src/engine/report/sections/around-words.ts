/** Sections are put together from parts that may be empty: no more than one empty line stays between them. */
export function joined(lines: readonly string[]): string {
  return `${lines
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trimEnd()}\n`;
}

/** With a capital and a full stop. */
export const sentence = (text: string): string => {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
};
