/** Adds scaled shifts of named errors: what one standard deviation of each does in all. */
export function addShifts(
  into: Record<string, number>,
  shifts: Readonly<Record<string, number>>,
  factor: number,
): Record<string, number> {
  for (const [name, shift] of Object.entries(shifts)) {
    const added = (into[name] ?? 0) + factor * shift;
    if (added !== 0 && Number.isFinite(added)) into[name] = added;
  }
  return into;
}
