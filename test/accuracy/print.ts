import type { CampaignsRun, ChangeSeen } from './run-campaigns.ts';
import { binomialInterval, mean, summarise, type Tally } from './tally.ts';
import { fixed, percent, textTable } from './text-table.ts';

/** Units in which a metric's errors are shown. */
function unitOf(metric: string): { scale: number; unit: string; relative: boolean } {
  if (/time/.test(metric)) return { scale: 1, unit: 's', relative: metric.startsWith('time-to') };
  if (metric.startsWith('rate-of-climb')) return { scale: 1, unit: 'm/s', relative: true };
  if (metric.startsWith('wind direction')) return { scale: 180 / Math.PI, unit: 'deg', relative: false };
  if (metric.startsWith('wind')) return { scale: 3600 / 1852, unit: 'kt', relative: false };
  if (/speed|TAS/.test(metric)) return { scale: 3600 / 1852, unit: 'kt', relative: true };
  return { scale: 1, unit: 'm', relative: true };
}

/** Per metric and kind of recording: how many, how far off, how often the interval holds the truth. */
export function printMetrics(tally: Tally, print: (line: string) => void, only: RegExp | undefined): void {
  for (const metric of [...tally.observations.keys()].sort()) {
    if (/ > /.test(metric) || (only && !only.test(metric))) continue;
    const groups = tally.observations.get(metric)!;
    const { scale, unit, relative } = unitOf(metric);
    const hasInterval = !/vector error/.test(metric);
    const row = (name: string, list: Parameters<typeof summarise>[0]): string[] => {
      const s = summarise(list);
      return [
        name,
        String(s.n),
        fixed(s.bias * scale, 2),
        fixed(s.rms * scale, 2),
        fixed(s.medianAbsolute * scale, 2),
        fixed(s.worst * scale, 1),
        relative ? percent(s.biasRelative) : '',
        relative ? percent(s.rmsRelative) : '',
        hasInterval ? percent(s.coverage, 0) : '',
        hasInterval ? `${(100 * s.coverageLow).toFixed(0)}-${(100 * s.coverageHigh).toFixed(0)}` : '',
        hasInterval ? fixed(s.meanHalfWidth * scale, 2) : '',
      ];
    };
    const rows = [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([group, list]) => row(group, list));
    if (rows.length > 1) rows.push(row('all', [...groups.values()].flat()));
    print('');
    print(
      textTable(
        [
          `${metric} [${unit}]`,
          'n',
          'bias',
          'RMS',
          'median',
          'worst',
          'bias %',
          'RMS %',
          'in 95 %',
          '(95 %)',
          'half width',
        ],
        rows,
      ),
    );
  }
}

export function printCounts(tally: Tally, print: (line: string) => void): void {
  const rows: string[][] = [];
  for (const [event, groups] of [...tally.counts].sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (/ > /.test(event)) continue;
    const total = tally.total(event);
    const short = [...groups]
      .filter(([, counts]) => counts.missed > 0 || counts.invented > 0)
      .map(
        ([group, counts]) =>
          `${group} ${counts.missed > 0 ? `-${counts.missed}` : ''}${counts.invented > 0 ? `+${counts.invented}` : ''}`,
      );
    rows.push([event, String(total.found), String(total.missed), String(total.invented), short.join(', ')]);
  }
  print('');
  print(textTable(['event', 'found', 'missed', 'invented', 'where (- missed, + invented)'], rows));
}

export function printPhases(tally: Tally, print: (line: string) => void): void {
  const rows: string[][] = [];
  let good = 0;
  let all = 0;
  for (const [name, groups] of tally.counts) {
    if (!/ > /.test(name)) continue;
    const counted = groups.get('phase boundary');
    const counts = counted ?? groups.get('no definition');
    if (!counts) continue;
    const n = counts.found + counts.missed;
    if (counted) {
      good += counts.found;
      all += n;
    }
    const errors = tally.of(name).map(({ value }) => value);
    const sorted = errors.map(Math.abs).sort((a, b) => a - b);
    rows.push([
      counted ? name : `(${name})`,
      String(n),
      percent(counts.found / n, 0),
      fixed(mean(errors), 1),
      fixed(sorted[Math.floor(sorted.length / 2)] ?? Number.NaN, 1),
    ]);
  }
  rows.sort((a, b) => Number(b[1]) - Number(a[1]));
  rows.push(['all', String(all), percent(good / all, 0), '', '']);
  print('');
  print(textTable(['phase boundary', 'n', 'within 3 s', 'mean error s', 'median s'], rows));
}

/** Student's t quantile for p above one half: with x = sqrt(n) tan(a) the density is cos(a)^(n - 1); Simpson, then bisection. */
export function studentQuantile(p: number, freedom: number): number {
  const density = (angle: number): number => Math.cos(angle) ** (freedom - 1);
  const integral = (to: number): number => {
    const steps = 200;
    let sum = density(0) + density(to);
    for (let i = 1; i < steps; i++) sum += density((i * to) / steps) * (i % 2 === 1 ? 4 : 2);
    return (sum * to) / (3 * steps);
  };
  const half = integral(Math.PI / 2);
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (0.5 + integral(middle) / (2 * half) < p) low = middle;
    else high = middle;
  }
  return Math.sqrt(freedom) * Math.tan((low + high) / 2);
}

/** Each campaign in a line: the answer of the primary question beside the truth and the plain means. */
export function printCampaigns(run: CampaignsRun, print: (line: string) => void, most: number): void {
  const lines = run.changes.filter((change) => change.metric === 'ground-roll' && change.footing === 'equal-load');
  print('');
  print(
    textTable(
      ['campaign (ground roll, equal load)', 'days', 'true %', 'said %', 'interval', 'naive %', 'verdict'],
      lines
        .slice(0, most)
        .map((change) => [
          `${change.campaign} ${change.weather}`,
          change.days,
          fixed(change.truePercent, 1),
          fixed(change.percent, 1),
          `${fixed(change.low, 1)} .. ${fixed(change.high, 1)}`,
          change.naivePercent === undefined ? '-' : fixed(change.naivePercent, 1),
          change.verdict,
        ]),
    ),
  );
  if (lines.length > most) print(`(${lines.length - most} more)`);
}

export interface ChangeSummary {
  readonly metric: string;
  readonly n: number;
  /** Mean level that the intervals claim. */
  readonly claimed: number;
  /** Of the intervals as given, and of the same brought to 95 % by the ratio of t quantiles, one degree less a configuration than its days. */
  readonly coverage: number;
  readonly coverageAt95: number;
  readonly coverageInterval: readonly [number, number];
  readonly bias: number;
  readonly rms: number;
  readonly naiveRms: number;
  readonly halfWidth: number;
  readonly nulls: number;
  readonly falseAlarms: number;
  readonly real: number;
  readonly detected: number;
  readonly wrongSign: number;
}

export function summariseChanges(changes: readonly ChangeSeen[]): ChangeSummary[] {
  const keys = [...new Set(changes.map((change) => `${change.metric}, ${change.footing}`))];
  return keys.map((key) => {
    const list = changes.filter((change) => `${change.metric}, ${change.footing}` === key);
    const held = list.filter((change) => change.low <= change.truePercent && change.truePercent <= change.high).length;
    const heldAt95 = list.filter((change) => {
      const shrink =
        studentQuantile(0.975, change.freedom) / studentQuantile((1 + change.confidence) / 2, change.freedom);
      const truth = (change.truePercent - change.percent) / shrink + change.percent;
      return change.low <= truth && truth <= change.high;
    }).length;
    const nulls = list.filter((change) => change.isNull);
    // A change that is larger than the interval could still hide is called real: half a half width at least.
    const real = list.filter((change) => !change.isNull && Math.abs(change.truePercent) > 1);
    const calls = (change: ChangeSeen): boolean => ['shorter', 'longer', 'higher', 'lower'].includes(change.verdict);
    const naive = list.filter((change) => change.naivePercent !== undefined);
    return {
      metric: key,
      n: list.length,
      claimed: mean(list.map((change) => change.confidence)),
      coverage: held / list.length,
      coverageAt95: heldAt95 / list.length,
      coverageInterval: binomialInterval(heldAt95, list.length),
      bias: mean(list.map((change) => change.percent - change.truePercent)),
      rms: Math.sqrt(mean(list.map((change) => (change.percent - change.truePercent) ** 2))),
      naiveRms: Math.sqrt(mean(naive.map((change) => ((change.naivePercent ?? 0) - change.truePercent) ** 2))),
      halfWidth: mean(list.map((change) => (change.high - change.low) / 2)),
      nulls: nulls.length,
      falseAlarms: nulls.filter(calls).length,
      real: real.length,
      detected: real.filter((change) => calls(change) && Math.sign(change.percent) === Math.sign(change.truePercent))
        .length,
      wrongSign: real.filter((change) => calls(change) && Math.sign(change.percent) !== Math.sign(change.truePercent))
        .length,
    };
  });
}

export function printChangeSummary(run: CampaignsRun, print: (line: string) => void): void {
  print('');
  print(
    textTable(
      [
        'change of',
        'n',
        'level',
        'held',
        'held at 95 %',
        '(95 %)',
        'bias',
        'RMS',
        'naive RMS',
        'half width',
        'false alarms',
        'real found',
        'wrong sign',
      ],
      summariseChanges(run.changes).map((s) => [
        s.metric,
        String(s.n),
        percent(s.claimed, 1),
        percent(s.coverage, 0),
        percent(s.coverageAt95, 0),
        `${(100 * s.coverageInterval[0]).toFixed(0)}-${(100 * s.coverageInterval[1]).toFixed(0)}`,
        fixed(s.bias, 2),
        fixed(s.rms, 2),
        fixed(s.naiveRms, 1),
        fixed(s.halfWidth, 2),
        `${s.falseAlarms}/${s.nulls}`,
        `${s.detected}/${s.real}`,
        String(s.wrongSign),
      ]),
    ),
  );
  print(
    '(bias, RMS and half width in percentage points; "held at 95 %": intervals of a shared level brought to 95 %; "real": a true change of more than 1 %)',
  );
  if (run.silent.size > 0) {
    print(`no answer given: ${[...run.silent].map(([key, n]) => `${key} ${n}`).join(', ')}`);
  }
}
