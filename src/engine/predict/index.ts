export * from './model.ts';
export * from './power.ts';
export * from './propeller.ts';
export * from './spread.ts';
