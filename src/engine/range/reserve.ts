/**
 * Fuel that must be left on landing, by a named rule. A legal minimum, not a plan; other states have other rules, so the
 * rule is always named in the result and can be given.
 */
export interface ReserveRule {
  readonly id: string;
  readonly title: string;
  readonly timeS: number;
  readonly source: string;
}

/**
 * 14 CFR 91.151(a): flight under visual rules in an aeroplane, to the first point of intended landing and, at normal
 * cruising speed, 30 minutes after that by day, 45 minutes by night. (Text seen quoted on several pages; the identically
 * worded 14 CFR 135.209 was read.) The reserve is burnt at the NORMAL CRUISE flow, not at an economy setting.
 */
export const reserveRules: readonly ReserveRule[] = [
  { id: 'day-30-min', title: '30 minutes by day at normal cruise', timeS: 1800, source: '14 CFR 91.151(a)(1)' },
  { id: 'night-45-min', title: '45 minutes by night at normal cruise', timeS: 2700, source: '14 CFR 91.151(a)(2)' },
];

export function reserveRule(id: string): ReserveRule | undefined {
  return reserveRules.find((rule) => rule.id === id);
}
