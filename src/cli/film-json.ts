import { formatTime } from '../../shared/format.ts';
import type { Analysis, EventOverride } from '../engine/analysis.ts';
import { type FilmEvent, filmEvents } from '../engine/view/index.ts';

type Json = Record<string, unknown>;

/** Names of events in the JSON: those of a spec's corrections, and the heights. */
const words: Readonly<Record<EventOverride['event'] | 'screen', string>> = {
  'roll-start': 'roll-start',
  liftoff: 'lift-off',
  screen: 'screen',
  touchdown: 'touchdown',
  stop: 'stop',
};

/** Milliseconds are more than any film shows. */
function seconds(value: number): number {
  return Math.round(value * 1000) / 1000;
}

function eventJson({ kind, number, heightM, timeS, origin, moment }: FilmEvent): Json {
  return {
    event: words[kind],
    number,
    ...(heightM === undefined ? {} : { heightM: Number(heightM.toPrecision(9)) }),
    time: formatTime(timeS),
    atS: seconds(moment.atS),
    fromS: seconds(moment.fromS),
    toS: seconds(moment.toS),
    ...(moment.name === undefined ? {} : { film: moment.name }),
    by: origin === 'pilot' ? 'pilot' : 'engine',
  };
}

/** When a film begins and where in it its events are to be looked for; `undefined` for a recording that is no film. */
export function filmJson(analysis: Analysis | undefined): Json | undefined {
  const films = analysis?.recording.films;
  if (analysis === undefined || films === undefined) return undefined;
  const files = films.flatMap(({ name, startS }) =>
    name === undefined ? [] : [{ file: name, start: formatTime(startS) }],
  );
  return {
    start: formatTime(films[0].startS),
    ...(files.length === 0 ? {} : { files }),
    events: filmEvents(analysis).map(eventJson),
  };
}
