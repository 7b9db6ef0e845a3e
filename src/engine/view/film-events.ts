import type { Analysis, EventOverride } from '../../../shared/analysis.ts';
import { type FilmMoment, filmMoment } from '../../../shared/film-time.ts';
import type { EventMark } from '../../../shared/flight-view.ts';
import { eventMarks } from './flight-view.ts';

/** An event with where to look for it in the film. */
export interface FilmEvent extends EventMark {
  readonly moment: FilmMoment;
}

/** The events of a film in order of time, each with where to look; none for a recording that is no film. */
export function filmEvents(analysis: Analysis, overrides: readonly EventOverride[] = []): FilmEvent[] {
  const { films } = analysis.recording;
  if (films === undefined) return [];
  return eventMarks(analysis, overrides).flatMap((mark) => {
    const moment = filmMoment(films, mark);
    return moment === undefined ? [] : [{ ...mark, moment }];
  });
}
