import { formatClock } from '../../shared/format.ts';
import { type RunCurve } from '../../shared/run-curve.ts';
import { lastRowAtOrBefore, valueAt } from '../../shared/track-columns.ts';
import type { Plot } from '../charts/plot.ts';
import { element } from '../element.ts';
import type { Store } from '../store.ts';

/** One arrow key moves the event by this; with Shift ten times as far. */
const keyStepS = 0.1;

/** Distance at a Unix time along a curve. */
export function distanceAt(curve: RunCurve, timeS: number): number {
  return valueAt(curve.timeS, curve.distanceM, timeS - curve.originS);
}

function timeAt(curve: RunCurve, distanceM: number): number {
  const { timeS, distanceM: distances } = curve;
  const row = Math.min(Math.max(0, lastRowAtOrBefore(distances, distanceM)), timeS.length - 1);
  const next = Math.min(row + 1, timeS.length - 1);
  const width = distances[next] - distances[row];
  const share = width > 0 ? (distanceM - distances[row]) / width : 0;
  return curve.originS + timeS[row] + Math.min(1, Math.max(0, share)) * (timeS[next] - timeS[row]);
}

/** A handle over a plot that moves an event in time, by pointer or arrow keys. */
export function eventHandle(
  plot: Plot,
  curve: RunCurve,
  time: Store<number>,
  name: string,
  signal: AbortSignal,
): HTMLElement {
  const { timeS, originS } = curve;
  const [first, last] = [originS + timeS[0], originS + timeS[timeS.length - 1]];
  const clamp = (t: number): number => Math.min(last, Math.max(first, t));
  const handle = element('div', {
    class: 'event-handle',
    attributes: {
      role: 'slider',
      tabindex: '0',
      'aria-label': `${name}: time`,
      'aria-valuemin': '0',
      'aria-valuemax': (last - first).toFixed(1),
    },
  });
  const place = (): void => {
    const { top, bottom, left, right } = plot.area;
    const x = plot.pixelOfX(distanceAt(curve, time.value));
    handle.style.transform = `translate(${Math.min(right, Math.max(left, x)) - 8}px, ${top}px)`;
    handle.style.height = `${bottom - top}px`;
    handle.setAttribute('aria-valuenow', (time.value - first).toFixed(1));
    handle.setAttribute('aria-valuetext', `${formatClock(time.value, 1)} UTC`);
  };
  time.onChange(place, signal);
  plot.onArea(place);
  handle.addEventListener(
    'keydown',
    (event) => {
      const direction = event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : 0;
      if (direction === 0) return;
      event.preventDefault();
      event.stopPropagation();
      time.set(clamp(Math.round((time.value + direction * keyStepS * (event.shiftKey ? 10 : 1)) * 100) / 100));
    },
    { signal },
  );
  let held = false;
  handle.addEventListener(
    'pointerdown',
    (event) => {
      held = true;
      handle.setPointerCapture(event.pointerId);
      handle.focus({ preventScroll: true });
      event.preventDefault();
    },
    { signal },
  );
  handle.addEventListener(
    'pointermove',
    (event) => {
      if (!held) return;
      const x = event.clientX - plot.frame.getBoundingClientRect().left;
      time.set(clamp(Math.round(timeAt(curve, plot.xAtPixel(x)) * 100) / 100));
    },
    { signal },
  );
  const drop = (): void => {
    held = false;
  };
  handle.addEventListener('pointerup', drop, { signal });
  handle.addEventListener('pointercancel', drop, { signal });
  signal.addEventListener('abort', () => handle.remove(), { once: true });
  plot.frame.append(handle);
  place();
  return handle;
}
