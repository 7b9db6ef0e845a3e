import type { Spec } from '../spec/types.ts';

/** Baseline against each other configuration first, then all other pairs if they are asked for, in the order of the spec. */
export function pairsOf(
  ids: readonly string[],
  { baseline, questions }: Pick<Spec, 'baseline' | 'questions'>,
): (readonly [string, string])[] {
  const others = ids.filter((id) => id !== baseline);
  const first = others.map((to) => [baseline, to] as const);
  if (questions.pairs === 'against-baseline') return first;
  const rest = others.flatMap((from, i) => others.slice(i + 1).map((to) => [from, to] as const));
  return [...first, ...rest];
}
