export * from './fit-circle.ts';
export * from './three-vectors.ts';
export * from './wind-errors.ts';
export * from './wind-from-legs.ts';
export * from './wind-from-turn.ts';
export * from './wind-triangle.ts';
