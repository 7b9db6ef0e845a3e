import { type FilmPart, filmOf, meantFilm } from '../../../shared/film-time.ts';
import { formatClock } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { EventOverride } from '../analysis.ts';
import type { RecordedSpan } from '../event-file/index.ts';
import type { FlightEntry } from '../spec/index.ts';

const dayS = 86_400;
/** A time of day may lie this far outside the recording, for a recorder that was switched on late. */
const slackS = 120;

export interface ResolvedOverrides {
  readonly overrides: readonly EventOverride[];
  readonly problems: readonly Problem[];
}

/** Corrections of a spec as instants, now that the date of the recording is known. */
export function resolveOverrides(entry: FlightEntry, span: RecordedSpan, file: string): ResolvedOverrides {
  const overrides: EventOverride[] = [];
  const problems: Problem[] = [];
  for (const { event, number, time, sigmaS, why } of entry.corrections ?? []) {
    let timeS: number | undefined;
    let film: FilmPart | undefined;
    const intoFilmS = time.of === 'film' ? time.offsetS : undefined;
    let trouble = `is outside the recording, ${formatClock(span.startS)} to ${formatClock(span.endS)} UTC`;
    if (time.of === 'utc') timeS = time.timeS;
    else if (time.of === 'day') {
      const firstMidnightS = Math.floor(span.startS / dayS) * dayS;
      timeS = [-1, 0, 1, 2]
        .map((day) => firstMidnightS + day * dayS + time.secondOfDay)
        .find((candidate) => candidate >= span.startS - slackS && candidate <= span.endS + slackS);
    } else {
      const meant = meantFilm(span.films, {
        intoS: time.offsetS,
        ...(time.film === undefined ? {} : { name: time.film }),
      });
      if (typeof meant === 'string') trouble = `is not clear. ${meant}`;
      else {
        film = meant;
        timeS = meant.startS + time.offsetS;
      }
    }
    if (timeS === undefined || timeS < span.startS - slackS || timeS > span.endS + slackS) {
      problems.push({
        code: 'correction-outside',
        severity: 'error',
        message: `The corrected ${event} ${number} of ${file} ${trouble}. The correction is not used.`,
        at: entry.at,
      });
      continue;
    }
    overrides.push({
      event,
      number,
      timeS,
      ...(sigmaS === undefined ? {} : { sigmaS }),
      ...(why === undefined ? {} : { why }),
      ...(intoFilmS === undefined ? {} : { intoFilmS }),
      ...filmOf(film),
    });
  }
  return { overrides, problems };
}

/** The spec's corrections, and those of the event file for events that the spec does not mention. */
export function joinOverrides(
  spec: readonly EventOverride[],
  file: readonly EventOverride[],
): readonly EventOverride[] {
  const mentioned = new Set(spec.map((override) => `${override.event} ${override.number}`));
  return [...spec, ...file.filter((override) => !mentioned.has(`${override.event} ${override.number}`))];
}
