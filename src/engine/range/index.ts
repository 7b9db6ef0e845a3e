export * from './cost.ts';
export * from './endurance.ts';
export * from './full-to-full.ts';
export * from './payload-range.ts';
export * from './reserve.ts';
