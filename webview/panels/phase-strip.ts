import type { PhaseRow } from '../../shared/flight-view.ts';
import { formatClock, formatDuration } from '../../shared/format.ts';
import type { Plot } from '../charts/plot.ts';
import { element, fill } from '../element.ts';
import { phaseStyles } from '../phase-style.ts';
import type { Along } from '../viewer/along.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import type { TimeView } from '../viewer/time-view.ts';

/** Narrower than this there is no room for a name, pixels. */
const nameFromPx = 44;

/** The phases along the axis of the charts. The list beside says the same for keyboard and screen reader. */
export function phaseStrip(
  model: FlightModel,
  view: TimeView,
  map: () => Along,
  plot: Plot,
  pick: (phase: PhaseRow) => void,
): HTMLElement {
  const root = element('div', { class: 'phase-strip', attributes: { 'aria-hidden': 'true' } });
  const { startS } = model.columns;
  const draw = (): void => {
    const [fromS, toS] = view.range.value;
    const { left, right } = plot.area;
    const segments = model.flight.phases.flatMap((phase) => {
      const [a, b] = [phase.startS - startS, phase.endS - startS];
      if (b <= fromS || a >= toS) return [];
      const from = Math.max(left, plot.pixelOfX(map().xOf(Math.max(a, fromS))));
      const to = Math.min(right, plot.pixelOfX(map().xOf(Math.min(b, toS))));
      if (!(to - from >= 1)) return [];
      const style = phaseStyles[phase.kind];
      const segment = element('div', {
        class: `phase phase-${phase.kind}`,
        text: to - from >= nameFromPx ? style.short : '',
        attributes: {
          title: `${style.name}, ${formatClock(phase.startS)} UTC, ${formatDuration(phase.endS - phase.startS)}`,
        },
        on: { click: () => pick(phase) },
      });
      segment.style.left = `${from}px`;
      segment.style.width = `${Math.max(1, to - from - 1)}px`;
      return [segment];
    });
    fill(root, ...segments);
  };
  plot.onArea(draw);
  return root;
}
