import {
  formatFixed,
  formatIntervalParts,
  formatList,
  formatSigned,
  inShownUnit,
  shownUnit,
} from '../../../../shared/format.ts';
import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import { toldIds } from '../../compare/index.ts';
import type { AppliedCorrection, MetricResult, RunValue } from '../../compare/result.ts';
import { eventsByPilot } from '../../view/index.ts';
import type { ReportContext } from '../context.ts';
import { footingTitles, type MetricWords } from '../metric-words.ts';

/** "×0.930", "+12": one correction beside the raw value. */
function correctionCell(correction: AppliedCorrection | undefined, words: MetricWords, context: ReportContext): string {
  if (correction === undefined) return '';
  const parts: string[] = [];
  if (correction.factor !== undefined) parts.push(`×${formatFixed(correction.factor, 3)}`);
  if (correction.addend !== undefined) {
    const zero = inShownUnit(0, words.kind, context.units);
    const decimals = shownUnit(words.kind, context.units).decimals;
    parts.push(formatSigned(inShownUnit(correction.addend, words.kind, context.units) - zero, decimals));
  }
  // A no-break space keeps the mark beside its figure in a narrow column.
  return `${parts.join(' ')}${correction.warning === undefined ? '' : '\u00a0!'}`;
}

/** That a correction is large is told by its figure and the mark; what else a warning says stands in the remarks. */
const largeCorrection = /^The correction for \S+ is (?:[-+\d. ]+%: )?more than 10 %/;

function sentences(text: string): string[] {
  return text.split(/(?<=\.)\s+/).filter((sentence) => sentence !== '');
}

function remarks(run: RunValue, metric: string, context: ReportContext): string {
  const analysis = context.evaluation.flights.find(({ file }) => file === run.file)?.analysis;
  const given = eventsByPilot(analysis, metric, run.number);
  const warnings = run.corrections.flatMap((correction) =>
    sentences(correction.warning ?? '').filter((sentence) => !largeCorrection.test(sentence)),
  );
  return [
    ...(given.length === 0 ? [] : [`The pilot's time of ${formatList(given)}`]),
    ...(run.outlier === undefined ? [] : [`Stands out: ${run.outlier}`]),
    ...new Set(warnings),
  ]
    .map((remark) => (/[.!?]$/.test(remark) ? remark : `${remark}.`))
    .join(' ');
}

function valueCell(interval: RunValue | RunValue['raw'], words: MetricWords, context: ReportContext): string {
  const parts = formatIntervalParts(interval, words.kind, context.units);
  return `${parts.value} (${parts.low} to ${parts.high})`;
}

/** Corrections that differ between footings, which is weight and what follows from it, are those of the first. */
export function runsTable(results: readonly MetricResult[], words: MetricWords, context: ReportContext): string {
  const [first, ...others] = results;
  const runs = first.configurations.flatMap((configuration) =>
    configuration.values.map((run) => ({ configuration: configuration.id, run })),
  );
  runs.sort(
    (a, b) =>
      context.seriesOf(a.configuration) - context.seriesOf(b.configuration) ||
      a.run.timeS - b.run.timeS ||
      a.run.number - b.run.number,
  );
  const corrected = first.conditions !== 'as-flown';
  const used = [...new Set(runs.flatMap(({ run }) => run.corrections.map((correction) => correction.name)))];
  const several = new Set(runs.filter(({ run }) => run.number > 1).map(({ run }) => run.file));
  const weighted = runs.some(({ run }) => run.weight < 0.995);
  const unit = shownUnit(words.kind, context.units).symbol;
  const measured: MetricWords = words.kind === 'altitude' ? { ...words, kind: 'vertical-speed' } : words;
  const onFooting = (other: MetricResult, run: RunValue): RunValue | undefined =>
    other.configurations
      .flatMap((configuration) => configuration.values)
      .find((value) => value.file === run.file && value.number === run.number);
  const head = [
    'Day',
    'Recording',
    'Configuration',
    // What is measured for an altitude to which a rate is held is the rate of the climb.
    `As measured, ${shownUnit(measured.kind, context.units).symbol}`,
    ...(corrected ? [...used, `${footingTitles[first.conditions]}, ${unit}`] : []),
    ...others.map((other) => `${footingTitles[other.conditions]}, ${unit}`),
    ...(weighted ? ['counts'] : []),
    'Remarks',
  ];
  // What the comparison refuses as a guess stands in no column.
  const refused = (result: MetricResult, configuration: string): boolean =>
    words.kind === 'altitude' && !toldIds(result).includes(configuration);
  const rows = runs.map(({ configuration, run }) => [
    run.day,
    `${codeSpan(context.names.file(run.file))}${several.has(run.file) ? ` no. ${run.number}` : ''}`,
    escapeMarkdown(configuration),
    valueCell(run.raw, measured, context),
    ...(corrected
      ? [
          ...used.map((name) =>
            refused(first, configuration)
              ? '-'
              : correctionCell(
                  run.corrections.find((correction) => correction.name === name),
                  words,
                  context,
                ),
          ),
          refused(first, configuration) ? '-' : valueCell(run, words, context),
        ]
      : []),
    ...others.map((other) => {
      const value = onFooting(other, run);
      return value === undefined || refused(other, configuration) ? '-' : valueCell(value, words, context);
    }),
    ...(weighted ? [`${formatFixed(run.weight * 100, 0)} %`] : []),
    escapeMarkdown(context.names.text(remarks(run, first.metric, context))),
  ]);
  const numbers = head.length - 4;
  const table = markdownTable(head, rows, ['left', 'left', 'left', ...Array<'right'>(numbers).fill('right')]);
  const marked = runs.some(({ run }) => run.corrections.some(({ warning }) => warning !== undefined));
  const notes = [
    ...(marked
      ? [
          '"!" marks a correction of more than 10 %, where errors of the method itself begin to count, or one outside its range.',
        ]
      : []),
    ...(weighted
      ? [
          '"Counts" is the weight of a run against the one that counts most in its configuration: uncertain runs, several of one day, and runs in conditions that the other configuration has not flown count less.',
        ]
      : []),
  ];
  return notes.length === 0 ? table : `${table}\n${notes.join(' ')}\n`;
}
