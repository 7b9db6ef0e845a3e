import {
  type Effect,
  type FirstPull,
  laterKnots,
  liftoffPriors,
  type Manner,
  pullEffect,
  recoveryEffect,
  sinkEffect,
  stepEffect,
} from './flight-path.ts';
import { dot, logEvidence, type NormalEquations, type Prior, type Solution, solve } from './linear-gaussian.ts';
import { PathGrid } from './path-grid.ts';
import type { RecorderLags } from './recorder-lags.ts';
import { Readings } from './readings.ts';

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
  /** How much later than the usual lag of heights it shows. */
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
  /** As for heights: a vertical speed from pressure shows the change of the static error. */
  readonly speedErrorM: number;
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
  /** First-order lags of the recorder. All instants of the model are true times under these. */
  readonly lags: RecorderLags;
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
  /** When the path of a node is so high above its lift-off; undefined when that is not within the readings used. */
  crossing(node: TransitionNode, heightM: number): { readonly timeS: number; readonly sigmaS: number } | undefined;
}

/** Answers `undefined` when there are too few readings to tell anything. */
export function estimateTransition(data: TransitionData): TransitionPosterior | undefined {
  const found = new TransitionEstimator(data).run();
  if (found === undefined || found.reducedChiSquare < worstFit) return found;
  // The readings contradict the model or each other by more than their noise: believe all of them less.
  return new TransitionEstimator(noisier(data, Math.sqrt(found.reducedChiSquare))).run();
}

/** Mean square of the whitened residuals above which the noise is taken to be larger than it seemed. */
const worstFit = 1.6;

function noisier(data: TransitionData, factor: number): TransitionData {
  const more = (wander: HeightSeries['wander']): HeightSeries['wander'] =>
    wander.map((each) => ({ ...each, sigmaM: factor * each.sigmaM }));
  const { verticals } = data;
  return {
    ...data,
    speedWhiteMps: factor * data.speedWhiteMps,
    positionWhiteM: factor * data.positionWhiteM,
    heights: data.heights.map((series) => ({ ...series, whiteM: factor * series.whiteM, wander: more(series.wander) })),
    ...(verticals === undefined
      ? {}
      : { verticals: { ...verticals, whiteMps: factor * verticals.whiteMps, wander: more(verticals.wander) } }),
  };
}

/** Ranges longer than this are scanned at every other step, seconds. */
const wideS = 4;

interface Found {
  /** Of the lift-off time, from the earliest. */
  readonly step: number;
  readonly manner: Manner;
  readonly logWeight: number;
  readonly normal: NormalEquations;
  readonly priors: readonly Prior[];
}

class TransitionEstimator {
  private readonly data: TransitionData;
  private readonly grid: PathGrid;
  private readonly readings: Readings;
  private readonly priors: Prior[] = [];
  private readonly fixed: Float64Array[] = [];
  private slopeIndex = -1;
  private readonly windowEndS: number;
  private readonly knotsS: readonly number[];
  /** Columns of effects before whitening; instants are counted in steps from the earliest. */
  private readonly columns = new Map<string, Float64Array>();

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
    this.grid = new PathGrid(first - 1, last + 1, (time) => data.speedAt(time + data.direction * data.lags.speedS));
    this.readings = new Readings(data, this.grid);
    this.layFixedColumns();
  }

  run(): TransitionPosterior | undefined {
    const { data } = this;
    if (this.readings.size < 6 || !(data.latestS >= data.earliestS)) return undefined;
    // First roughly, to choose the gustiness that this take-off shows and to see where the probability lies; then finely.
    const steps = Math.max(1, Math.ceil((data.latestS - data.earliestS) / data.stepS));
    const stride = Math.max(3, Math.ceil(steps / 40));
    const coarse = Array.from({ length: Math.floor(steps / stride) + 1 }, (_, index) => index * stride);
    let best: { gust: number; evidence: number; found: Found[] } | undefined;
    for (const gust of data.gustMps2) {
      const found = this.scan(coarse, gust, data.manners.slice(1, 2), data.firstPulls.slice(0, 3));
      const evidence = logSum(found.map((node) => node.logWeight)) + gustLogPrior(gust);
      if (!Number.isFinite(evidence) || evidence <= (best?.evidence ?? Number.NEGATIVE_INFINITY)) continue;
      best = { gust, evidence, found };
    }
    if (best === undefined) return undefined;
    const [from, to] = likelyRange(best.found, stride, steps);
    // A wide posterior needs no fine grid.
    const width = (to - from) * data.stepS > wideS ? 2 : 1;
    const fine = Array.from({ length: Math.floor((to - from) / width) + 1 }, (_, index) => from + width * index);
    return this.posterior(fine, width, this.scan(fine, best.gust, data.manners, data.firstPulls), best.gust);
  }

  private timeOf(step: number): number {
    return this.data.earliestS + step * this.data.stepS;
  }

  private posterior(
    steps: readonly number[],
    width: number,
    found: readonly Found[],
    gustMps2: number,
  ): TransitionPosterior {
    const times = Float64Array.from(steps, (step) => this.timeOf(step));
    const total = logSum(found.map((node) => node.logWeight));
    const probability = new Float64Array(times.length);
    const nodes: TransitionNode[] = [];
    let square = 0;
    let counted = 0;
    for (const { step, manner, logWeight, normal, priors } of found) {
      const weight = Math.exp(logWeight - total);
      probability[(step - steps[0]) / width] += weight;
      if (weight < 3e-4) continue;
      const solution = solve(normal, priors);
      if (solution === undefined) continue;
      square += weight * solution.chiSquare;
      counted += weight;
      nodes.push({ timeS: this.timeOf(step), weight, manner, solution });
    }
    let meanS = times[0];
    for (const [index, time] of times.entries()) meanS += probability[index] * (time - times[0]);
    let variance = (width * this.data.stepS) ** 2 / 12;
    for (const [index, time] of times.entries()) variance += probability[index] * (time - meanS) ** 2;
    return {
      timesS: times,
      probability,
      meanS,
      sigmaS: Math.sqrt(variance),
      nodes,
      reducedChiSquare: square / counted / this.readings.size,
      gustMps2,
      crossing: (node, heightM) => this.crossing(node, heightM),
    };
  }

  private layFixedColumns(): void {
    const { data, grid, readings } = this;
    const middle = data.speedAt((data.earliestS + data.latestS) / 2);
    // A(V) over the speed range of the window, in units of a third of the speed near lift-off.
    const relative = grid.speedMps.map((speed) => (speed - 0.65 * middle) / (0.35 * middle));
    const one = new Float64Array(grid.length).fill(1);
    const add = (prior: Prior, column: Float64Array): void => {
      this.priors.push(prior);
      this.fixed.push(column);
    };
    add({ mean: data.speedMps[0] ?? 10, sigma: 30 }, readings.observed(one, undefined));
    add({ mean: 1, sigma: 3 }, readings.observed(grid.cumulative(one), undefined));
    add({ mean: 0, sigma: 0.8 }, readings.observed(grid.cumulative(relative), undefined));
    add(
      { mean: 0, sigma: data.curvatureMps2 },
      readings.observed(grid.cumulative(relative.map((y) => y * y - 0.33)), undefined),
    );
    // The slope's pull on the acceleration is part of A; here it moves heights only.
    this.slopeIndex = this.fixed.length;
    add(data.slope, readings.observed(undefined, grid.speedMps));
    const rows = readings.rows();
    for (const [index, series] of data.heights.entries()) {
      const base = new Float64Array(readings.size);
      const lag = new Float64Array(readings.size);
      const square = new Float64Array(readings.size);
      for (const [row, time] of series.timeS.entries()) {
        const at = rows.heights[index] + row;
        base[at] = 1;
        lag[at] = -data.verticalAt(time);
        square[at] = (data.speedAt(time) / middle) ** 2;
      }
      add({ mean: series.valuesM[0] ?? 0, sigma: 300 }, base);
      add(series.lagS, lag);
      if (series.speedErrorM > 0) add({ mean: 0, sigma: series.speedErrorM }, square);
    }
    if (data.verticals !== undefined) {
      const lag = new Float64Array(readings.size);
      const error = new Float64Array(readings.size);
      for (const [row, time] of data.verticals.timeS.entries()) {
        const at = rows.verticals + row;
        lag[at] = -(data.verticalAt(time + 0.5) - data.verticalAt(time - 0.5));
        error[at] = (data.speedAt(time + 0.5) ** 2 - data.speedAt(time - 0.5) ** 2) / (middle * middle);
      }
      add(data.verticals.lagS, lag);
      if (data.verticals.speedErrorM > 0) add({ mean: 0, sigma: data.verticals.speedErrorM }, error);
    }
  }

  /** The column of an effect, from the cache where it was needed before. */
  private column(name: string, make: () => Effect): Float64Array {
    const known = this.columns.get(name);
    if (known !== undefined) return known;
    const made = this.readings.observedEffect(make());
    this.columns.set(name, made);
    return made;
  }

  private scan(
    steps: readonly number[],
    gustMps2: number,
    tried: readonly Manner[],
    pulls: readonly FirstPull[],
  ): Found[] {
    const { data, grid, readings, knotsS } = this;
    const whitening = readings.whitening(gustMps2);
    const fixed = this.fixed.map((column) => whitening.whiten(column.slice()));
    const values = whitening.whiten(readings.values.slice());
    const square = dot(values, values);
    const white = new Map<string, Float64Array>();
    const column = (name: string, make: () => Effect): Float64Array => {
      const known = white.get(name);
      if (known !== undefined) return known;
      const made = whitening.whiten(this.column(name, make).slice());
      white.set(name, made);
      return made;
    };
    const onsets = [...new Set(tried.map((manner) => manner.onsetS))];
    const priorsOf = pulls.map((pull) => [...this.priors, ...liftoffPriors(data.step, data.sinkMps, pull, knotsS)]);
    const found: Found[] = [];
    const base = normalOf(fixed, values);
    for (const step of steps) {
      const time = this.timeOf(step);
      let logPlace = -0.5 * whitening.logDeterminant;
      if (data.liftoffSpeedMps !== undefined) {
        logPlace -= 0.5 * ((data.speedAt(time) - data.liftoffSpeedMps.mean) / data.liftoffSpeedMps.sigma) ** 2;
      }
      const shared = [
        column(`recovery ${step}`, () => recoveryEffect(grid, time)),
        column(`sink ${step}`, () => sinkEffect(grid, time)),
        // A pull is the same whichever lift-off it follows: it is named by its own instant.
        ...knotsS.map((knot) =>
          column(`pull ${step + Math.round(knot / data.stepS)}`, () => pullEffect(grid, time + knot)),
        ),
      ];
      const own = tried.map((manner) =>
        column(`step ${step} ${manner.beforeS} ${manner.afterS}`, () => stepEffect(grid, time, manner)),
      );
      const firsts = onsets.map((onsetS) => column(`first ${step} ${onsetS}`, () => pullEffect(grid, time, onsetS)));
      // Inner products of everything that may be needed; each manner picks its own step and first pull.
      const all = bordered(base, fixed, [...shared, ...own, ...firsts], values);
      const common = fixed.length + shared.length;
      for (const [place, manner] of tried.entries()) {
        const picked = [common + place, common + tried.length + onsets.indexOf(manner.onsetS)];
        const normal = pickedNormal(all, common, picked, square);
        for (const [which, pull] of pulls.entries()) {
          const priors = priorsOf[which];
          const logWeight = logPlace + Math.log(manner.weight * pull.weight) + logEvidence(normal, priors);
          if (Number.isFinite(logWeight)) found.push({ step, manner, logWeight, normal, priors });
        }
      }
    }
    return found;
  }

  /** When the path of a node is so high above its lift-off, with the sigma of that time; undefined if not in the window. */
  private crossing(node: TransitionNode, heightM: number): { timeS: number; sigmaS: number } | undefined {
    const { grid, slopeIndex } = this;
    const { mean, covariance } = node.solution;
    const effects: [number, Float64Array][] = [[slopeIndex, grid.speedMps]];
    const own = [
      recoveryEffect(grid, node.timeS),
      sinkEffect(grid, node.timeS),
      ...this.knotsS.map((knot) => pullEffect(grid, node.timeS + knot)),
      stepEffect(grid, node.timeS, node.manner),
      pullEffect(grid, node.timeS, node.manner.onsetS),
    ];
    for (const [index, effect] of own.entries()) {
      if (effect.vertical !== undefined) effects.push([this.fixed.length + index, effect.vertical]);
    }
    const rate = new Float64Array(grid.length);
    for (const [parameter, vertical] of effects) {
      const size = mean[parameter];
      for (let index = 0; index < rate.length; index += 1) rate[index] += size * vertical[index];
    }
    const path = grid.cumulative(rate);
    const start = grid.at(path, node.timeS);
    let index = Math.ceil((node.timeS - grid.startS) / grid.stepS);
    while (index < grid.length && path[index] - start < heightM) index += 1;
    if (index >= grid.length || grid.timeS[index] > this.windowEndS || !(rate[index] > 0.2)) return undefined;
    const timeS = grid.timeS[index] - (path[index] - start - heightM) / rate[index];
    const reached = effects.map(([parameter, vertical]): [number, number] => {
      const gained = grid.cumulative(vertical);
      return [parameter, gained[index] - grid.at(gained, node.timeS)];
    });
    let variance = 0;
    for (const [a, x] of reached) for (const [b, y] of reached) variance += x * y * covariance[a * mean.length + b];
    return { timeS, sigmaS: Math.sqrt(Math.max(0, variance)) / Math.max(0.5, rate[index]) };
  }
}

/** The steps that hold all but a few millionths of the probability, one coarse step wider on each side. */
function likelyRange(found: readonly Found[], stride: number, steps: number): [number, number] {
  const most = found.reduce((top, node) => Math.max(top, node.logWeight), Number.NEGATIVE_INFINITY);
  let low = steps;
  let high = 0;
  for (const node of found) {
    if (node.logWeight < most - 16) continue;
    low = Math.min(low, node.step);
    high = Math.max(high, node.step);
  }
  return [Math.max(0, low - stride), Math.min(steps, high + stride)];
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
