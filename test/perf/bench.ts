/** All benchmarks, one table: `npm run bench [-- readers video engine viewer]`. Figures are ratios within one run. */
import type { BenchRow } from './bench-row.ts';
import { rows as engine } from './engine.bench.ts';
import { rows as readers } from './readers.bench.ts';
import { rows as video } from './video.bench.ts';
import { rows as viewer } from './viewer.bench.ts';

const benches: Readonly<Record<string, () => Promise<readonly BenchRow[]>>> = {
  readers,
  video: async () =>
    (await video()).map(({ name, value, unit }) => ({
      name: `${name}, ${unit}`,
      ours: value,
      reference: undefined,
      ratio: undefined,
    })),
  engine,
  viewer,
};
const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !Object.hasOwn(benches, name));
if (unknown.length > 0) {
  console.error(`no bench is called ${unknown.join(', ')}: ${Object.keys(benches).join(', ')}`);
  process.exit(3);
}

let failed = false;
for (const name of asked.length > 0 ? asked : Object.keys(benches)) {
  console.log(`\n${name}`);
  try {
    for (const { name: what, ours, reference, ratio } of await benches[name]()) {
      const beside = reference === undefined ? '' : `   reference ${reference.toFixed(3)}   ratio ${ratio?.toFixed(2)}`;
      console.log(`  ${what.padEnd(72)} ${ours.toFixed(3).padStart(10)}${beside}`);
    }
  } catch (error) {
    failed = true;
    console.log(`  failed: ${error instanceof Error ? error.message : String(error)}`);
  }
}
process.exit(failed ? 1 : 0);
