import { keepState, keptState } from './bridge.ts';

/** What of the view outlives the page: it is destroyed when its tab is hidden. */
export interface ViewState {
  readonly tab?: string;
  readonly axis?: 'time' | 'distance';
  /** Span in view, cursor and marked span, seconds after the first row. */
  readonly range?: readonly [number, number];
  readonly cursor?: number;
  readonly selection?: readonly [number, number];
  /** Which take-off or landing is shown close up. */
  readonly run?: string;
  /** Overlay: how runs are aligned, and which are hidden. */
  readonly align?: 'roll-start' | 'liftoff';
  readonly hidden?: readonly string[];
  /** Overlay: kept for the host, which opens the same recordings again. */
  readonly tracks?: unknown;
  readonly scroll?: number;
  /** Id of the element that had the focus. */
  readonly focus?: string;
}

function isPair(value: unknown): value is readonly [number, number] {
  return (
    Array.isArray(value) && value.length === 2 && value.every((one) => Number.isFinite(one)) && value[1] > value[0]
  );
}

function texts(value: unknown): readonly string[] | undefined {
  return Array.isArray(value) && value.every((one) => typeof one === 'string') ? value : undefined;
}

/** Takes from anything what is of use: a state may come from another version, or be damaged. */
export function validState(value: unknown): ViewState {
  if (typeof value !== 'object' || value === null) return {};
  const raw = value as Record<string, unknown>;
  const text = (name: string): string | undefined => (typeof raw[name] === 'string' ? raw[name] : undefined);
  const number = (name: string): number | undefined =>
    typeof raw[name] === 'number' && Number.isFinite(raw[name]) ? raw[name] : undefined;
  return {
    tab: text('tab'),
    axis: raw.axis === 'time' || raw.axis === 'distance' ? raw.axis : undefined,
    range: isPair(raw.range) ? raw.range : undefined,
    cursor: number('cursor'),
    selection: isPair(raw.selection) ? raw.selection : undefined,
    run: text('run'),
    align: raw.align === 'roll-start' || raw.align === 'liftoff' ? raw.align : undefined,
    hidden: texts(raw.hidden),
    tracks: raw.tracks,
    scroll: number('scroll'),
    focus: text('focus'),
  };
}

let current = validState(keptState());
let pending: ReturnType<typeof setTimeout> | undefined;

export function viewState(): ViewState {
  return current;
}

/** Changes part of the state; written a moment later, so that moving the cursor does not write at every pixel. */
export function changeState(change: ViewState): void {
  current = { ...current, ...change };
  clearTimeout(pending);
  pending = setTimeout(flushState, 120);
}

export function flushState(): void {
  clearTimeout(pending);
  pending = undefined;
  keepState(current);
}

window.addEventListener('pagehide', flushState);
