import { element, fill } from '../element.ts';
import { phaseStyles } from '../phase-style.ts';
import { oncePerFrame } from '../store.ts';
import { type FlightModel, readOut } from '../viewer/flight-model.ts';
import type { TimeView } from '../viewer/time-view.ts';

function named(name: string, text: string): string {
  return name === 'Phase' && Object.hasOwn(phaseStyles, text)
    ? phaseStyles[text as keyof typeof phaseStyles].name
    : text;
}

/** What the flight shows at the cursor, in words: also for the live region. */
export function readOutSentence(model: FlightModel, timeS: number): string {
  return readOut(model, timeS)
    .map(({ name, text }) => (name === 'Time' ? text : `${name.toLowerCase()} ${named(name, text).toLowerCase()}`))
    .join(', ');
}

export function readOutPanel(model: FlightModel, view: TimeView, signal: AbortSignal): HTMLElement {
  const list = element('dl', { class: 'read-out' });
  const draw = (): void => {
    const t = view.cursor.value ?? view.range.value[0];
    const items = readOut(model, t);
    const cells = list.querySelectorAll('dd');
    // In the fast path only the texts change.
    if (cells.length === items.length) {
      items.forEach(({ name, text }, index) => {
        cells[index].textContent = named(name, text);
      });
      return;
    }
    fill(
      list,
      ...items.map(({ name, text }) =>
        element('div', {}, element('dt', { text: name }), element('dd', { text: named(name, text) })),
      ),
    );
  };
  const redraw = oncePerFrame(draw, signal);
  view.cursor.onChange(redraw, signal);
  view.range.onChange(redraw, signal);
  draw();
  return element(
    'section',
    { attributes: { 'aria-labelledby': 'read-out-title' } },
    element('header', {}, element('h2', { text: 'At the cursor', attributes: { id: 'read-out-title' } })),
    list,
  );
}
