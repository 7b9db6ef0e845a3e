import type { RecordingSummary } from '../../../shared/analysis.ts';
import type { Motion } from './motion.ts';
import type { Track } from './track.ts';

/** What a recording is, before anything is looked for in it. Its times are `NaN` when it has no rows. */
export function summaryOf(track: Track, motion: Motion): RecordingSummary {
  const { timeS } = track;
  return {
    ...recordedSpan(track),
    samples: timeS.length,
    rateHz: motion.rateHz,
    gaps: motion.gaps,
    altitudeKinds: track.altitudes.map((column) => column.kind),
    speedSource: motion.speedSource,
    ...(track.parts === undefined ? {} : { parts: track.parts }),
  };
}

/** When a recording begins and ends (Unix times), and when the first pictures were taken where it is a film or has one. */
export function recordedSpan(track: Track): Pick<RecordingSummary, 'startS' | 'endS' | 'films'> {
  const { timeS, videoStartS } = track;
  const films = track.films ?? (videoStartS === undefined ? undefined : [{ startS: videoStartS }]);
  return {
    startS: timeS[0] ?? Number.NaN,
    endS: timeS[timeS.length - 1] ?? Number.NaN,
    ...(films === undefined ? {} : { films }),
  };
}
