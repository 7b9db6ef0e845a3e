import { element } from '../element.ts';

const polite = element('div', { class: 'announce-read-out', attributes: { 'aria-live': 'polite', role: 'status' } });
const assertive = element('div', { class: 'announce-trouble', attributes: { role: 'alert' } });
let hide: ReturnType<typeof setTimeout> | undefined;
let later: ReturnType<typeof setTimeout> | undefined;

/** Puts the two live regions on the page; call once. */
export function installAnnouncements(parent: HTMLElement): void {
  parent.append(polite, assertive);
}

/** Says something to a screen reader (polite), or shows and says trouble for a while (assertive). */
export function announce(text: string, how: 'polite' | 'assertive' = 'polite'): void {
  if (how === 'polite') {
    // A held arrow key must not make it speak at every step.
    clearTimeout(later);
    later = setTimeout(() => {
      polite.textContent = text;
    }, 350);
    return;
  }
  assertive.textContent = text;
  clearTimeout(hide);
  hide = setTimeout(() => {
    assertive.textContent = '';
  }, 12_000);
}
