export * from './envelope.ts';
export * from './equipment-change.ts';
export * from './loaded-cases.ts';
export * from './mass-point.ts';
export * from './weighing.ts';
