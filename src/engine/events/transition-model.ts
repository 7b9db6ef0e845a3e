import {
  type Effect,
  type FirstPull,
  laterKnots,
  liftoffPriors,
  type Manner,
  pullEffect,
  sharedEffects,
  stepEffect,
} from './flight-path.ts';
import {
  dot,
  logEvidence,
  type NormalEquations,
  type Prior,
  type Solution,
  solve,
  Whitener,
} from './linear-gaussian.ts';
import { PathGrid } from './path-grid.ts';
import { heightCovariance, speedCovariance } from './transition-noise.ts';

/**
 * When do the wheels leave the ground? One joint model of speed and height around the lift-off of one take-off, solved as
 * a posterior over the lift-off time on a grid. (A landing is the same backwards in time.)
 *
 * Rolling, the aeroplane accelerates by a smooth function A(V) of its speed (thrust falls and drag rises with speed).
 * Flying, what goes into climbing is missing from the acceleration: `dV/dt = A(V) + d - g w / V`, `dh/dt = w` (energy over
 * the ground; w is the vertical speed relative to the runway's slope). w begins at zero at lift-off and is made by pulls
 * of the pilot ({@link liftoffEffects}); d comes from rotation (induced drag) and the freed wheels. So both the bend in the
 * height and the drop in acceleration date the lift-off, and they must agree.
 *
 * Given the instant and the manner of lift-off everything is linear: start speed, A as a quadratic in V, d, the pulls, the
 * height at the start, the slope of the runway, the lag of heights behind speeds. These are integrated out with priors.
 * Noise: white, rounding, a slow Gauss-Markov wander of heights, and gusts as random accelerations with memory.
 */
export interface HeightSeries {
  readonly timeS: Float64Array;
  readonly valuesM: Float64Array;
  readonly whiteM: number;
  /** Gauss-Markov wanders: standard deviation and correlation time of each. */
  readonly wander: readonly { readonly sigmaM: number; readonly timeS: number }[];
  /** How much later than {@link usualVerticalLagS} it shows. */
  readonly lagS: Prior;
  /** One sigma of an error growing with the square of speed (static pressure), metres at lift-off speed; 0 for none. */
  readonly speedErrorM: number;
}

export interface VerticalSeries {
  readonly timeS: Float64Array;
  readonly valuesMps: Float64Array;
  readonly whiteMps: number;
  /** Gauss-Markov wanders: turbulence that no pull explains, and what the receiver's filter leaves. */
  readonly wander: readonly { readonly sigmaM: number; readonly timeS: number }[];
  readonly lagS: Prior;
}

export interface TransitionData {
  /** Speeds: the mean from `speedFromS` to `speedToS` (equal for an instantaneous reading). */
  readonly speedFromS: Float64Array;
  readonly speedToS: Float64Array;
  readonly speedMps: Float64Array;
  readonly speedWhiteMps: number;
  /** For speeds from differences of positions: noise of each position; else 0. */
  readonly positionWhiteM: number;
  readonly heights: readonly HeightSeries[];
  readonly verticals?: VerticalSeries;
  /** A smooth speed for the small terms, at any time of the window, m/s. */
  speedAt(timeS: number): number;
  /** A rough vertical speed for the lag terms, m/s. */
  verticalAt(timeS: number): number;
  /** Nodes of the lift-off time. */
  readonly earliestS: number;
  readonly latestS: number;
  readonly stepS: number;
  /** Runway slope in the direction of motion, as a tangent. */
  readonly slope: Prior;
  /** Typical size of random accelerations, m/s2: candidates, the likeliest is used. */
  readonly gustMps2: readonly number[];
  /** Prior of the step of acceleration at the change, m/s2. */
  readonly step: Prior;
  /** Ways in which the change may come about. */
  readonly manners: readonly Manner[];
  /** Vertical speed with which it happens: that of touching down, nothing at lift-off, m/s. */
  readonly sinkMps: Prior;
  /** The first pull after lift-off, m/s2. */
  readonly firstPulls: readonly FirstPull[];
  /** Prior on the curvature of A(V) over the speed range, m/s2. */
  readonly curvatureMps2: number;
  /** Prior of the lift-off ground speed, if known. */
  readonly liftoffSpeedMps?: Prior;
  /** -1 when time runs backwards (a landing): filters of the recorder then look the other way. */
  readonly direction: 1 | -1;
}

/** One point of the grid with its share of the probability and the path it implies. */
export interface TransitionNode {
  readonly timeS: number;
  readonly weight: number;
  readonly manner: Manner;
  readonly solution: Solution;
}

export interface TransitionPosterior {
  readonly timesS: Float64Array;
  /** Probability of each time, sums to 1. */
  readonly probability: Float64Array;
  readonly meanS: number;
  readonly sigmaS: number;
  /** The nodes that carry nearly all of the probability. */
  readonly nodes: readonly TransitionNode[];
  /** Whitened residuals: 1 when the model fits as well as its noise says. */
  readonly reducedChiSquare: number;
  readonly gustMps2: number;
  /** End of the readings used. */
  readonly windowEndS: number;
  /** Height gained above lift-off by the path of a node, at times on the window, with its sigma. */
  gained(node: TransitionNode, timesS: readonly number[]): { readonly heightM: number; readonly sigmaM: number }[];
}

/**
 * Receivers filter. Usual time constants, seconds (own choice: speeds and positions are 0.1 to 0.5 s late in common
 * receivers, heights and vertical speeds 0.2 to 1 s). All instants of the model are true times under these lags.
 */
export const usualSpeedLagS = 0.3;
export const usualVerticalLagS = 0.45;

/** Answers `undefined` when there are too few readings to tell anything. */
export function estimateTransition(data: TransitionData): TransitionPosterior | undefined {
  return new TransitionEstimator(data).run();
}

interface Found {
  readonly index: number;
  readonly manner: Manner;
  readonly logWeight: number;
  readonly normal: NormalEquations;
  readonly priors: readonly Prior[];
}

/** Readings of one kind: they share a noise that is independent of the other kinds. */
interface Block {
  readonly kind: 'speed' | 'height' | 'vertical';
  readonly from: number;
  readonly timeS: Float64Array;
  readonly whitener: Whitener;
}

class TransitionEstimator {
  private readonly data: TransitionData;
  private readonly grid: PathGrid;
  private readonly size: number;
  private readonly values: Float64Array;
  private readonly priors: Prior[] = [];
  private readonly fixed: Float64Array[] = [];
  private slopeIndex = -1;
  private readonly windowEndS: number;
  private readonly knotsS: readonly number[];

  constructor(data: TransitionData) {
    this.data = data;
    const all = [
      data.speedFromS,
      data.speedToS,
      ...data.heights.map((series) => series.timeS),
      Float64Array.of(data.earliestS, data.latestS),
    ];
    if (data.verticals !== undefined) all.push(data.verticals.timeS);
    let first = Number.POSITIVE_INFINITY;
    let last = Number.NEGATIVE_INFINITY;
    for (const times of all) {
      for (const time of times) {
        first = Math.min(first, time);
        last = Math.max(last, time);
      }
    }
    this.windowEndS = last;
    this.knotsS = laterKnots(last - data.earliestS);
    this.grid = new PathGrid(first - 1, last + 1, (time) => data.speedAt(time + data.direction * usualSpeedLagS));
    const parts = [data.speedMps, ...data.heights.map((series) => series.valuesM)];
    if (data.verticals !== undefined) parts.push(data.verticals.valuesMps);
    this.size = parts.reduce((sum, part) => sum + part.length, 0);
    this.values = new Float64Array(this.size);
    let at = 0;
    for (const part of parts) {
      this.values.set(part, at);
      at += part.length;
    }
    this.layFixedColumns();
  }

  run(): TransitionPosterior | undefined {
    const { data } = this;
    if (this.size < 6 || !(data.latestS >= data.earliestS)) return undefined;
    // First roughly, to choose the gustiness that this take-off shows and to see where the probability lies; then finely.
    const coarse = timeGrid(
      data.earliestS,
      data.latestS,
      Math.max(3 * data.stepS, (data.latestS - data.earliestS) / 40),
    );
    let best: { gust: number; evidence: number; found: Found[] } | undefined;
    for (const gust of data.gustMps2) {
      const found = this.scan(coarse, gust, data.manners.slice(0, 2));
      const evidence = logSum(found.map((node) => node.logWeight)) + gustLogPrior(gust);
      if (Number.isFinite(evidence) && (best === undefined || evidence > best.evidence))
        best = { gust, evidence, found };
    }
    if (best === undefined) return undefined;
    const times = timeGrid(...this.likelyRange(coarse, best.found), data.stepS);
    return this.posterior(times, this.scan(times, best.gust, data.manners), best.gust);
  }

  /** The part of the coarse grid that holds all but a few millionths of the probability, one node wider on each side. */
  private likelyRange(times: Float64Array, found: readonly Found[]): [number, number] {
    const most = found.reduce((top, node) => Math.max(top, node.logWeight), Number.NEGATIVE_INFINITY);
    let low = times.length - 1;
    let high = 0;
    for (const node of found) {
      if (node.logWeight < most - 14) continue;
      low = Math.min(low, node.index);
      high = Math.max(high, node.index);
    }
    return [times[Math.max(0, low - 1)], times[Math.min(times.length - 1, high + 1)]];
  }

  private posterior(times: Float64Array, found: readonly Found[], gustMps2: number): TransitionPosterior {
    const total = logSum(found.map((node) => node.logWeight));
    const probability = new Float64Array(times.length);
    const nodes: TransitionNode[] = [];
    let square = 0;
    let counted = 0;
    for (const { index, manner, logWeight, normal, priors } of found) {
      const weight = Math.exp(logWeight - total);
      probability[index] += weight;
      if (weight < 3e-4) continue;
      const solution = solve(normal, priors);
      if (solution === undefined) continue;
      square += weight * solution.chiSquare;
      counted += weight;
      nodes.push({ timeS: times[index], weight, manner, solution });
    }
    let meanS = times[0];
    for (const [index, time] of times.entries()) meanS += probability[index] * (time - times[0]);
    let variance = this.data.stepS ** 2 / 12;
    for (const [index, time] of times.entries()) variance += probability[index] * (time - meanS) ** 2;
    return {
      timesS: times,
      probability,
      meanS,
      sigmaS: Math.sqrt(variance),
      nodes,
      reducedChiSquare: square / counted / this.size,
      gustMps2,
      windowEndS: this.windowEndS,
      gained: (node, timesS) => this.gained(node, timesS),
    };
  }

  private layFixedColumns(): void {
    const { data, grid } = this;
    const middle = data.speedAt((data.earliestS + data.latestS) / 2);
    // A(V) over the speed range of the window, in units of a third of the speed near lift-off.
    const relative = grid.speedMps.map((speed) => (speed - 0.65 * middle) / (0.35 * middle));
    const one = new Float64Array(grid.length).fill(1);
    const add = (prior: Prior, column: Float64Array): void => {
      this.priors.push(prior);
      this.fixed.push(column);
    };
    add({ mean: data.speedMps[0] ?? 10, sigma: 30 }, this.observed(one, undefined));
    add({ mean: 1, sigma: 3 }, this.observed(grid.cumulative(one), undefined));
    add({ mean: 0, sigma: 0.8 }, this.observed(grid.cumulative(relative), undefined));
    add(
      { mean: 0, sigma: data.curvatureMps2 },
      this.observed(grid.cumulative(relative.map((y) => y * y - 0.33)), undefined),
    );
    // The slope's pull on the acceleration is part of A; here it moves heights only.
    this.slopeIndex = this.fixed.length;
    add(data.slope, this.observed(undefined, grid.speedMps));
    let at = data.speedMps.length;
    for (const series of data.heights) {
      const base = new Float64Array(this.size);
      const lag = new Float64Array(this.size);
      const square = new Float64Array(this.size);
      for (const [row, time] of series.timeS.entries()) {
        base[at + row] = 1;
        lag[at + row] = -data.verticalAt(time);
        square[at + row] = (data.speedAt(time) / middle) ** 2;
      }
      add({ mean: series.valuesM[0] ?? 0, sigma: 300 }, base);
      add(series.lagS, lag);
      if (series.speedErrorM > 0) add({ mean: 0, sigma: series.speedErrorM }, square);
      at += series.timeS.length;
    }
    if (data.verticals !== undefined) {
      const lag = new Float64Array(this.size);
      for (const [row, time] of data.verticals.timeS.entries()) {
        lag[at + row] = -(data.verticalAt(time + 0.5) - data.verticalAt(time - 0.5));
      }
      add(data.verticals.lagS, lag);
    }
  }

  /** Column of all readings from an effect on the speed and one on the vertical speed, both on the grid. */
  private observed(speed: Float64Array | undefined, vertical: Float64Array | undefined): Float64Array {
    const { data, grid } = this;
    const column = new Float64Array(this.size);
    if (speed !== undefined) {
      const filteredSpeed = grid.lagged(speed, usualSpeedLagS, data.direction);
      const path = data.positionWhiteM > 0 ? grid.cumulative(filteredSpeed) : undefined;
      for (let row = 0; row < data.speedMps.length; row += 1) {
        const from = data.speedFromS[row];
        const to = data.speedToS[row];
        if (path === undefined || to <= from) column[row] = grid.at(filteredSpeed, from);
        else column[row] = (grid.at(path, to) - grid.at(path, from)) / (to - from);
      }
    }
    if (vertical !== undefined) {
      const filtered = grid.lagged(vertical, usualVerticalLagS, data.direction);
      const height = grid.cumulative(filtered);
      let at = data.speedMps.length;
      for (const series of data.heights) {
        for (let row = 0; row < series.timeS.length; row += 1) column[at + row] = grid.at(height, series.timeS[row]);
        at += series.timeS.length;
      }
      const times = data.verticals?.timeS ?? [];
      for (let row = 0; row < times.length; row += 1) column[at + row] = grid.at(filtered, times[row]);
    }
    return column;
  }

  private observedEffect(effect: Effect): Float64Array {
    const speed = effect.acceleration === undefined ? undefined : this.grid.cumulative(effect.acceleration);
    return this.observed(speed, effect.vertical);
  }

  private blocks(gustMps2: number): Block[] {
    const { data, grid } = this;
    const speeds = data.speedMps.length;
    const blocks: Block[] = [];
    if (speeds > 0) {
      const whitener = new Whitener(speedCovariance(data, grid.startS, gustMps2), speeds);
      blocks.push({ kind: 'speed', from: 0, timeS: data.speedFromS, whitener });
    }
    let from = speeds;
    for (const series of data.heights) {
      const whitener = new Whitener(heightCovariance(series), series.timeS.length);
      blocks.push({ kind: 'height', from, timeS: series.timeS, whitener });
      from += series.timeS.length;
    }
    if (data.verticals !== undefined) {
      const whitener = new Whitener(
        heightCovariance({ ...data.verticals, whiteM: data.verticals.whiteMps }),
        data.verticals.timeS.length,
      );
      blocks.push({ kind: 'vertical', from, timeS: data.verticals.timeS, whitener });
    }
    return blocks;
  }

  private scan(times: Float64Array, gustMps2: number, tried: readonly Manner[]): Found[] {
    const { data, grid } = this;
    const blocks = this.blocks(gustMps2);
    const logDeterminant = blocks.reduce((sum, block) => sum + block.whitener.logDeterminant, 0);
    const fixed = this.fixed.map((column) => whiten(blocks, column.slice()));
    const values = whiten(blocks, this.values.slice());
    const square = dot(values, values);
    const onsets = [...new Set(tried.map((manner) => manner.onsetS))];
    const found: Found[] = [];
    const base = normalOf(fixed, values);
    for (const [index, time] of times.entries()) {
      let logPlace = -0.5 * logDeterminant;
      if (data.liftoffSpeedMps !== undefined) {
        logPlace -= 0.5 * ((data.speedAt(time) - data.liftoffSpeedMps.mean) / data.liftoffSpeedMps.sigma) ** 2;
      }
      const column = (effect: Effect): Float64Array => whiten(blocks, this.observedEffect(effect));
      const shared = sharedEffects(grid, time, this.knotsS).map(column);
      const steps = tried.map((manner) => column(stepEffect(grid, time, manner)));
      const firsts = onsets.map((onsetS) => column(pullEffect(grid, time, onsetS)));
      // Inner products of everything that may be needed; each manner picks its own step and first pull.
      const all = bordered(base, fixed, [...shared, ...steps, ...firsts], values);
      const common = fixed.length + shared.length;
      for (const [place, manner] of tried.entries()) {
        const picked = [common + place, common + tried.length + onsets.indexOf(manner.onsetS)];
        const normal = pickedNormal(all, common, picked, square);
        for (const pull of data.firstPulls) {
          const priors = [...this.priors, ...liftoffPriors(data.step, data.sinkMps, pull, this.knotsS)];
          const logWeight = logPlace + Math.log(manner.weight * pull.weight) + logEvidence(normal, priors);
          if (Number.isFinite(logWeight)) found.push({ index, manner, logWeight, normal, priors });
        }
      }
    }
    return found;
  }

  private gained(node: TransitionNode, timesS: readonly number[]): { heightM: number; sigmaM: number }[] {
    const { grid, slopeIndex } = this;
    const shared = this.fixed.length;
    const paths: [number, Float64Array][] = [[slopeIndex, grid.cumulative(grid.speedMps)]];
    const effects = [
      ...sharedEffects(grid, node.timeS, this.knotsS),
      stepEffect(grid, node.timeS, node.manner),
      pullEffect(grid, node.timeS, node.manner.onsetS),
    ];
    for (const [index, effect] of effects.entries()) {
      if (effect.vertical !== undefined) paths.push([shared + index, grid.cumulative(effect.vertical)]);
    }
    const { mean, covariance } = node.solution;
    return timesS.map((timeS) => {
      const parts = paths.map(([a, path]): [number, number] => [a, grid.at(path, timeS) - grid.at(path, node.timeS)]);
      let heightM = 0;
      let variance = 0;
      for (const [a, x] of parts) {
        heightM += x * mean[a];
        for (const [b, y] of parts) variance += x * y * covariance[a * mean.length + b];
      }
      return { heightM, sigmaM: Math.sqrt(Math.max(0, variance)) };
    });
  }
}

function whiten(blocks: readonly Block[], column: Float64Array): Float64Array {
  for (const block of blocks) {
    const part = column.subarray(block.from, block.from + block.timeS.length);
    block.whitener.whiten(part);
  }
  return column;
}

/** Inner products of columns with each other and with the values. */
interface Products {
  readonly size: number;
  readonly gram: Float64Array;
  readonly right: Float64Array;
}

function normalOf(columns: readonly Float64Array[], values: Float64Array): Products {
  const none = { size: 0, gram: new Float64Array(0), right: new Float64Array(0) };
  return bordered(none, [], columns, values);
}

/** Products of `before` (already known) with more columns added after them. */
function bordered(
  known: Products,
  before: readonly Float64Array[],
  more: readonly Float64Array[],
  values: Float64Array,
): Products {
  const size = known.size + more.length;
  const gram = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let a = 0; a < known.size; a += 1) {
    right[a] = known.right[a];
    for (let b = 0; b < known.size; b += 1) gram[a * size + b] = known.gram[a * known.size + b];
  }
  for (const [k, column] of more.entries()) {
    const a = known.size + k;
    right[a] = dot(column, values);
    for (let b = 0; b <= a; b += 1) {
      const product = dot(column, b < known.size ? before[b] : more[b - known.size]);
      gram[a * size + b] = product;
      gram[b * size + a] = product;
    }
  }
  return { size, gram, right };
}

/** The first `common` columns and the picked ones. */
function pickedNormal(all: Products, common: number, picked: readonly number[], square: number): NormalEquations {
  const rows = [...Array.from({ length: common }, (_, index) => index), ...picked];
  const size = rows.length;
  const gram = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let a = 0; a < size; a += 1) {
    right[a] = all.right[rows[a]];
    for (let b = 0; b < size; b += 1) gram[a * size + b] = all.gram[rows[a] * all.size + rows[b]];
  }
  return { gram, right, square };
}

function timeGrid(from: number, to: number, step: number): Float64Array {
  const count = Math.max(1, Math.round((to - from) / step));
  return Float64Array.from({ length: count + 1 }, (_, index) => from + (index * (to - from)) / count);
}

function logSum(logs: readonly number[]): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const log of logs) if (log > most) most = log;
  if (!Number.isFinite(most)) return most;
  let sum = 0;
  for (const log of logs) sum += Math.exp(log - most);
  return most + Math.log(sum);
}

/** Gusts of 0.1 m/s2 are usual; four times that is as unlikely as two sigmas. */
function gustLogPrior(gust: number): number {
  return -0.5 * Math.log2(gust / 0.1) ** 2;
}
