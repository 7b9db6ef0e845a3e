export * from './climb-energy.ts';
export * from './climb-gradient.ts';
export * from './climb-power.ts';
export * from './climb-weight.ts';
export type { Correction, CorrectionName, ErrorSource, ModelSource, NotedSource } from './correction.ts';
export { densityFactor } from './density.ts';
export * from './engine-power.ts';
export * from './ground-effect.ts';
export * from './level-speed.ts';
export * from './noted-air.ts';
export * from './planning-factors.ts';
export * from './propagate.ts';
export * from './reduce-distance.ts';
export { groundRollSlopeFactor, unknownSlope } from './runway-slope.ts';
export {
  airDistanceWindAddend,
  groundRollWindFactor,
  groundRollWindFactorSquare,
  takeoffWindExponent,
} from './takeoff-wind.ts';
export * from './uncertain.ts';
export { weightExponents, weightFactor } from './weight.ts';
export type { DistancePart, PropellerKind } from './weight.ts';
export * from './weight-altitude.ts';
export * from './wind-at-wing.ts';
