import type {
  OpenedFlight,
  OverlayHostMethods,
  OverlayView,
  UnreadableFlight,
  ViewerHostMethods,
  ViewerPageMethods,
} from '../../shared/protocol.ts';
import { connect, type Implementation } from '../../shared/rpc.ts';
import type { ConditionsView, FlightView } from '../../shared/flight-view.ts';
import { unpack } from './transfer.ts';

/** What a test gives the page before its script runs, and reads from it afterwards. */
export interface FakeHost {
  /** What `open` answers, packed; a test may change it and call `changed`. */
  flight: string;
  /** What `analysis` answers when `open` said that it is pending. */
  analysis: string;
  overlay: string;
  conditions: string;
  /** What the page asked, in order. */
  asked: { readonly method: string; readonly argument: unknown }[];
  state: unknown;
  /** Milliseconds before `open` answers; for the reading page. */
  delayMs: number;
  /** Makes the next call of this method fail. */
  failing: string | undefined;
  changed(why: 'file' | 'corrections' | 'settings'): void;
  progress(fraction: number): void;
}

declare global {
  interface Window {
    modproofFake: FakeHost;
    acquireVsCodeApi: () => unknown;
  }
}

const fake = window.modproofFake;
const handlers = new Set<(message: unknown) => void>();

window.acquireVsCodeApi = () => ({
  postMessage: (message: unknown) => {
    const copy: unknown = structuredClone(message);
    queueMicrotask(() => {
      for (const handler of handlers) handler(copy);
    });
  },
  getState: () => fake.state,
  setState: (state: unknown) => {
    fake.state = structuredClone(state);
  },
});

function recorded<A extends object>(methods: A): A {
  return new Proxy(methods, {
    get(target, name: string) {
      const method = Reflect.get(target, name) as ((argument: unknown, signal: AbortSignal) => unknown) | undefined;
      if (method === undefined) return undefined;
      return async (argument: unknown, signal: AbortSignal) => {
        if (name !== 'drawn') fake.asked.push({ method: name, argument });
        if (fake.failing === name) {
          fake.failing = undefined;
          throw new Error(`${name} failed as the test wanted`);
        }
        return method(argument, signal);
      };
    },
  });
}

const methods: Implementation<ViewerHostMethods & Omit<OverlayHostMethods, 'drawn'>> = {
  async open(_argument, signal) {
    await new Promise((resolve, reject) => {
      setTimeout(resolve, fake.delayMs);
      signal.addEventListener('abort', () => reject(signal.reason as Error));
    });
    return unpack(fake.flight) as OpenedFlight | UnreadableFlight;
  },
  analysis: () => unpack(fake.analysis) as FlightView,
  openOverlay: () => unpack(fake.overlay) as OverlayView,
  atConditions: () => unpack(fake.conditions) as ConditionsView,
  correctEvent: () => undefined,
  drawn: () => undefined,
  openText: () => undefined,
  openCorrections: () => undefined,
  addToComparison: () => undefined,
  overlay: () => undefined,
  showPlace: () => undefined,
  openFlight: () => undefined,
  copyText: () => undefined,
  save: () => 'somewhere',
};

const page = connect<ViewerPageMethods, ViewerHostMethods & Omit<OverlayHostMethods, 'drawn'>>(
  {
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- an event of our own making
    post: (message) => void window.dispatchEvent(new MessageEvent('message', { data: structuredClone(message) })),
    listen: (handler) => {
      handlers.add(handler);
      return () => handlers.delete(handler);
    },
  },
  recorded(methods),
);
fake.changed = (why) => page.notify('changed', { why });
fake.progress = (fraction) => page.notify('progress', { fraction });
