/** The closed list of what can be wrong with a spec. What each means stands in `src/engine/problem-codes.md`. */
export const specProblemCodes = [
  'spec-yaml',
  'spec-too-large',
  'spec-duplicate-key',
  'spec-unknown-key',
  'spec-missing-key',
  'spec-wrong-kind',
  'spec-quantity',
  'spec-impossible',
  'spec-improbable',
  'spec-word',
  'spec-number',
  'spec-text',
  'spec-date',
  'spec-time',
  'spec-wind',
  'spec-surface',
  'spec-name',
  'spec-unknown-name',
  'spec-baseline',
  'spec-duplicate-track',
  'spec-version',
  'spec-question',
  'spec-blank',
  'spec-unused',
] as const;

export type ProblemCode = (typeof specProblemCodes)[number];
