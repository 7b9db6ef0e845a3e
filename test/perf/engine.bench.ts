/**
 * What the engine's own work costs, as ratios within one run: analysis against reading, a comparison of many flights
 * against reading them, and again when nothing changed. Stands alone: `npx tsx test/perf/engine.bench.ts`.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { BenchRow } from './bench-row.ts';
import { longFlight, longFlightGpx } from './long-flight.ts';

const command = 'dist/modproof.mjs';

/** Wall seconds of one command line, the least of some runs: other work on the machine only ever adds. */
function seconds(args: readonly string[], runs: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run += 1) {
    const start = process.hrtime.bigint();
    const { status, stderr } = spawnSync(process.execPath, [command, ...args], { encoding: 'utf8', timeout: 300_000 });
    if (status !== 0) throw new Error(`modproof ${args.join(' ')} ended with ${status}: ${stderr.slice(0, 500)}`);
    least = Math.min(least, Number(process.hrtime.bigint() - start) / 1e9);
  }
  return least;
}

function row(name: string, ours: number, reference: number): BenchRow {
  return { name, ours, reference, ratio: reference / ours };
}

export function rows(): Promise<BenchRow[]> {
  if (!existsSync(command)) throw new Error(`${command} is not built: npm run build`);
  const folder = mkdtempSync(join(tmpdir(), 'modproof-bench-'));
  try {
    const found: BenchRow[] = [];
    const start = seconds(['--version'], 3);
    const track = join(folder, 'two-hours.gpx');
    writeFileSync(track, longFlightGpx(longFlight(2, 1)));
    const inspect = seconds(['inspect', track, '--json'], 3) - start;
    found.push(row('inspect of a 2-hour 1 Hz file after start-up, s, beside one second', inspect, 1));

    cpSync('examples/flights', join(folder, 'flights'), { recursive: true });
    const names = readdirSync(join(folder, 'flights'));
    const copies: string[] = [];
    for (let copy = 0; copies.length < 40; copy += 1) {
      for (const name of names.slice(0, 40 - copies.length)) {
        const copied = `${copy}-${name}`;
        cpSync(join(folder, 'flights', name), join(folder, 'flights', copied));
        copies.push(copied);
      }
    }
    const entries = copies.map((name, index) => {
      const noted = 'air-temperature: 15 degC, altimeter-setting: 1013 hPa, wind: 100 deg 5 kt, weight: 600 kg';
      return `  - { track: flights/${name}, configuration: ${index % 2 === 0 ? 'a' : 'b'}, ${noted} }`;
    });
    const spec = join(folder, 'forty.modproof.yaml');
    writeFileSync(
      spec,
      `modproof: 1\naircraft: { propeller: fixed-pitch, reference-weight: 600 kg }\n` +
        `configurations: { a: { baseline: true }, b: {} }\nairfields: { X: { elevation: 38 m, surface: grass } }\n` +
        `flights:\n${entries.join('\n')}\n`,
    );
    const first = seconds(['compare', spec, '--no-report', '--no-cache', '--json'], 1);
    seconds(['compare', spec, '--no-report', '--json'], 1);
    const again = seconds(['compare', spec, '--no-report', '--json'], 2);
    found.push(
      row('comparison of 40 flights, s, beside ten seconds', first, 10),
      row('the same again with nothing changed, s, beside the first time', again, first),
    );
    return Promise.resolve(found);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const { name, ours, reference, ratio } of await rows())
    console.log(`${name}: ${ours.toFixed(2)} against ${reference?.toFixed(2)}: ${ratio?.toFixed(1)} times better`);
}
