import { formatFixed } from '../../../shared/format.ts';

/** Level at which a question is tested, and its p after allowing for the others of its family. */
export interface Level {
  readonly alpha: number;
  readonly pAdjusted: number;
}

/**
 * Holm's step-down for one family of questions, with the level at which each was tested: the interval at `1 - alpha` then leaves zero out exactly when the
 * question is answered. A family of one is tested at the plain level.
 */
export function holmLevels(pValues: readonly number[], alpha = 0.05): Level[] {
  const order = pValues.map((_, i) => i).sort((a, b) => pValues[a] - pValues[b]);
  const levels: Level[] = pValues.map(() => ({ alpha, pAdjusted: Number.NaN }));
  let adjusted = 0;
  let stoppedAt: number | undefined;
  order.forEach((question, rank) => {
    const left = order.length - rank;
    adjusted = Math.max(adjusted, Math.min(1, left * pValues[question]));
    const own = alpha / left;
    if (stoppedAt === undefined && !(pValues[question] < own)) stoppedAt = own;
    levels[question] = { alpha: stoppedAt ?? own, pAdjusted: adjusted };
  });
  return levels;
}

/** "95 %" or, where several questions share the level, "99 %". */
export function confidenceText(alpha: number): string {
  const percent = 100 * (1 - alpha);
  return `${formatFixed(percent, percent >= 99 || Math.abs(percent - Math.round(percent)) > 0.05 ? 1 : 0)} %`;
}
