import type { Analysis, AnalysisOptions } from '../../shared/analysis.ts';
import { findEvents } from './events/find-events.ts';
import { unusedOverrides } from './events/unused-overrides.ts';
import { withholdLiftoff, withholdTouchdown } from './events/withhold.ts';
import { findClimbs, findLevelRuns, findWinds, withAirspeeds } from './metrics/index.ts';
import { detectPhases } from './phases/detect-phases.ts';
import { type DerivedMotion, deriveMotion } from './track/derive-motion.ts';
import { summaryOf } from './track/summary.ts';
import type { Track } from './track/track.ts';

/**
 * All that one recording tells: events with their uncertainty, phases, climbs, level runs, winds. Pure; a two-hour 1 Hz
 * recording takes well under a second. What cannot be told is absent, with a remark or a problem that says why.
 *
 * @param derived the motion of this track, where it has been worked out before
 * @throws only the reason of an aborted `signal`
 */
export function analyse(track: Track, options: AnalysisOptions = {}, derived?: DerivedMotion): Analysis {
  options.signal?.throwIfAborted();
  const { motion, problems } = derived ?? deriveMotion(track);
  options.signal?.throwIfAborted();
  const events = findEvents(motion, options);
  options.signal?.throwIfAborted();
  const phases = detectPhases(motion, events);
  const levelRuns = findLevelRuns(motion, track, phases);
  const { winds, problems: windProblems } = findWinds(motion, track, phases, levelRuns);
  const climbs = findClimbs(motion, track, phases, {
    ...(options.bandHeightM === undefined ? {} : { bandHeightM: options.bandHeightM }),
    winds,
  });
  const takeoffs = events.takeoffs.map((takeoff) => withholdLiftoff(motion, takeoff));
  const landings = events.landings.map((landing) => withholdTouchdown(motion, landing));
  return {
    recording: summaryOf(track, motion),
    phases,
    takeoffs,
    landings,
    climbs,
    levelRuns: withAirspeeds(levelRuns, winds),
    winds,
    problems: [...problems, ...events.problems, ...windProblems, ...unusedOverrides(options.overrides ?? [], takeoffs, landings)],
  };
}
