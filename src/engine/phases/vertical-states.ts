/**
 * Climbing, level or descending, second by second, without flicker: the sequence that costs least when every row pays for
 * a vertical speed beyond the bounds of its state, and every change of state pays a fixed price (Viterbi). A change is put
 * where the vertical speed crosses the bound; an excursion counts only when it is worth two changes.
 */
export type VerticalState = 'climb' | 'level' | 'descent';

/** 200 ft/min: the usual bound between level flight and climbing or descending (common practice, no source). */
export const levelBoundMps = 1.016;
/** Price of a change: level flight must last about 15 s within a steady climb to count. */
const changeCost = 8;
const states: readonly VerticalState[] = ['climb', 'level', 'descent'];

/** @param verticalMps smoothed over some seconds; a `NaN` costs nothing @param stepS seconds each row stands for */
export function verticalStates(verticalMps: Float64Array, stepS: Float64Array): VerticalState[] {
  const length = verticalMps.length;
  const from = new Uint8Array(length * 3);
  let costs = [0, 0, 0];
  for (let row = 0; row < length; row += 1) {
    const cheapest = Math.min(...costs);
    const best = costs.indexOf(cheapest);
    const next: number[] = [];
    for (let state = 0; state < 3; state += 1) {
      const changed = cheapest + changeCost < costs[state];
      from[row * 3 + state] = changed ? best : state;
      next.push((changed ? cheapest + changeCost : costs[state]) + stepS[row] * excess(verticalMps[row], state) ** 2);
    }
    costs = next;
  }
  const result: VerticalState[] = Array.from({ length }, () => 'level');
  let state = costs.indexOf(Math.min(...costs));
  for (let row = length - 1; row >= 0; row -= 1) {
    result[row] = states[state];
    state = from[row * 3 + state];
  }
  return result;
}

/** How far beyond the bounds of a state a vertical speed lies, m/s, at most 3. */
function excess(verticalMps: number, state: number): number {
  if (Number.isNaN(verticalMps)) return 0;
  let beyond = Math.abs(verticalMps) - levelBoundMps;
  if (state === 0) beyond = levelBoundMps - verticalMps;
  if (state === 2) beyond = levelBoundMps + verticalMps;
  return Math.max(0, Math.min(3, beyond));
}
