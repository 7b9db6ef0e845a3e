import { formatClock, formatCount, formatDate, formatDuration, formatFixed, formatList } from '../../shared/format.ts';
import { button } from '../components/toolkit.ts';
import { element } from '../element.ts';
import type { FlightModel } from './flight-model.ts';

const formatNames: Readonly<Record<string, string>> = {
  gpx: 'GPX',
  igc: 'IGC',
  kml: 'KML',
  nmea: 'NMEA 0183',
  csv: 'CSV',
  fit: 'FIT',
  gpmf: 'film with GPMF track',
  camm: 'film with camera motion track',
};

/** What the recording is, in one line, and the ways on from here. */
export function flightHeader(
  model: FlightModel,
  actions: { readonly overlay: () => void; readonly openText: () => void },
): HTMLElement {
  const { flight } = model;
  const { recording, takeoffs, landings } = flight.analysis;
  const facts = [
    formatDate(recording.startS),
    `${formatClock(recording.startS)} to ${formatClock(recording.endS)} UTC`,
    formatDuration(recording.endS - recording.startS),
    `${formatCount(recording.samples, 'fix', 'fixes')} at ${formatFixed(recording.rateHz, recording.rateHz < 2 ? 1 : 0)} Hz`,
    recording.speedSource === 'receiver' ? 'speed by the receiver' : 'speed worked out from positions',
    ...(recording.gaps.length > 0 ? [formatCount(recording.gaps.length, 'gap')] : []),
  ];
  const found = [
    ...(takeoffs.length > 0 ? [formatCount(takeoffs.length, 'take-off')] : []),
    ...(landings.length > 0 ? [formatCount(landings.length, 'landing')] : []),
  ];
  return element(
    'header',
    { class: 'page-header' },
    element(
      'div',
      {},
      element('h1', { text: flight.fileName }),
      element('p', {
        class: 'note',
        text: `${formatNames[flight.format ?? ''] ?? 'Recording'}: ${facts.join(' \u00b7 ')}${found.length > 0 ? ` \u00b7 ${formatList(found)}` : ''}`,
      }),
    ),
    element(
      'div',
      { class: 'actions' },
      button({
        label: 'Overlay...',
        title: 'Lay take-offs of several flights over each other',
        id: 'overlay',
        onClick: actions.overlay,
      }),
      button({ label: 'Open as Text', id: 'open-text', onClick: actions.openText }),
    ),
  );
}
