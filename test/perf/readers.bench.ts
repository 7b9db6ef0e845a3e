/**
 * What it costs to read large recordings of text, each in a process of its own, beside Python's standard library and a
 * plain tree of fast-xml-parser doing the same work. Stands alone (`npx tsx test/perf/readers.bench.ts`) and ends by
 * itself after a minute or two; times are processor seconds of all threads, which other work on the machine disturbs
 * least; other programs take its rows. `MODPROOF_BENCH_LARGE=1` adds a table of 1 GB.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { buildSync } from 'esbuild';
import { writeFit } from '../synth/write-fit.ts';
import { hourOfFilm } from './hour-of-film.ts';
import { longFlight, longFlightGpx } from './long-flight.ts';
import { writeGpx, writeTable } from './readers/recordings-to-read.ts';
import { writeSparse } from './write-sparse.ts';

export interface BenchRow {
  readonly name: string;
  readonly ours: number;
  /** `undefined` where the reference is not on this machine. */
  readonly reference: number | undefined;
  /** Reference over ours: above 1 we are better. */
  readonly ratio: number | undefined;
}

interface Cost {
  readonly points: number;
  readonly seconds: number;
  readonly megabytes: number;
  /** Read from the disk; of ours. */
  readonly megabytesRead?: number;
  /** Of a second reading in the same process. */
  readonly again?: number;
}

const here = (file: string): string => fileURLToPath(new URL(`./readers/${file}`, import.meta.url));
const iterparse = ['python3', here('read_with_iterparse.py')];

/** A program as it ships: in one file, without a loader that slows it down. */
function bundled(file: string, folder: string): string[] {
  const outfile = join(folder, file.replace(/\.ts$/, '.mjs'));
  buildSync({ entryPoints: [here(file)], outfile, bundle: true, platform: 'node', format: 'esm', logLevel: 'error' });
  return [process.execPath, outfile];
}

/** The least of several runs: other work on the machine only ever adds. */
function cost(command: readonly string[], path: string, runs: number): Cost | undefined {
  const costs: Cost[] = [];
  for (let run = 0; run < runs; run++) {
    const { status, stdout } = spawnSync(command[0], [...command.slice(1), path], {
      encoding: 'utf8',
      timeout: 300_000,
    });
    if (status !== 0) return undefined;
    costs.push(JSON.parse(stdout) as Cost);
  }
  return costs.reduce((best, next) => ({
    points: next.points,
    seconds: Math.min(best.seconds, next.seconds),
    megabytes: Math.min(best.megabytes, next.megabytes),
    megabytesRead: next.megabytesRead,
    again: next.again === undefined ? undefined : Math.min(best.again ?? next.again, next.again),
  }));
}

function required(command: readonly string[], path: string, runs: number): Cost {
  const found = cost(command, path, runs);
  if (!found) throw new Error(`${command.join(' ')} ${path} failed`);
  return found;
}

function row(name: string, mine: number, reference: number | undefined): BenchRow {
  return { name, ours: mine, reference, ratio: reference === undefined ? undefined : reference / mine };
}

/** What reading one file costs, with the file's size beside what is read of it. */
function costRows(name: string, path: string, { seconds, megabytes, megabytesRead }: Cost): BenchRow[] {
  return [
    row(`${name}: processor seconds`, seconds, undefined),
    row(`${name}: peak MB of the process, beside the limit`, megabytes, memoryLimit),
    row(`${name}: MB read, beside the size of the file`, megabytesRead ?? Number.NaN, statSync(path).size / 1e6),
  ];
}

/** So many megabytes may reading any of these need at most. */
const memoryLimit = 1000;

/** As a camera leaves it whose battery was pulled: the index, written last, is not there. */
function writeUnclosedFilm(path: string): void {
  const { pieces } = hourOfFilm('end');
  writeSparse(path, { pieces: pieces.slice(0, -1), sizeBytes: pieces[pieces.length - 1].offsetByte });
}

export function rows(): Promise<BenchRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'modproof-bench-'));
  try {
    const [small, large, table] = ['10.gpx', '100.gpx', 'panel.csv'].map((name) => join(folder, name));
    const [ours, plainDom] = [bundled('read-recording.ts', folder), bundled('read-plain-dom.ts', folder)];
    writeGpx(small, 10);
    writeGpx(large, 100);
    const [mine, tree, python] = [required(ours, small, 5), required(plainDom, small, 3), cost(iterparse, small, 5)];
    const [mineLarge, pythonLarge] = [required(ours, large, 2), cost(iterparse, large, 1)];
    const found = [
      row('GPX 10 MB, processor seconds, beside Python iterparse', mine.seconds, python?.seconds),
      row('GPX 10 MB, the second in a process, beside Python iterparse', mine.again ?? Number.NaN, python?.seconds),
      row('GPX 10 MB, processor seconds, beside a plain tree of fast-xml-parser', mine.seconds, tree.seconds),
      row('GPX 100 MB, processor seconds, beside Python iterparse', mineLarge.seconds, pythonLarge?.seconds),
      row('GPX 100 MB, peak MB of the process, beside Python iterparse', mineLarge.megabytes, pythonLarge?.megabytes),
      row('GPX 100 MB, peak MB of the process, beside the limit', mineLarge.megabytes, memoryLimit),
    ];
    const [day, fit, film] = ['day.gpx', 'day.fit', 'unclosed.mp4'].map((name) => join(folder, name));
    writeFileSync(day, longFlightGpx(longFlight(24, 1)));
    writeFileSync(fit, writeFit(longFlight(24, 1)));
    writeUnclosedFilm(film);
    found.push(
      ...costRows('GPX 100 MB', large, mineLarge),
      ...costRows('log of 24 hours at 1 Hz (GPX)', day, required(ours, day, 2)),
      ...costRows('FIT of 24 hours at 1 Hz', fit, required(ours, fit, 2)),
      ...costRows('film of 12 GB without index, searched', film, required(ours, film, 1)),
    );
    if (process.env.MODPROOF_BENCH_LARGE === '1') {
      writeTable(table, 1000);
      found.push(...costRows('table of 1 GB', table, required(ours, table, 1)));
    }
    return Promise.resolve(found);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const { name, ours: mine, reference, ratio } of await rows()) {
    console.log(
      `${name}: ${mine.toFixed(2)}${reference === undefined ? '' : ` against ${reference.toFixed(2)}: ${ratio?.toFixed(1)} times better`}`,
    );
  }
}
