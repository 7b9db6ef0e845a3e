import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatCount } from '../../../shared/format.ts';
import { escapeMarkdown, linkTarget } from '../../../shared/markdown.ts';
import type { Evaluation } from '../evaluate/index.ts';
import type { ReportContext } from './context.ts';
import { shownNames } from './names.ts';
import { settingText } from './setting-text.ts';
import { answerSection, questionKey } from './sections/answer.ts';
import { aroundSections } from './sections/around.ts';
import { conditionsSection } from './sections/conditions.ts';
import { filmTimesSection } from './sections/film-times.ts';
import { leftOutSection } from './sections/left-out.ts';
import { cautionsSection, methodSection } from './sections/method.ts';
import { metricSection, takeoffsSection } from './sections/metric.ts';
import { provenanceSection } from './sections/provenance.ts';
import { recordingsSection } from './sections/recordings.ts';
import { sideBySideSection } from './sections/side-by-side.ts';

export interface ReportFigure {
  /** Relative to the report, '/' separated. */
  readonly path: string;
  readonly svg: string;
}

export interface Report {
  readonly markdown: string;
  readonly figures: readonly ReportFigure[];
}

export interface ReportRequest {
  /** Folder of the figures, relative to the report. */
  readonly figureFolder: string;
  /** 1 for a report of its own; 2 to stand inside other notes. */
  readonly topLevel?: number;
  /** Instead of the units of the spec. */
  readonly units?: DisplayUnits;
}

/** Folder of the figures of a report: `report.md` has `report-figures`. */
export function figureFolderOf(reportFile: string): string {
  return `${
    reportFile
      .replace(/\\/g, '/')
      .split('/')
      .pop()
      ?.replace(/\.[^.]*$/, '') ?? 'report'
  }-figures`;
}

/**
 * The Markdown report of an evaluation with its figures, as text. Throws RangeError when the evaluation has no result
 * (the spec had errors). The same evaluation gives the same bytes on every machine.
 */
export function writeReport(evaluation: Evaluation, request: ReportRequest): Report {
  const { spec, result } = evaluation;
  if (spec === undefined || result === undefined)
    throw new RangeError('There is no result to report: the spec has errors.');
  const top = request.topLevel ?? 1;
  const figures = new Map<string, string>();
  const ids = spec.configurations.map(({ id }) => id);
  const order = [spec.baseline, ...ids.filter((id) => id !== spec.baseline)];
  const context: ReportContext = {
    evaluation,
    spec,
    metrics: result.metrics,
    units: request.units ?? spec.report.units,
    names: shownNames(evaluation),
    heading: (level) => '#'.repeat(Math.min(6, level + top - 1)),
    seriesOf: (id) => Math.max(0, order.indexOf(id)),
    show: (name, title, svg) => {
      if (!spec.report.figures) return '';
      let unique = name;
      for (let number = 2; figures.has(`${unique}.svg`); number++) unique = `${name}-${number}`;
      figures.set(`${unique}.svg`, svg());
      return `![${escapeMarkdown(title)}](${linkTarget(`${request.figureFolder}/${unique}.svg`)})`;
    },
  };
  const metrics = [...new Set(result.metrics.map(questionKey))];
  const primaries = new Set(result.metrics.filter(({ primary }) => primary).map(questionKey));
  metrics.sort((a, b) => Number(primaries.has(b)) - Number(primaries.has(a)));
  const parts = [
    opening(context),
    answerSection(context),
    sideBySideSection(context),
    ...metrics.map((metric) => metricSection(metric, context)),
    takeoffsSection(context),
    filmTimesSection(context),
    ...(evaluation.decision === undefined ? [] : aroundSections(evaluation.decision, context)),
    conditionsSection(context),
    recordingsSection(context),
    leftOutSection(context),
    methodSection(context),
    cautionsSection(context),
    provenanceSection(context),
  ];
  // What a section may have overlooked: descriptions of candidates, items, figures.
  const hide = (text: string): string => (context.names.hidden ? context.names.text(text) : text);
  const markdown = `${parts
    .filter((part) => part !== '')
    .map((part) => part.trimEnd())
    .join('\n\n')}\n`;
  return {
    markdown: hide(markdown),
    figures: [...figures].map(([name, svg]) => ({ path: `${request.figureFolder}/${name}`, svg: hide(svg) })),
  };
}

/** Title, aeroplane and states, and the first caution where nobody can miss it. */
function opening(context: ReportContext): string {
  const { spec, evaluation } = context;
  const aircraft = context.names.text(spec.aircraft.name);
  const lines = [
    `${context.heading(1)} ${escapeMarkdown(context.names.text(evaluation.result?.title ?? spec.title))}`,
    '',
  ];
  const used = evaluation.flights.filter((flight) => flight.analysis !== undefined);
  const days = new Set(used.map((flight) => flight.day)).size;
  const states = spec.configurations.map(({ id, description, setting }) => {
    const flights = used.filter((flight) => flight.entry.configuration === id).length;
    const words = description === undefined ? '' : `: ${escapeMarkdown(context.names.text(description))}`;
    const set =
      setting === undefined ? '' : `, ${escapeMarkdown(`${spec.settingOf ?? 'setting'} ${settingText(setting)}`)}`;
    return `- *${escapeMarkdown(id)}*${id === spec.baseline ? ' (baseline)' : ''}${set}${words} (${formatCount(flights, 'recording')})`;
  });
  lines.push(
    `${escapeMarkdown(aircraft.charAt(0).toUpperCase() + aircraft.slice(1))}, ${formatCount(used.length, 'recording')} on ${formatCount(days, 'day')}.`,
    '',
    ...states,
    '',
    "> Not approved performance data: the owner's own measurements. The flight manual rules; see the cautions at the end.",
    '',
  );
  return lines.join('\n');
}
