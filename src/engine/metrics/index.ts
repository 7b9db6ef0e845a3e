export { climbRateBetween } from './climb-rate.ts';
export { type ClimbOptions, findClimbs } from './find-climbs.ts';
export { findLevelRuns, type LevelRunOptions } from './level-runs.ts';
export { withAirspeeds } from './run-airspeeds.ts';
export { estimateWinds } from './wind-estimates.ts';
