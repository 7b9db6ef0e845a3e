import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { LeftOut } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';

/** What was not used, and why; the pilot's own exclusions first. */
export function leftOutSection(context: ReportContext): string {
  const leftOut = context.evaluation.result?.leftOut ?? [];
  const lines = [`${context.heading(2)} Left out`, ''];
  if (leftOut.length === 0) {
    lines.push('Nothing was left out.', '');
    return lines.join('\n');
  }
  const groups = new Map<string, LeftOut[]>();
  for (const item of leftOut) {
    const key = `${item.by} ${item.file} ${item.number ?? ''} ${item.reason}`;
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  const rows = [...groups.values()]
    .sort((a, b) => Number(a[0].by === 'engine') - Number(b[0].by === 'engine'))
    .map((items) => {
      const [first] = items;
      const metrics = [...new Set(items.flatMap((item) => item.metric ?? []))];
      return [
        `${codeSpan(context.names.file(first.file))}${first.number === undefined ? '' : ` no. ${first.number}`}`,
        metrics.length === 0 ? 'all' : escapeMarkdown(metrics.join(', ')),
        first.by === 'pilot' ? 'the pilot' : 'the engine',
        escapeMarkdown(first.reason),
      ];
    });
  lines.push(markdownTable(['Recording', 'Metric', 'By', 'Reason'], rows));
  return lines.join('\n');
}
