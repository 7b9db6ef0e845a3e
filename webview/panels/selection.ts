import {
  formatClock,
  formatDirection,
  formatDuration,
  formatInterval,
  formatSigned,
  formatValue,
  inShownUnit,
  shownUnit,
} from '../../shared/format.ts';
import { type SpanStatistics, spanStatistics } from '../../shared/span-statistics.ts';
import type { TableData } from '../components/table.ts';
import { tableMarkdown } from '../components/table.ts';
import { button } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';
import { attempt, type CommonHost } from '../host.ts';
import { oncePerFrame } from '../store.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import type { TimeView } from '../viewer/time-view.ts';

function rows(found: SpanStatistics, { units, columns }: FlightModel): [string, string][] {
  const from = columns.startS + columns.timeS[found.fromRow];
  const to = columns.startS + columns.timeS[found.toRow];
  const list: [string, string | undefined][] = [
    ['Span', `${formatClock(from)} to ${formatClock(to)} UTC, ${formatDuration(found.durationS)}`],
    ['Distance', formatValue(found.distanceM, found.distanceM < 5000 ? 'length' : 'route-distance', units)],
    [
      'Height change',
      found.heightChangeM === undefined
        ? undefined
        : `${formatSigned(inShownUnit(found.heightChangeM, 'altitude', units), 0)} ${shownUnit('altitude', units).symbol}`,
    ],
    ['Mean rate of climb', found.rateOfClimbMps && formatInterval(found.rateOfClimbMps, 'vertical-speed', units)],
    [
      `Corrected for change of ${found.energySpeed ?? 'speed'}`,
      found.energyRateMps && formatInterval(found.energyRateMps, 'vertical-speed', units),
    ],
    ['Mean ground speed', found.groundSpeedMps && formatInterval(found.groundSpeedMps, 'speed', units)],
    ['Mean track', found.trackRad === undefined ? undefined : formatDirection(found.trackRad)],
  ];
  return list.filter((row): row is [string, string] => row[1] !== undefined);
}

function verdict({ steadiness }: SpanStatistics): string {
  return steadiness.usableAs === 'neither'
    ? `Not steady enough for a test run. ${steadiness.against.join(' ')}`
    : `Steady enough for a ${steadiness.usableAs === 'level run' ? 'level run' : `test of the ${steadiness.usableAs}`}.`;
}

/** Statistics of the marked span, as it is marked. */
export function selectionPanel(model: FlightModel, view: TimeView, host: CommonHost, signal: AbortSignal): HTMLElement {
  const body = element('div');
  const data = (found: SpanStatistics): TableData => ({
    caption: 'Marked span',
    head: ['Marked span', model.flight.fileName],
    rows: [...rows(found, model), ['Steadiness', verdict(found)]],
    figures: [],
  });
  const draw = (): void => {
    const marked = view.selection.value;
    const found = marked && spanStatistics(model.columns, ...marked);
    if (found === undefined) {
      fill(
        body,
        element('p', {
          class: 'note',
          text: 'Drag across a chart, or hold Shift with the arrow keys, to see mean climb, speed and track of a span.',
        }),
      );
      return;
    }
    fill(
      body,
      element(
        'dl',
        { class: 'facts' },
        ...rows(found, model).map(([name, text]) =>
          element('div', {}, element('dt', { text: name }), element('dd', { text })),
        ),
      ),
      element('p', {
        class: found.steadiness.usableAs === 'neither' ? 'verdict against' : 'verdict for',
        text: verdict(found),
      }),
      element(
        'div',
        { class: 'actions' },
        button({
          label: 'Zoom to span',
          id: 'zoom-to-span',
          onClick: () => view.show(...(view.selection.value ?? view.whole)),
        }),
        button({
          label: 'Copy as Markdown',
          onClick: () => void attempt(host.call('copyText', { text: tableMarkdown(data(found)), what: 'Marked span' })),
        }),
      ),
    );
  };
  view.selection.onChange(oncePerFrame(draw, signal), signal);
  draw();
  return element(
    'section',
    { attributes: { 'aria-labelledby': 'selection-title' } },
    element('header', {}, element('h2', { text: 'Marked span', attributes: { id: 'selection-title' } })),
    body,
  );
}
