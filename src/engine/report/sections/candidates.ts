import {
  formatInterval,
  formatList,
  formatPercentInterval,
  formatValue,
  type QuantityKind,
} from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import { metricTitle } from '../../../../shared/metric-title.ts';
import type { CandidateResult, PredictedAndMeasured } from '../../decision/index.ts';
import type { AroundContext } from './around.ts';
import { armText, joined, massText, sentence } from './around-words.ts';

function kindOf({ metric }: PredictedAndMeasured): QuantityKind {
  if (metric === 'rate-of-climb') return 'vertical-speed';
  if (metric === 'level-speed') return 'speed';
  return metric === 'service-ceiling' ? 'altitude' : 'length';
}

const percent = ({ value, low, high }: { value: number; low: number; high: number }): string =>
  formatPercentInterval({ value: value * 100, low: low * 100, high: high * 100 });

/** Predicted changes of each candidate, with what was measured since where it was flown. */
export function candidatesSection(candidates: readonly CandidateResult[], context: AroundContext): string {
  const lines = [
    `${context.heading(2)} Candidates on paper`,
    '',
    '> Predictions from physics, anchored on the measured configuration, with the width that the unknowns leave. A prediction never replaces a measurement; a modification must be approved and signed off before flight.',
    '',
  ];
  for (const candidate of candidates) lines.push(...candidateLines(candidate, context));
  return joined(lines);
}

function candidateLines(candidate: CandidateResult, context: AroundContext): string[] {
  const { units } = context;
  const words = candidate.description === undefined ? '' : `: ${escapeMarkdown(candidate.description)}`;
  const facts = [
    `From *${escapeMarkdown(candidate.from)}*`,
    candidate.price === undefined ? undefined : `price ${escapeMarkdown(candidate.price)}`,
    candidate.massChangeKg === undefined ? undefined : `empty weight ${massText(candidate.massChangeKg, units, true)}`,
    candidate.cgM === undefined ? undefined : `empty CG ${armText(candidate.cgM, units)}`,
    candidate.usefulLoadKg === undefined ? undefined : `useful load ${massText(candidate.usefulLoadKg, units)}`,
  ].filter((fact) => fact !== undefined);
  const lines = [`${context.heading(3)} ${escapeMarkdown(candidate.id)}${words}`, '', `${facts.join(', ')}.`, ''];
  if (candidate.rows.length > 0) {
    const measured = candidate.rows.some((row) => row.measured !== undefined);
    lines.push(
      markdownTable(
        [
          'Metric',
          'Now',
          'Predicted',
          'Predicted change',
          ...(measured ? ['Measured since', 'Measured change', 'Found'] : []),
        ],
        candidate.rows.map((row) => {
          const kind = kindOf(row);
          return [
            metricTitle(row.metric, units),
            row.baseline === undefined ? '-' : formatValue(row.baseline, kind, units),
            formatInterval(row.predicted, kind, units),
            row.change === undefined ? '-' : percent(row.change),
            ...(measured
              ? [
                  row.measured === undefined ? '-' : formatInterval(row.measured, kind, units),
                  row.measuredChange === undefined ? '-' : percent(row.measuredChange),
                  row.found ?? '-',
                ]
              : []),
          ];
        }),
      ),
      '',
      ...foundLines(candidate, context),
    );
  }
  return [...lines, ...candidate.remarks.map((remark) => `- ${sentence(remark)}`), ''];
}

/** What came of the prediction once it was flown. */
function foundLines({ rows, flown }: CandidateResult, { units }: AroundContext): string[] {
  const compared = rows.filter((row) => row.found !== undefined);
  if (flown === undefined) return [];
  if (compared.length === 0)
    return [`Flown as *${escapeMarkdown(flown)}*, but nothing predicted was measured there yet.`, ''];
  const off = compared.filter((row) => row.found !== 'as predicted');
  const names = (some: readonly PredictedAndMeasured[]): string =>
    formatList(some.map((row) => metricTitle(row.metric, units).toLowerCase()));
  if (off.length === 0) {
    return [
      `Flown as *${escapeMarkdown(flown)}*: what was measured agrees with what was predicted, within both intervals, in ${names(compared)}.`,
      '',
    ];
  }
  return [
    `Flown as *${escapeMarkdown(flown)}*: not as predicted in ${names(off)}. Either something of the change is not as it was stated, or the flights differ in more than the change: look at both before believing either.`,
    '',
  ];
}
