import { element } from '../element.ts';
import type { Along } from '../viewer/along.ts';
import type { TimeView } from '../viewer/time-view.ts';
import type { Plot } from './plot.ts';

/** Pointer moves less than this are a click, pixels. */
const clickSlackPx = 4;
/** One arrow key moves the cursor by this many pixels; with Shift ten times as far. */
const keyStepPx = 2;

export interface CursorCallbacks {
  /** The cursor was moved by key: say where it is. */
  onKeyMove(): void;
  /** Step to the next (1) or previous (-1) event. */
  onStepEvent(direction: 1 | -1): void;
}

/**
 * Lays cursor, marked span and pointer over a plot and links them to the others through the view. Drag marks a span,
 * double click or Enter zooms to it, Ctrl with the wheel zooms, the plain wheel scrolls the page as everywhere.
 */
export function linkCursor(
  plot: Plot,
  view: TimeView,
  map: () => Along,
  callbacks: CursorCallbacks,
  signal: AbortSignal,
): void {
  const line = element('div', { class: 'cursor-line' });
  const span = element('div', { class: 'span-mark' });
  const area = element('div', { class: 'plot-touch' });
  plot.frame.append(span, line, area);

  const timeAt = (clientX: number): number => {
    const { left, right } = plot.area;
    const x = Math.min(right, Math.max(left, clientX - plot.frame.getBoundingClientRect().left));
    return map().timeOf(plot.xAtPixel(x));
  };
  const pixelOf = (timeS: number): number => plot.pixelOfX(map().xOf(timeS));
  const place = (box: HTMLElement, left: number, width: number): void => {
    const { top, bottom } = plot.area;
    box.style.transform = `translate(${left}px, ${top}px)`;
    box.style.width = `${width}px`;
    box.style.height = `${bottom - top}px`;
  };
  const placeCursor = (): void => {
    const t = view.cursor.value;
    const [from, to] = view.range.value;
    const shown = t !== undefined && t >= from && t <= to;
    line.hidden = !shown;
    if (shown) place(line, Math.round(pixelOf(t)), 1);
  };
  const placeSpan = (): void => {
    const marked = view.selection.value;
    const { left, right } = plot.area;
    const a = marked === undefined ? 0 : Math.max(left, pixelOf(marked[0]));
    const b = marked === undefined ? 0 : Math.min(right, pixelOf(marked[1]));
    span.hidden = !(b > a);
    if (b > a) place(span, a, b - a);
  };
  view.cursor.onChange(placeCursor, signal);
  view.selection.onChange(placeSpan, signal);
  plot.onArea(() => {
    placeCursor();
    placeSpan();
    const { left, right } = plot.area;
    place(area, left, right - left);
  });

  let pressedAt: { x: number; timeS: number } | undefined;
  const on = <K extends keyof HTMLElementEventMap>(
    target: HTMLElement,
    name: K,
    listener: (event: HTMLElementEventMap[K]) => void,
    options: AddEventListenerOptions = {},
  ): void => target.addEventListener(name, listener as EventListener, { ...options, signal });

  on(area, 'pointermove', (event) => {
    const t = timeAt(event.clientX);
    view.cursor.set(t);
    if (pressedAt !== undefined && Math.abs(event.clientX - pressedAt.x) >= clickSlackPx)
      view.select(pressedAt.timeS, t);
  });
  on(area, 'pointerdown', (event) => {
    if (event.button !== 0) return;
    pressedAt = { x: event.clientX, timeS: timeAt(event.clientX) };
    area.setPointerCapture(event.pointerId);
    plot.frame.focus({ preventScroll: true });
    event.preventDefault();
  });
  on(area, 'pointerup', (event) => {
    if (pressedAt !== undefined && Math.abs(event.clientX - pressedAt.x) < clickSlackPx) {
      view.selection.set(undefined);
      view.cursor.set(timeAt(event.clientX));
    }
    pressedAt = undefined;
  });
  on(area, 'pointercancel', () => {
    pressedAt = undefined;
  });
  on(area, 'dblclick', (event) => {
    const marked = view.selection.value;
    const t = timeAt(event.clientX);
    if (marked !== undefined && t >= marked[0] && t <= marked[1]) view.show(...marked);
    else view.showAll();
  });
  on(
    area,
    'wheel',
    (event) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      view.zoom(Math.exp(Math.sign(event.deltaY) * 0.25), timeAt(event.clientX));
    },
    { passive: false },
  );

  plot.frame.tabIndex = 0;
  on(plot.frame, 'keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (handleKey(event.key, event.shiftKey)) event.preventDefault();
  });

  const step = (pixels: number, mark: boolean): void => {
    const [from, to] = view.range.value;
    const now = view.cursor.value ?? (from + to) / 2;
    const next = map().timeOf(map().xOf(now) + (plot.xAtPixel(pixels) - plot.xAtPixel(0)));
    if (mark) {
      const marked = view.selection.value;
      const anchor =
        marked === undefined ? now : Math.abs(marked[0] - now) < Math.abs(marked[1] - now) ? marked[1] : marked[0];
      view.select(anchor, next);
    }
    view.moveCursor(next);
    callbacks.onKeyMove();
  };

  function handleKey(key: string, shift: boolean): boolean {
    const [from, to] = view.range.value;
    const centre = view.cursor.value ?? (from + to) / 2;
    switch (key) {
      case 'ArrowLeft':
      case 'ArrowRight':
        step((key === 'ArrowLeft' ? -1 : 1) * keyStepPx * (shift ? 5 : 1), shift);
        return true;
      case 'PageUp':
      case 'PageDown':
        view.pan(key === 'PageUp' ? -0.5 : 0.5);
        return true;
      case 'Home':
      case 'End':
        view.moveCursor(key === 'Home' ? from : to);
        callbacks.onKeyMove();
        return true;
      case '+':
      case '=':
        view.zoom(0.6, centre);
        return true;
      case '-':
        view.zoom(1 / 0.6, centre);
        return true;
      case '0':
        view.showAll();
        return true;
      case 'Enter':
        if (view.selection.value !== undefined) view.show(...view.selection.value);
        return true;
      case 'Escape':
        if (view.selection.value === undefined) return false;
        view.selection.set(undefined);
        return true;
      case 'n':
      case 'p':
        callbacks.onStepEvent(key === 'n' ? 1 : -1);
        return true;
      default:
        return false;
    }
  }
}
