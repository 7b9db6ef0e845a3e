import type { ConditionsView, CorrectedRow, MetricRow } from '../../shared/flight-view.ts';
import {
  formatDirection,
  formatFixed,
  formatInterval,
  formatIntervalParts,
  formatSigned,
  inShownUnit,
  shownUnit,
} from '../../shared/format.ts';
import type { Measured } from '../../shared/measured.ts';
import { menu } from '../components/menu.ts';
import { type TableData, tableMarkdown } from '../components/table.ts';
import { element, fill } from '../element.ts';
import { attempt, type CommonHost } from '../host.ts';
import type { FlightModel } from '../viewer/flight-model.ts';

function valueText(row: MetricRow, model: FlightModel): string {
  if (row.kind === 'angle') return formatDirection(row.measured.value);
  return `${formatIntervalParts(row.measured, row.kind, model.units).value} ${shownUnit(row.kind, model.units).symbol}`;
}

function intervalText(row: MetricRow, model: FlightModel): string {
  if (row.kind === 'angle') {
    const half = ((row.measured.high - row.measured.low) / 2) * (180 / Math.PI);
    return half >= 180 ? 'any direction' : `\u00b1 ${Math.max(1, Math.round(half))} deg`;
  }
  const { low, high } = formatIntervalParts(row.measured, row.kind, model.units);
  return `${low} to ${high}`;
}

/** "Rate of climb, 1000 to 1500 ft" of a band. */
function nameText({ name, bandM }: MetricRow, { units }: FlightModel): string {
  if (bandM === undefined) return name;
  const [from, to] = bandM.map((heightM) => formatFixed(inShownUnit(heightM, 'altitude', units), 0));
  return `${name}, ${from} to ${to} ${shownUnit('altitude', units).symbol}`;
}

function foundBy({ method, remarks }: Measured): string {
  return [method, ...(remarks ?? [])].join('; ');
}

function referenceText(corrected: CorrectedRow | undefined, row: MetricRow, model: FlightModel): string {
  return corrected === undefined ? '' : formatInterval(corrected.atReference, row.kind, model.units);
}

function stepText(step: CorrectedRow['steps'][number], row: MetricRow, model: FlightModel): string {
  if (step.factor !== undefined) return `${step.name} ${formatSigned((step.factor - 1) * 100, 1)} %`;
  const shift = step.addend ?? 0;
  const parts = formatIntervalParts({ value: shift, low: shift, high: shift }, row.kind, model.units, true);
  return `${step.name} ${parts.value} ${parts.unit}`;
}

/** What was done, in order; what changed nothing is left out, what was large is marked. */
function stepsText(at: CorrectedRow, row: MetricRow, model: FlightModel): string {
  const steps = at.steps.filter(
    ({ factor, addend }) => Math.abs((factor ?? 1) - 1) >= 0.0005 || Math.abs(addend ?? 0) >= 0.05,
  );
  return steps.map((step) => `${stepText(step, row, model)}${step.warning === undefined ? '' : ' *'}`).join(', ');
}

export interface MetricsPanel {
  readonly root: HTMLElement;
  setConditions(view: ConditionsView | undefined): void;
}

/** Every derived metric with its interval and how it was found, and beside it at reference conditions once they are known. */
export function metricsPanel(model: FlightModel, host: CommonHost, show: (row: MetricRow) => void): MetricsPanel {
  const { metrics } = model.flight;
  let conditions: ConditionsView | undefined;
  const body = element('div', {
    class: 'table-scroll',
    attributes: { tabindex: '0', role: 'group', 'aria-labelledby': 'metrics-title' },
  });
  const note = element('p', { class: 'note' });
  const cautions = element('ul', { class: 'cautions' });

  const correctedOf = (row: MetricRow): CorrectedRow | undefined =>
    conditions?.corrected.find(({ id }) => id === row.id);
  const data = (): TableData => {
    const corrected = metrics.some((row) => correctedOf(row) !== undefined);
    return {
      caption: `Metrics of ${model.flight.fileName}`,
      head: ['Metric', 'Value', '95 % interval', ...(corrected ? ['At reference conditions'] : []), 'How it was found'],
      rows: metrics.map((row) => [
        `${row.group}: ${nameText(row, model)}`,
        valueText(row, model),
        intervalText(row, model),
        ...(corrected ? [referenceText(correctedOf(row), row, model)] : []),
        foundBy(row.measured),
      ]),
      figures: [1, 2, ...(corrected ? [3] : [])],
    };
  };

  const draw = (): void => {
    const corrected = metrics.some((row) => correctedOf(row) !== undefined);
    const columns = corrected ? 5 : 4;
    const head = data().head.map((text, index) =>
      element('th', {
        text,
        class: data().figures.includes(index) ? 'figure' : undefined,
        attributes: { scope: 'col' },
      }),
    );
    let group = '';
    const rows = metrics.flatMap((row) => {
      const made: HTMLTableRowElement[] = [];
      if (row.group !== group) {
        group = row.group;
        made.push(
          element(
            'tr',
            { class: 'group' },
            element('th', { text: group, attributes: { colspan: String(columns), scope: 'colgroup' } }),
          ),
        );
      }
      const at = correctedOf(row);
      made.push(
        element(
          'tr',
          {},
          element(
            'th',
            { attributes: { scope: 'row' } },
            element('button', {
              class: 'link-button',
              text: nameText(row, model),
              attributes: { type: 'button', title: 'Show in the charts' },
              on: { click: () => show(row) },
            }),
          ),
          element('td', { class: 'figure strong', text: valueText(row, model) }),
          element('td', { class: 'figure', text: intervalText(row, model) }),
          ...(corrected
            ? [
                element(
                  'td',
                  { class: 'figure' },
                  referenceText(at, row, model),
                  at !== undefined &&
                    element('div', {
                      class: 'note',
                      text: stepsText(at, row, model),
                    }),
                ),
              ]
            : []),
          element('td', { class: 'method', text: foundBy(row.measured) }),
        ),
      );
      return made;
    });
    fill(
      body,
      element(
        'table',
        { class: 'metrics' },
        element('caption', { class: 'visually-hidden', text: data().caption }),
        element('thead', {}, element('tr', {}, ...head)),
        element('tbody', {}, ...rows),
      ),
    );
    const warnings = (conditions?.corrected ?? []).flatMap(({ steps }) =>
      steps.flatMap(({ warning }) => warning ?? []),
    );
    fill(cautions, ...[...new Set(warnings)].map((text) => element('li', { class: 'caution', text: `* ${text}` })));
    const at = conditions?.corrected[0]?.at;
    note.textContent = [
      'Measured on this one flight; intervals are 95 %. Not approved performance data: the flight manual rules.',
      ...(at === undefined ? [] : [`Reference conditions: ${at}.`]),
    ].join(' ');
  };
  draw();
  const root = element(
    'section',
    { class: 'metrics-panel', attributes: { 'aria-labelledby': 'metrics-title' } },
    element(
      'header',
      {},
      element('h2', { text: 'Derived metrics', attributes: { id: 'metrics-title' } }),
      menu('Copy the metrics', [
        {
          label: 'Copy table as Markdown',
          act: () => attempt(host.call('copyText', { text: tableMarkdown(data()), what: 'Metrics' })),
        },
      ]),
    ),
    metrics.length === 0
      ? element('p', { class: 'note', text: 'No take-off, climb, level run or landing was found in this recording.' })
      : body,
    cautions,
    note,
  );
  return {
    root,
    setConditions(next) {
      conditions = next;
      if (metrics.length > 0) draw();
    },
  };
}
