import type { Interval } from '../../shared/measured.ts';

interface Sample {
  readonly kind: string;
  readonly error: number;
  /** Error over half the interval towards the truth; absent where there is no interval. */
  readonly share?: number;
}

/** Collects errors against known answers by kind and quantity, and prints them as a table. */
export class Scores {
  private readonly samples = new Map<string, Sample[]>();
  private readonly counts = new Map<string, number>();

  add(kind: string, quantity: string, error: number): void {
    this.push(quantity, { kind, error });
  }

  /** @param unit Of the table, in SI. */
  addInterval(kind: string, quantity: string, found: Interval, truth: number, unit: number): void {
    const half = truth > found.value ? found.high - found.value : found.value - found.low;
    this.push(quantity, { kind, error: (found.value - truth) / unit, share: Math.abs(found.value - truth) / half });
  }

  count(kind: string, what: string, by: number): void {
    for (const key of [what, `${what} (${kind})`]) this.counts.set(key, (this.counts.get(key) ?? 0) + by);
  }

  /** One line a quantity, and with `details` one for each kind of recording. */
  report(details: boolean): string {
    const lines: string[] = [];
    for (const [quantity, all] of [...this.samples].sort(([a], [b]) => a.localeCompare(b))) {
      lines.push(line(quantity, all));
      if (!details) continue;
      for (const kind of new Set(all.map((sample) => sample.kind))) {
        lines.push(
          line(
            `    ${kind}`,
            all.filter((sample) => sample.kind === kind),
          ),
        );
      }
    }
    for (const [what, count] of this.counts) if (details || !what.includes('(')) lines.push(`${what}: ${count}`);
    return lines.join('\n');
  }

  private push(quantity: string, sample: Sample): void {
    if (!Number.isFinite(sample.error)) return;
    const known = this.samples.get(quantity);
    if (known === undefined) this.samples.set(quantity, [sample]);
    else known.push(sample);
  }
}

function line(name: string, samples: readonly Sample[]): string {
  const errors = samples.map(({ error }) => error);
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const rms = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
  const sizes = errors.map(Math.abs).sort((a, b) => a - b);
  const shares = samples.flatMap(({ share }) => (share === undefined ? [] : [share]));
  const inside = (100 * shares.filter((share) => share <= 1).length) / shares.length;
  const number = (value: number): string => value.toFixed(2).padStart(8);
  return [
    name.padEnd(44),
    `n ${String(samples.length).padStart(4)}`,
    `mean ${number(mean)}`,
    `rms ${number(rms)}`,
    `median size ${number(sizes[Math.floor(sizes.length / 2)])}`,
    `largest ${number(sizes[sizes.length - 1])}`,
    shares.length === 0 ? '' : `inside 95 %: ${inside.toFixed(0)} %`,
  ].join('  ');
}
