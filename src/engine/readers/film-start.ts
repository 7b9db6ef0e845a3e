import { median } from '../stats/sample.ts';
import { fitClockLine } from './clock-line.ts';

/** How a film's own time goes with UTC. */
export interface FilmStart {
  /** Unix time at film time 0; absent when the film does not run in real time. */
  readonly startS?: number;
  /** What a reader must know about it, if anything. */
  readonly remark?: string;
}

/** A film whose time runs otherwise by more than this, and by more than two seconds altogether, is no film in real time. */
const realTimePart = 0.02;
const realTimeS = 2;

/** Times this far from the rest lie behind a pause, or before one. */
const pausedS = 1;
const pausedPart = 0.02;

/**
 * When a film begins, from samples with both times: the median of their difference, which takes out jitter. A film in slow
 * or fast motion has no answer; one that was paused has that of its longest part, and a remark.
 */
export function filmStart(filmS: readonly number[], unixS: readonly number[]): FilmStart {
  if (filmS.length === 0) return {};
  const differences = unixS.map((value, i) => value - filmS[i]);
  const startS = median(differences);
  const spanS = filmS[filmS.length - 1] - filmS[0];
  if (filmS.length >= 3 && spanS > 0) {
    const { slope } = fitClockLine(filmS, unixS).line;
    if (Math.abs(slope - 1) > realTimePart && Math.abs(slope - 1) * spanS > realTimeS) {
      return {
        remark: `The film does not run in real time (a second of it shows ${slope.toFixed(1)} s): no times into it can be given.`,
      };
    }
  }
  const off = differences.filter((difference) => Math.abs(difference - startS) > pausedS).length;
  return off > pausedPart * differences.length
    ? { startS, remark: 'The film was paused, it seems: times into it hold for its longest part only.' }
    : { startS };
}
