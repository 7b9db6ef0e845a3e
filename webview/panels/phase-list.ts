import type { PhaseRow } from '../../shared/flight-view.ts';
import { formatClock, formatDuration, formatSigned, formatValue, inShownUnit, shownUnit } from '../../shared/format.ts';
import { element } from '../element.ts';
import { phaseStyles } from '../phase-style.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import type { TimeView } from '../viewer/time-view.ts';

/** The phases as a table; picking one moves every chart to it. */
export function phaseList(
  model: FlightModel,
  view: TimeView,
  pick: (phase: PhaseRow) => void,
  signal: AbortSignal,
): HTMLElement {
  const { flight, units, columns } = model;
  const altitude = shownUnit('altitude', units).symbol;
  const rows = flight.phases.map((phase) => {
    const style = phaseStyles[phase.kind];
    const height =
      phase.heightChangeM === undefined ? '-' : formatSigned(inShownUnit(phase.heightChangeM, 'altitude', units), 0);
    const cell = (text: string): HTMLTableCellElement => element('td', { text, class: 'figure' });
    return element(
      'tr',
      {},
      element(
        'th',
        { attributes: { scope: 'row' } },
        element('button', {
          class: 'link-button',
          text: style.name,
          attributes: { type: 'button', title: `Show ${style.name.toLowerCase()} in every chart` },
          on: { click: () => pick(phase) },
        }),
      ),
      cell(formatClock(phase.startS)),
      cell(formatDuration(phase.endS - phase.startS)),
      cell(height),
      cell(phase.distanceM === undefined ? '-' : formatValue(phase.distanceM, 'route-distance', units)),
    );
  });
  view.cursor.onChange((t) => {
    rows.forEach((row, index) => {
      const phase = flight.phases[index];
      const at = t === undefined ? Number.NaN : columns.startS + t;
      row.classList.toggle('at-cursor', phase.startS <= at && at < phase.endS);
    });
  }, signal);
  const head = ['Phase', 'Start, UTC', 'Duration', `Height, ${altitude}`, 'Distance'];
  const table = element(
    'table',
    {},
    element('caption', { class: 'visually-hidden', text: 'Phases of the flight' }),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        ...head.map((text, index) =>
          element('th', { text, class: index > 0 ? 'figure' : undefined, attributes: { scope: 'col' } }),
        ),
      ),
    ),
    element('tbody', {}, ...rows),
  );
  return element(
    'section',
    { attributes: { 'aria-labelledby': 'phases-title' } },
    element('header', {}, element('h2', { text: 'Phases', attributes: { id: 'phases-title' } })),
    rows.length === 0
      ? element('p', {
          class: 'note',
          text: model.pending ? 'Finding the phases ...' : 'No phase of flight could be told from this recording.',
        })
      : element(
          'div',
          {
            class: 'table-scroll short',
            attributes: { tabindex: '0', role: 'group', 'aria-labelledby': 'phases-title' },
          },
          table,
        ),
  );
}
