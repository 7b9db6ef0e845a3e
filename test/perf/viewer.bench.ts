/**
 * What a person waits for in the viewer, measured in a real VS Code: from click to first chart, zoom and cursor on a large
 * file, memory after many files. Stands alone (`node esbuild.mjs --tests && npx tsx test/perf/viewer.bench.ts`), ends by
 * itself after a minute or two; other programs take its rows. Other work on the machine disturbs it: take the least.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Frame } from 'playwright-core';
import type { Driver, OpeningTimes } from '../host/driver.ts';
import { startSession } from '../host/session.ts';
import { writeGpmfMp4 } from '../synth/write-mp4.ts';
import { hourOfFilm } from './hour-of-film.ts';
import { longFlight, longFlightGpx } from './long-flight.ts';
import type { BenchRow } from './bench-row.ts';
import { writeGpx, writeTable } from './readers/recordings-to-read.ts';
import { writeSparse } from './write-sparse.ts';

/** One frame at 60 a second. */
const frameMs = 1000 / 60;
/** A wait that does not break a train of thought (a common figure of usability texts, from memory). */
const thoughtMs = 1000;
/** Longer than this a person feels a pause while typing elsewhere (a common figure of usability texts, from memory). */
const feltMs = 100;
const filesOpened = 20;
/** What may stay of twenty files of 130 kB: less than one of them was worth. */
const keptMb = 10;

function row(name: string, ours: number, limit: number): BenchRow {
  return { name, ours, reference: limit, ratio: limit / ours };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

/** Work of the page's thread per frame, milliseconds, while `step` is done in each of `count` frames. */
async function frameWork(frame: Frame, kind: 'zoom' | 'cursor', count: number): Promise<number[]> {
  // The loader compiles functions with a helper of this name, which the page does not have.
  await frame.evaluate('globalThis.__name = (named) => named;');
  return frame.evaluate(
    async ([what, frames]) => {
      const area = document.querySelector<HTMLElement>('#chart-height .plot-touch');
      if (area === null) throw new Error('no chart');
      const box = area.getBoundingClientRect();
      const spent: number[] = [];
      const nextFrame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));
      // What is asked for in one frame is drawn in the next: the time from the frame's begin to the first task after it.
      const afterFrame = (): Promise<void> =>
        new Promise((resolve) => {
          const { port1, port2 } = new MessageChannel();
          port1.addEventListener('message', () => resolve(), { once: true });
          port1.start();
          port2.postMessage(0);
        });
      for (let at = 0; at < frames; at++) {
        const clientX = box.left + box.width * (0.2 + (0.6 * at) / frames);
        const place = { clientX, clientY: box.top + 30, bubbles: true, cancelable: true };
        if (what === 'zoom') {
          area.dispatchEvent(new WheelEvent('wheel', { ...place, ctrlKey: true, deltaY: at < frames / 2 ? -1 : 1 }));
        } else area.dispatchEvent(new PointerEvent('pointermove', place));
        await nextFrame();
        const began = performance.now();
        await afterFrame();
        spent.push(performance.now() - began);
      }
      return spent;
    },
    [kind, count] as const,
  );
}

/** Large recordings, and how long opening each may take at most (own judgement: it shows progress and can be left). */
const large: readonly {
  readonly name: string;
  readonly file: string;
  readonly mostMs: number;
  readonly write: (path: string) => void;
}[] = [
  {
    name: 'log of 24 hours at 1 Hz',
    file: 'day.gpx',
    mostMs: 5_000,
    write: (path) => writeFileSync(path, longFlightGpx(longFlight(24, 1))),
  },
  { name: 'GPX of 100 MB', file: 'large.gpx', mostMs: 20_000, write: (path) => writeGpx(path, 100) },
  { name: 'film of 12 GB', file: 'hour.mp4', mostMs: 5_000, write: (path) => writeSparse(path, hourOfFilm('end')) },
  ...(process.env.MODPROOF_BENCH_LARGE === '1'
    ? [{ name: 'table of 1 GB', file: 'panel.csv', mostMs: 120_000, write: (path: string) => writeTable(path, 1000) }]
    : []),
];

/** What it costs to open the large ones, each once. */
async function largeRows(driver: Driver, folder: string): Promise<BenchRow[]> {
  const found: BenchRow[] = [];
  for (const { name, file, mostMs, write } of large) {
    const path = join(folder, file);
    write(path);
    const times = await driver.timeOpening(pathToFileURL(path).href, viewTypeOf(file));
    found.push(
      row(`${name}: click to first charts, ms`, times.firstChartsMs, mostMs),
      row(`${name}: longest pause of the extension host, ms`, times.blockedMs, feltMs),
    );
    await driver.command('workbench.action.closeAllEditors');
    rmSync(path);
  }
  found.push(row('most memory of the extension host with these, MB', (await driver.mostMemoryBytes()) / 1e6, 2000));
  return found;
}

function viewTypeOf(file: string): string {
  return /\.(?:gpx|igc|nmea|fit)$/.test(file) ? 'modproof.track' : 'modproof.trackOnRequest';
}

export async function rows(): Promise<BenchRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'modproof-bench-'));
  const slow = join(folder, 'two-hours-1hz.gpx');
  const fast = join(folder, 'two-hours-18hz.mp4');
  writeFileSync(slow, longFlightGpx(longFlight(2, 1)));
  writeFileSync(fast, writeGpmfMp4(longFlight(2, 18)));
  const small = longFlightGpx(longFlight(0.5, 1));
  for (let at = 0; at < filesOpened; at++) writeFileSync(join(folder, `small-${at}.gpx`), small);
  const uri = (path: string): string => pathToFileURL(path).href;
  const session = await startSession(folder);
  const { driver } = session;
  const close = (): Promise<unknown> => driver.command('workbench.action.closeAllEditors');
  try {
    // The first viewer of a window also starts the webview's own machinery: it is not what one waits for each time.
    const cold = await driver.timeOpening(uri(join(folder, 'small-0.gpx')));
    await close();
    const slowTimes = [];
    for (let run = 0; run < 3; run++) {
      slowTimes.push(await driver.timeOpening(uri(slow)));
      await close();
    }
    const before = await driver.heapBytes();
    for (let at = 0; at < filesOpened; at++) {
      await driver.timeOpening(uri(join(folder, `small-${at}.gpx`)));
      await close();
    }
    const after = await driver.heapBytes();
    const fastTimes = [];
    for (let run = 0; run < 2; run++) {
      await close();
      fastTimes.push(await driver.timeOpening(uri(fast), 'modproof.trackOnRequest'));
    }
    const frame = await session.frame('viewer', '#chart-height');
    const zoom = await frameWork(frame, 'zoom', 120);
    const cursor = await frameWork(frame, 'cursor', 120);
    const least = (times: readonly OpeningTimes[], key: keyof OpeningTimes) =>
      Math.min(...times.map((one) => one[key]));
    return [
      row('2 h at 1 Hz: click to first charts, ms', least(slowTimes, 'firstChartsMs'), thoughtMs),
      row('2 h at 1 Hz: click to phases and events, ms', least(slowTimes, 'completeMs'), 3 * thoughtMs),
      row('2 h at 1 Hz: longest pause of the extension host, ms', least(slowTimes, 'blockedMs'), feltMs),
      row(
        '2 h at 18 Hz (130,000 fixes in a film): click to first charts, ms',
        least(fastTimes, 'firstChartsMs'),
        3 * thoughtMs,
      ),
      row('2 h at 18 Hz: click to phases and events, ms', least(fastTimes, 'completeMs'), 6 * thoughtMs),
      row('2 h at 18 Hz: longest pause of the extension host, ms', least(fastTimes, 'blockedMs'), feltMs),
      row(
        'half an hour at 1 Hz, first viewer of a window: click to first charts, ms',
        cold.firstChartsMs,
        3 * thoughtMs,
      ),
      row('zoom on 130,000 fixes: work of a frame, median, ms', median(zoom), frameMs),
      row('cursor on 130,000 fixes: work of a frame, median, ms', median(cursor), frameMs),
      row(
        `heap kept after opening and closing ${filesOpened} files, MB`,
        Math.max(0.1, (after - before) / 1e6),
        keptMb,
      ),
      ...(await largeRows(driver, folder)),
    ];
  } finally {
    await session.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const { name, ours, reference } of await rows()) {
    console.log(
      `${name}: ${ours.toFixed(1)} (limit ${reference?.toFixed(1)})${ours > (reference ?? Infinity) ? ' MISSED' : ''}`,
    );
  }
}
