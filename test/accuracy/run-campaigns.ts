import type { ComparisonResult, Footing, MetricResult } from '../../src/engine/compare/result.ts';
import type { AnalysedFlight } from '../../src/engine/compare/flight.ts';
import { evaluate, type EngineParts } from '../../src/engine/evaluate/evaluate.ts';
import { parseSpec } from '../../src/engine/spec/index.ts';
import {
  type Campaign,
  campaignSpec,
  type CampaignOptions,
  makeCampaign,
  nominalInItsConditions,
} from '../synth/index.ts';
import { blindOfRecording } from './blind-spots.ts';
import { emulatedAnalysis } from './emulated-analysis.ts';
import { knownFromSimulation, type SharedCampaign } from './known-answers.ts';
import { memoryWorld, tracksOf } from './memory-world.ts';
import { scoreFlight } from './score-flight.ts';
import { sharedSpec } from './shared-spec.ts';
import { mean, type Tally } from './tally.ts';

/** One change of one metric in one campaign: what was said against what is true. */
export interface ChangeSeen {
  readonly campaign: string;
  readonly metric: string;
  readonly footing: Footing;
  readonly truePercent: number;
  readonly percent: number;
  readonly low: number;
  readonly high: number;
  readonly naivePercent: number | undefined;
  /** Level of the interval: higher than 0.95 where several questions share one level. */
  readonly confidence: number;
  /** Days less one of each configuration. */
  readonly freedom: number;
  readonly verdict: string;
  /** True change is nothing at all. */
  readonly isNull: boolean;
  readonly weather: string;
  readonly days: string;
}

export interface CampaignsRun {
  readonly changes: ChangeSeen[];
  readonly campaigns: number;
  readonly evaluateMs: number;
  /** Metrics that the engine gave no answer for, with how often. */
  readonly silent: Map<string, number>;
  readonly problems: string[];
  /** What a perfect knowledge of the weather would leave for the ground roll: change less truth, in its own standard errors. */
  readonly perfectErrors: number[];
}

export function newRun(): CampaignsRun {
  return { changes: [], campaigns: 0, evaluateMs: 0, silent: new Map(), problems: [], perfectErrors: [] };
}

/**
 * The comparison alone: the same campaigns and specs, with analyses emulated from the truth and honest errors. Shows
 * whether corrections and statistics are right apart from how events are found.
 */
export function runEmulatedCampaign(
  compare: EngineParts['compare'],
  seed: string,
  options: CampaignOptions,
  run: CampaignsRun,
): void {
  const campaign = makeCampaign(seed, { ...options, withoutFiles: true });
  const parsed = parseSpec(campaignSpec(campaign), 'campaign.modproof.yaml');
  const totals = run as { campaigns: number; evaluateMs: number };
  if (!parsed.spec) {
    run.problems.push(...parsed.problems.map((problem) => problem.message));
    return;
  }
  const flights = parsed.spec.flights.map((entry): AnalysedFlight => {
    const flight = campaign.flights.find((one) => one.file === entry.track);
    if (!flight) throw new Error(`${entry.track} is in the spec and was not flown`);
    return { entry, file: entry.track, analysis: emulatedAnalysis(flight), day: flight.day, problems: [] };
  });
  const started = performance.now();
  const result = compare(parsed.spec, flights);
  totals.campaigns++;
  totals.evaluateMs += performance.now() - started;
  keep(campaign, options, result, run);
}

/** Makes a campaign, writes its files and spec, has it evaluated, and keeps what was said. */
export async function runCampaign(
  parts: EngineParts,
  seed: string,
  options: CampaignOptions,
  run: CampaignsRun,
  flightTally: Tally,
): Promise<Campaign> {
  const campaign = makeCampaign(seed, options);
  const files = new Map(campaign.flights.map((flight) => [flight.file, flight.bytes]));
  const started = performance.now();
  const evaluation = await evaluate(
    { specText: campaignSpec(campaign), specPath: 'campaign.modproof.yaml', world: memoryWorld(files) },
    parts,
  );
  const totals = run as { campaigns: number; evaluateMs: number };
  totals.campaigns++;
  totals.evaluateMs += performance.now() - started;
  for (const problem of evaluation.problems) {
    if (problem.severity === 'error') run.problems.push(`${seed}: ${problem.message}`);
  }
  for (const found of evaluation.flights) {
    const flight = campaign.flights.find((one) => one.file === found.file);
    if (!flight || !found.analysis) continue;
    // The same events as in the flights' tables, but with the pilot's notes at hand.
    const known = knownFromSimulation(flight, flight.receiverName);
    scoreFlight(found.analysis, known, blindOfRecording(flight.recording), flightTally);
  }
  if (evaluation.result) keep(campaign, options, evaluation.result, run);
  return campaign;
}

function keep(campaign: Campaign, options: CampaignOptions, result: ComparisonResult, run: CampaignsRun): void {
  const days = ['before', 'after']
    .map((one) => new Set(campaign.flights.filter((f) => f.configuration === one).map((f) => f.day)).size)
    .join('+');
  collect(result, run, campaign.seed, options.weather ?? 'fair', days, (metric, footing) => {
    const truth = footing === 'equal-load' ? campaign.trueChange.equalLoad : campaign.trueChange.equalWeight;
    const value = (truth as Record<string, number>)[metric];
    return value === undefined || Number.isNaN(value) ? undefined : 100 * value;
  });
  perfect(campaign, run);
}

function collect(
  result: ComparisonResult,
  run: CampaignsRun,
  campaign: string,
  weather: string,
  days: string,
  truthOf: (metric: string, footing: Footing) => number | undefined,
): void {
  for (const metric of result.metrics) {
    if (metric.conditions === 'as-flown') continue;
    const truePercent = truthOf(metric.metric, metric.conditions);
    if (truePercent === undefined) continue;
    const change = changeOf(metric);
    if (!change?.percent) {
      const key = `${metric.metric} ${metric.conditions}`;
      run.silent.set(key, (run.silent.get(key) ?? 0) + 1);
      continue;
    }
    run.changes.push({
      campaign,
      metric: metric.metric,
      footing: metric.conditions,
      truePercent,
      percent: change.percent.value,
      low: change.percent.low,
      high: change.percent.high,
      naivePercent: change.naivePercent,
      confidence: change.confidence ?? 0.95,
      freedom: Math.max(
        3,
        metric.configurations.reduce((sum, one) => sum + one.days - 1, 0),
      ),
      verdict: change.verdict,
      isNull: Math.abs(truePercent) < 1e-6,
      weather,
      days,
    });
  }
}

function changeOf(metric: MetricResult): MetricResult['changes'][number] | undefined {
  return metric.changes[0];
}

/** The ground roll corrected with perfect knowledge of the mean weather: its error in units of its standard error. */
function perfect(campaign: Campaign, run: CampaignsRun): void {
  const byDay = (configuration: string): number[] => {
    const days = new Map<string, number[]>();
    for (const flight of campaign.flights) {
      if (flight.configuration !== configuration) continue;
      for (const takeoff of flight.truth.takeoffs) {
        if (takeoff.kind !== 'standing' || takeoff.groundRollM === undefined) continue;
        const nominal = nominalInItsConditions(flight, takeoff).groundRollM;
        if (nominal === undefined) continue;
        days.set(flight.day, [...(days.get(flight.day) ?? []), Math.log(takeoff.groundRollM / nominal)]);
      }
    }
    return [...days.values()].map(mean);
  };
  const before = byDay('before');
  const after = byDay('after');
  if (before.length < 3 || after.length < 3) return;
  const variance = (values: number[]): number => {
    const m = mean(values);
    return values.reduce((sum, value) => sum + (value - m) ** 2, 0) / (values.length - 1);
  };
  const error = mean(after) - mean(before);
  run.perfectErrors.push(error / Math.sqrt(variance(before) / before.length + variance(after) / after.length));
}

/** Path of a number in `trueChange` of the campaigns beside the repository, by metric. */
const sharedTruth: Readonly<Record<string, readonly string[]>> = {
  'ground-roll': ['takeoff', 'SURFACE', 'da0ft', 'groundRollM'],
  'distance-over-15m': ['takeoff', 'SURFACE', 'da0ft', 'dist50ftM'],
  'distance-over-30m': ['takeoff', 'SURFACE', 'da0ft', 'dist100ftM'],
  'rate-of-climb': ['climb', 'rocFpm', '2000'],
  'climb-held-to': ['climb', 'ceilingFt', '500fpm'],
  'level-speed': ['level', '3000', '2450 rpm', 'tasKt'],
};

export async function runSharedCampaign(parts: EngineParts, shared: SharedCampaign, run: CampaignsRun): Promise<void> {
  const evaluation = await evaluate(
    { specText: sharedSpec(shared), specPath: 'shared.modproof.yaml', world: memoryWorld(tracksOf(shared.folder)) },
    parts,
  );
  for (const problem of evaluation.problems) if (problem.severity === 'error') run.problems.push(problem.message);
  const surface = (shared.truth.naive as { surface?: string }).surface ?? 'hard';
  const changes = shared.truth.trueChange;
  if (!evaluation.result) return;
  collect(evaluation.result, run, String(shared.truth.campaign), 'recorded', '8+8 flights', (metric, footing) => {
    const path = sharedTruth[metric];
    if (!path) return undefined;
    let node: unknown = changes[footing === 'equal-load' ? 'atReferenceLoad' : 'atReferenceMass'];
    for (const key of path) node = (node as Record<string, unknown> | undefined)?.[key === 'SURFACE' ? surface : key];
    const percent = (node as { changePercent?: number | null } | undefined)?.changePercent;
    return percent ?? undefined;
  });
}
