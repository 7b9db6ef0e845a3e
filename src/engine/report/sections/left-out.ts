import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { ReportContext } from '../context.ts';
import { groupLeftOut } from '../left-out.ts';

/** What was not used, and why; the pilot's own exclusions first. */
export function leftOutSection(context: ReportContext): string {
  const groups = groupLeftOut(context.evaluation.result?.leftOut ?? []);
  const lines = [`${context.heading(2)} Left out`, ''];
  if (groups.length === 0) return [...lines, 'Nothing was left out.', ''].join('\n');
  const rows = groups.map(({ file, numbers, metrics, by, reason }) => [
    `${codeSpan(context.names.file(file))}${numbers.length === 0 ? '' : ` no. ${numbers.join(', ')}`}`,
    metrics.length === 0 ? 'all' : escapeMarkdown(metrics.join(', ')),
    by === 'pilot' ? 'the pilot' : 'the engine',
    escapeMarkdown(context.names.text(reason)),
  ]);
  lines.push(markdownTable(['Recording', 'Metric', 'By', 'Reason'], rows));
  return lines.join('\n');
}
