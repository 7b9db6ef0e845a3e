export * from './fixed-pitch.ts';
export * from './model.ts';
export * from './power.ts';
export * from './propeller.ts';
export * from './spread.ts';
export * from './take-off.ts';
export * from './unknowns.ts';
