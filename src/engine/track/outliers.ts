import { median } from '../stats/sample.ts';

/** A path in one or two dimensions over time; `y` is absent for a height or a speed. Rows with a `NaN` are skipped. */
export interface Path {
  readonly timeS: Float64Array;
  readonly x: Float64Array;
  readonly y?: Float64Array;
}

export interface PathLimits {
  /** Fastest believable change, units a second. */
  readonly rate: number;
  /** Fastest believable change of that, units a second squared. */
  readonly bend: number;
  /** Allowance for noise: a point this far from the line between its neighbours is never an outlier. */
  readonly slack: number;
}

/** A run of rejected rows may not be longer than this share of what stands on both sides; longer is a jump, and stays. */
const jumpPenaltyRows = 30;

/**
 * Rows that cannot belong to the path: runs that can only be reached and left faster than `rate`, and single points
 * farther from the line between their neighbours than `bend` allows. A lasting jump (clock set, several days in one
 * file) is not an outlier; its place is returned in `jumps` (the row after the jump).
 */
export function findOutliers(path: Path, limits: PathLimits): { outliers: number[]; jumps: number[] } {
  const y = path.y;
  let rows: number[] = [];
  for (let row = 0; row < path.timeS.length; row += 1) {
    if (Number.isFinite(path.x[row]) && (y === undefined || Number.isFinite(y[row]))) rows.push(row);
  }
  const away = (a: number, b: number): number => {
    const dx = path.x[a] - path.x[b];
    return y === undefined ? Math.abs(dx) : Math.hypot(dx, y[a] - y[b]);
  };
  const reachable = (a: number, b: number): boolean =>
    away(a, b) <= limits.rate * Math.abs(path.timeS[b] - path.timeS[a]) + limits.slack;

  const { kept, rejected, jumps } = keepReachable(rows, reachable);
  rows = kept;
  const outliers = [...rejected];
  const afterJump = new Set(jumps);
  // Points off the line between their neighbours, worst first among adjacent ones; a few passes for pairs of them.
  for (let pass = 0; pass < 4; pass += 1) {
    const residual = rows.map((row, index) =>
      index === 0 || index === rows.length - 1 || afterJump.has(row) || afterJump.has(rows[index + 1])
        ? 0
        : offLine(path, rows[index - 1], row, rows[index + 1]),
    );
    const usual = median(residual.filter((value) => value > 0)) || 0;
    const bad = new Set<number>();
    for (let index = 1; index + 1 < rows.length; index += 1) {
      const here = residual[index];
      if (here < residual[index - 1] || here < residual[index + 1]) continue;
      const left = path.timeS[rows[index]] - path.timeS[rows[index - 1]];
      const right = path.timeS[rows[index + 1]] - path.timeS[rows[index]];
      const allowed = 0.5 * limits.bend * left * right + Math.max(limits.slack, 10 * usual);
      if (here > allowed && !bad.has(index - 1)) bad.add(index);
    }
    if (bad.size === 0) break;
    for (const index of bad) outliers.push(rows[index]);
    rows = rows.filter((_, index) => !bad.has(index));
  }
  return { outliers: outliers.sort((a, b) => a - b), jumps };
}

function offLine(path: Path, before: number, row: number, after: number): number {
  const t0 = path.timeS[before];
  const share = (path.timeS[row] - t0) / (path.timeS[after] - t0);
  const dx = path.x[row] - (path.x[before] + share * (path.x[after] - path.x[before]));
  if (path.y === undefined) return Math.abs(dx);
  const dy = path.y[row] - (path.y[before] + share * (path.y[after] - path.y[before]));
  return Math.hypot(dx, dy);
}

/** The chain of mutually reachable runs that keeps the most rows; passing a lasting jump costs `jumpPenaltyRows`. */
function keepReachable(
  rows: readonly number[],
  reachable: (a: number, b: number) => boolean,
): { kept: number[]; rejected: number[]; jumps: number[] } {
  const starts = [0];
  for (let index = 1; index < rows.length; index += 1) {
    if (!reachable(rows[index - 1], rows[index])) starts.push(index);
  }
  if (starts.length === 1) return { kept: [...rows], rejected: [], jumps: [] };
  const runs = starts.map((from, index) => ({ from, to: starts[index + 1] ?? rows.length }));
  const best: number[] = [];
  const previous: number[] = [];
  for (const [index, run] of runs.entries()) {
    const length = run.to - run.from;
    let score = length - (index === 0 ? 0 : Math.min(jumpPenaltyRows, run.from));
    let from = -1;
    for (let earlier = index - 1; earlier >= Math.max(0, index - 60); earlier -= 1) {
      const end = rows[(runs[earlier] as { to: number }).to - 1];
      const penalty = reachable(end, rows[run.from]) ? 0 : jumpPenaltyRows;
      const candidate = best[earlier] + length - penalty;
      if (candidate > score) {
        score = candidate;
        from = earlier;
      }
    }
    best.push(score);
    previous.push(from);
  }
  let last = 0;
  for (const [index, score] of best.entries()) if (score >= best[last]) last = index;
  const chosen = new Set<number>();
  for (let index = last; index >= 0; index = previous[index]) chosen.add(index);
  const kept: number[] = [];
  const rejected: number[] = [];
  const jumps: number[] = [];
  for (const [index, run] of runs.entries()) {
    const part = rows.slice(run.from, run.to);
    if (chosen.has(index)) {
      const end = kept[kept.length - 1];
      if (end !== undefined && !reachable(end, part[0])) jumps.push(part[0]);
      kept.push(...part);
    } else rejected.push(...part);
  }
  return { kept, rejected, jumps };
}
