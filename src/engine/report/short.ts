import type { Takeoff } from '../../../shared/analysis.ts';
import type { DisplayUnits } from '../../../shared/display-units.ts';
import {
  formatClock,
  formatCount,
  formatDirection,
  formatFixed,
  formatInterval,
  formatValue,
} from '../../../shared/format.ts';
import { codeSpan, escapeMarkdown, markdownTable } from '../../../shared/markdown.ts';
import { standingOf } from '../compare/index.ts';
import type { Change, MetricResult } from '../compare/result.ts';
import type { EvaluatedFlight, Evaluation } from '../evaluate/index.ts';
import { groupLeftOut, type LeftOutGroup } from './left-out.ts';
import { footingTitles, metricWords } from './metric-words.ts';
import { answering } from './sections/answer.ts';
import { changeText, judgement, percent95 } from './told-change.ts';

/** What of an evaluation is said in one line, beside a spec or in a corner of the editor. */

function mainChange({ result }: Evaluation): { readonly metric: MetricResult; readonly change: Change } | undefined {
  const told = answering(result?.metrics ?? []).flatMap((metric) =>
    metric.changes.map((change) => ({ metric, change })),
  );
  return told.find(({ metric }) => metric.primary) ?? told[0];
}

/** "Ground roll 11 % shorter", or the verdict in words; undefined where nothing could be compared. */
export function headline(evaluation: Evaluation, units: DisplayUnits): string | undefined {
  const main = mainChange(evaluation);
  if (main === undefined || evaluation.spec === undefined) return undefined;
  const { title } = metricWords(main.metric, evaluation.spec, units);
  if (evaluation.spec.configurations.length > 2) {
    const { best, order, pairs } = standingOf(main.metric);
    if (evaluation.spec.questions.pairs === 'against-baseline' && pairs.length > 1) {
      const apart = pairs.filter(({ kind }) => kind === 'better').length;
      return `${title}: ${apart} of ${pairs.length} shown to differ from ${evaluation.spec.baseline}`;
    }
    if (order.length > 2) return best === undefined ? `${title}: no single best shown` : `${title}: best with ${best}`;
  }
  const { verdict } = main.change;
  const percent = percent95(main.change);
  const directed = ['shorter', 'longer', 'higher', 'lower'].includes(verdict);
  if (!directed || percent === undefined) return `${title}: ${verdict}`;
  const size = Math.abs(percent.value);
  return `${title} ${formatFixed(size, size < 10 ? 1 : 0)} % ${verdict}`;
}

/** The answers as a small Markdown table, for a hover. */
export function answerTable(evaluation: Evaluation, units: DisplayUnits): string {
  const { spec, result } = evaluation;
  if (spec === undefined || result === undefined) return '';
  const several = spec.configurations.length > 2;
  const rows = answering(result.metrics).flatMap((metric) =>
    metric.changes.map((change) => {
      const words = metricWords(metric, spec, units);
      const pair = several ? `: ${change.to} against ${change.from}` : '';
      return [
        escapeMarkdown(`${words.title}, ${footingTitles[metric.conditions]}${pair}`),
        changeText(change, words, units),
        `${change.verdict}${judgement(change, metric)}`,
      ];
    }),
  );
  return rows.length === 0
    ? 'No question could be answered from these recordings.'
    : markdownTable(['Question', 'Change, 95 % interval', 'Verdict'], rows);
}

/** What was left out of a recording. */
export function leftOutOf(file: string, evaluation: Evaluation): readonly LeftOutGroup[] {
  return groupLeftOut((evaluation.result?.leftOut ?? []).filter((item) => item.file === file));
}

function wholly({ metrics, numbers }: LeftOutGroup): boolean {
  return metrics.length === 0 && numbers.length === 0;
}

function takeoffWords(takeoff: Takeoff, units: DisplayUnits): string {
  const roll =
    takeoff.groundRollM === undefined ? '' : `, ground roll ${formatValue(takeoff.groundRollM.value, 'length', units)}`;
  const given = takeoff.liftoff?.origin === 'pilot' ? ' (lift-off as you gave it)' : '';
  return `${formatClock(takeoff.rollStart.timeS)} UTC${roll}${given}`;
}

function overFiftyFeet({ screens }: Takeoff, units: DisplayUnits): string {
  const screen = screens.find(({ heightM }) => Math.abs(heightM - 15.24) < 0.01);
  return screen === undefined ? '-' : formatInterval(screen.distanceM, 'length', units);
}

function counted(count: number, singular: string, plural?: string): string[] {
  return count === 0 ? [] : [formatCount(count, singular, plural)];
}

/** The events found in a flight, or the reason it is left out, in one line of plain text. */
export function flightLine(flight: EvaluatedFlight, evaluation: Evaluation, units: DisplayUnits): string {
  const { analysis } = flight;
  const left = leftOutOf(flight.file, evaluation);
  const whole = left.find(wholly);
  if (whole !== undefined) return `Left out: ${whole.reason}`;
  if (analysis === undefined) return `Left out: ${flight.problems.at(-1)?.message ?? 'it could not be read.'}`;
  const flown = analysis.takeoffs.filter(({ outcome }) => outcome !== 'rejected');
  const takeoffs =
    flown.length === 0
      ? ['no take-off']
      : flown.length <= 2
        ? flown.map((takeoff) => `take-off ${takeoffWords(takeoff, units)}`)
        : [formatCount(flown.length, 'take-off')];
  const parts = [
    ...takeoffs,
    ...counted(analysis.landings.length, 'landing'),
    ...counted(analysis.climbs.length, 'climb'),
    ...counted(analysis.levelRuns.length, 'level run'),
  ];
  const metrics = [...new Set(left.flatMap(({ metrics }) => metrics))];
  if (left.length > 0)
    parts.push(metrics.length === 1 ? `${metrics[0].replaceAll('-', ' ')} left out` : 'some left out');
  return parts.join(' | ');
}

/** What the engine found in a flight, as Markdown, for a hover. */
export function flightFindings(flight: EvaluatedFlight, evaluation: Evaluation, units: DisplayUnits): string {
  const { analysis } = flight;
  const parts = [`**${escapeMarkdown(flight.file.split('/').pop() ?? flight.file)}**`];
  if (analysis !== undefined) {
    const rows = analysis.takeoffs.map((takeoff, index) => [
      takeoff.outcome === 'rejected' ? `${index + 1} (rejected)` : `${index + 1}`,
      formatClock(takeoff.rollStart.timeS),
      formatDirection(takeoff.headingRad),
      takeoff.groundRollM === undefined ? '-' : formatInterval(takeoff.groundRollM, 'length', units),
      overFiftyFeet(takeoff, units),
    ]);
    if (rows.length > 0) parts.push(markdownTable(['Take-off', 'UTC', 'Heading', 'Ground roll', 'Over 50 ft'], rows));
    else parts.push('No take-off was found.');
    const climb = analysis.climbs.reduce<(typeof analysis.climbs)[number] | undefined>(
      (best, one) =>
        best === undefined || one.toAltitudeM - one.fromAltitudeM > best.toAltitudeM - best.fromAltitudeM ? one : best,
      undefined,
    );
    const lines = [
      ...(climb === undefined
        ? []
        : [`Longest climb ${formatInterval(climb.rateOfClimbMps, 'vertical-speed', units)}`]),
      ...counted(analysis.levelRuns.length, 'level run'),
      ...counted(analysis.landings.length, 'landing'),
    ];
    if (lines.length > 0) parts.push(`${lines.join(', ')}.`);
    const remarks = [...new Set(analysis.takeoffs.flatMap((takeoff) => takeoff.remarks))].slice(0, 4);
    if (remarks.length > 0) parts.push(remarks.map((remark) => `- ${escapeMarkdown(remark)}`).join('\n'));
  }
  const left = leftOutOf(flight.file, evaluation).map(
    ({ metrics, numbers, reason, by }) =>
      `- Left out${metrics.length === 0 ? '' : ` of ${codeSpan(metrics.join(', '))}`}${numbers.length === 0 ? '' : `, no. ${numbers.join(', ')}`}: ${escapeMarkdown(reason)}${by === 'pilot' ? ' (your exclusion)' : ''}`,
  );
  if (left.length > 0) parts.push(left.join('\n'));
  const troubles = flight.problems.filter(({ severity }) => severity !== 'info').slice(0, 5);
  if (troubles.length > 0) parts.push(troubles.map(({ message }) => `- ${escapeMarkdown(message)}`).join('\n'));
  return parts.join('\n\n');
}
