export { climbRateBetween } from './climb-rate.ts';
export { type ClimbOptions, findClimbs } from './find-climbs.ts';
export { findLevelRuns, type LevelRunOptions } from './level-runs.ts';
export { withAirspeeds } from './run-airspeeds.ts';
export { estimateWinds, findWinds, type WindsFound } from './wind-estimates.ts';
export { fuelByPhase, type FuelUse, fuelUsedBetween } from './fuel-flow.ts';
export {
  altitudeHeldTo,
  fitRateLine,
  type HeldTo,
  type RateLine,
  rateOnLine,
  type RatePoint,
  timeToClimbS,
} from './climb-held-to.ts';
