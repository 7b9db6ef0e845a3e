export * from './overlap.ts';
export * from './test-card.ts';
