import { modificationKinds } from './drawn-modification.ts';
import type { MissionSeen, MissionsRun } from './run-missions.ts';
import type { PredictionSeen, PredictionsRun } from './run-predictions.ts';
import { mean, summarise } from './tally.ts';
import { fixed, percent, textTable } from './text-table.ts';

const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((value) => value * value)));

/** Predicted against true change by metric, and by kind of modification within it. */
export function printPredictions(run: PredictionsRun, print: (line: string) => void): void {
  print(`${run.cases} modifications`);
  const rows: string[][] = [];
  const metrics = [...new Set(run.seen.map((one) => one.metric))];
  const row = (name: string, list: readonly PredictionSeen[]): void => {
    if (list.length === 0) return;
    const s = summarise(list.map(({ predicted, low, high, truth }) => ({ value: predicted, low, high, truth })));
    rows.push([
      name,
      String(s.n),
      fixed(rms(list.map(({ truth }) => truth)), 1),
      fixed(s.bias, 1),
      fixed(s.rms, 1),
      fixed(s.meanHalfWidth, 1),
      percent(s.coverage, 0),
      `${(100 * s.coverageLow).toFixed(0)}-${(100 * s.coverageHigh).toFixed(0)}`,
    ]);
  };
  for (const metric of metrics) {
    const measured = run.seen.filter((one) => one.metric === metric && one.baseline === 'measured');
    row(metric, measured);
    row(
      '  (exact baseline)',
      run.seen.filter((one) => one.metric === metric && one.baseline === 'exact'),
    );
    // With a handful of each kind a row says nothing.
    for (const kind of run.cases < 5 * modificationKinds.length ? [] : modificationKinds)
      row(
        `  ${kind}`,
        measured.filter((one) => one.kind === kind),
      );
  }
  print('');
  print(textTable(['predicted change', 'n', 'true RMS', 'bias', 'RMS', 'half width', 'held', '(95 %)'], rows));
  print(
    '(percentage points of the baseline, measured with errors of 3 % of distances and climb and 0.8 % of speed; of the service ceiling per cent of its true height)',
  );
  print(
    "(the simulator's fixed-pitch propeller keeps its static thrust coefficient whatever its pitch, and its constant-speed one is poor below 60 m/s: the far edges of what a prediction allows for)",
  );
  for (const [reason, n] of run.refused) print(`not predicted ${n} times: ${reason}`);
}

export interface MissionCounts {
  readonly n: number;
  readonly yes: number;
  readonly wrongYes: number;
  /** "Yes" where the one take-off drawn did not fit. */
  readonly singleWrong: number;
  readonly no: number;
  /** "No" where the average flight fits without any factor. */
  readonly fitsAllTheSame: number;
  readonly unknown: number;
}

export function countMissions(list: readonly MissionSeen[]): MissionCounts {
  const of = (answer: MissionSeen['answer']): MissionSeen[] => list.filter((one) => one.answer === answer);
  return {
    n: list.length,
    yes: of('yes').length,
    wrongYes: of('yes').filter(({ fits }) => !fits).length,
    singleWrong: of('yes').filter(({ singleFits }) => singleFits === false).length,
    no: of('no').length,
    fitsAllTheSame: of('no').filter(({ fits }) => fits).length,
    unknown: of('not enough data').length,
  };
}

/** What can be asked, and what of it counts for which aim. */
export const missionGroups = [
  { name: 'strip, published factors', of: (one: MissionSeen) => one.kind === 'strip' && one.factor === 'published' },
  { name: 'strip, factor 1', of: (one: MissionSeen) => one.kind === 'strip' && one.factor === 'none' },
  { name: 'leg', of: (one: MissionSeen) => one.kind === 'leg' },
  { name: 'climb', of: (one: MissionSeen) => one.kind === 'climb' },
] as const;

/** Answers against truth by kind of need, measured and predicted, and strips by what they have beyond air and weight. */
export function printMissions(run: MissionsRun, print: (line: string) => void): void {
  print(`${run.campaigns} campaigns`);
  const rows: string[][] = [];
  const row = (name: string, list: readonly MissionSeen[]): void => {
    if (list.length === 0) return;
    const counts = countMissions(list);
    const said = list.filter((one) => one.takesOverTruth !== undefined && Number.isFinite(one.takesOverTruth));
    const ratios = said.map((one) => one.takesOverTruth ?? Number.NaN);
    const strip = list.some((one) => one.singleFits !== undefined);
    rows.push([
      name,
      String(counts.n),
      String(counts.yes),
      String(counts.wrongYes),
      strip ? String(counts.singleWrong) : '-',
      String(counts.no),
      String(counts.fitsAllTheSame),
      String(counts.unknown),
      percent(mean(ratios) - 1, 0),
      percent(rms(ratios.map((ratio) => ratio - mean(ratios))), 0),
    ]);
  };
  for (const { name, of } of missionGroups) {
    const group = run.seen.filter(of);
    for (const from of ['measured', 'predicted'] as const) {
      const list = group.filter((one) => one.from === from);
      row(`${name}, ${from}`, list);
      if (from === 'predicted') continue;
      for (const conditions of [...new Set(list.map((one) => one.conditions))].sort())
        row(
          `  ${conditions}`,
          list.filter((one) => one.conditions === conditions),
        );
    }
  }
  print('');
  print(
    textTable(
      [
        'asked',
        'n',
        'yes',
        'WRONG YES',
        'one take-off longer',
        'no',
        'no, yet fits',
        'not enough data',
        'said over truth',
        'SD',
      ],
      rows,
    ),
  );
  print(
    '(a yes is wrong where the average flight of the true aeroplane does not fit; "no, yet fits": without any safety factor; a strip is "uphill" with its obstacle on the rising ground)',
  );
  for (const one of run.seen.filter(({ answer, fits }) => answer === 'yes' && !fits))
    print(`WRONG YES, ${(-100 * one.room).toFixed(1)} % too little: ${one.what}`);
  for (const problem of run.problems.slice(0, 5)) print(`problem: ${problem}`);
}
