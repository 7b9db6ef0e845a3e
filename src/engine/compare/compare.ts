import { formatIntervalParts, formatList, formatValue } from '../../../shared/format.ts';
import { distanceOverName } from '../../../shared/metric.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Question, Spec } from '../spec/types.ts';
import { changeOf } from './change.ts';
import { type ClimbShape, type RateLine } from './climb-runs.ts';
import { collectRuns } from './collect.ts';
import { conditionsText } from './conditions-text.ts';
import { configurationResult, runWeights } from './configuration-result.ts';
import { emptyWeightResult } from './empty-weight.ts';
import { type Contrast, contrastOf, type Estimate, estimate, meanOf, pValueOf, type ValuedRun } from './estimate.ts';
import { unusedExclusions, wholeFlightExclusion, withoutExcluded } from './exclusions.ts';
import type { AnalysedFlight } from './flight.ts';
import type { UsableFlight } from './flight-runs.ts';
import { likeWithLike } from './like-with-like.ts';
import { type MetricKind, metricKind } from './metric-kind.ts';
import { outliersOf } from './outliers.ts';
import { pairsOf } from './pairs.ts';
import { holmLevels, type Level } from './questions.ts';
import type { Change, ComparisonResult, ConfigurationResult, LeftOut, MetricResult } from './result.ts';
import { type CollectedRun, isReduced, type Target } from './run.ts';
import { seenAgainstAltitude } from './seen-against.ts';
import { settingTrend } from './setting-trend.ts';
import { withoutSameEvents } from './same-events.ts';
import { type Targets, targetsOf } from './targets.ts';

/** Asked when a spec asks nothing. */
const usualQuestions: readonly Question[] = [
  { metric: 'ground-roll', primary: false },
  { metric: 'distance-over-15m', primary: false, heightM: 15.24 },
  { metric: 'rate-of-climb', primary: false },
  { metric: 'level-speed', primary: false },
];

/** One metric on one footing, estimated but not yet judged: the judgement depends on how many questions are asked. */
interface Estimated {
  readonly question: Question;
  readonly kind: MetricKind;
  readonly target: Target;
  readonly valued: readonly ValuedRun[];
  readonly fit?: Estimate;
  readonly outliers: readonly (string | undefined)[];
  readonly remarks: readonly string[];
  /** For metrics of climb. */
  readonly shape?: ClimbShape;
  /** Why there is no estimate, where there is none. */
  readonly because?: string;
  readonly pairs: readonly Pair[];
}

interface Pair {
  readonly from: string;
  readonly to: string;
  readonly contrast?: Contrast;
  readonly pValue?: number;
  readonly because?: string;
}

/**
 * Compares configurations: every question of the spec, on every footing asked for, each with its uncertainty and a verdict.
 *
 * The unit is the day. Values are brought to reference conditions first, with every error kept by name, so that what all runs share (an exponent) counts by the
 * difference of mean conditions and not run by run. See README.md of this folder for the design. Pure: the same input gives the same result.
 */
export function compare(spec: Spec, flights: readonly AnalysedFlight[]): ComparisonResult {
  const leftOut: LeftOut[] = [];
  const problems: Problem[] = [];
  const used = new Set<Spec['exclusions'][number]>();
  const usable = usableFlights(spec, flights, leftOut, used);
  const targets = targetsOf(spec, usable);
  problems.push(...targets.problems);
  const estimated: Estimated[] = [];
  const results: MetricResult[] = [];
  const questions = spec.questions.ask.length > 0 ? spec.questions.ask : usualQuestions;
  for (const question of questions) {
    const kind = metricKind(question.metric);
    if (kind === undefined) {
      problems.push({
        code: 'compare-unknown-metric',
        severity: 'error',
        message: `"${question.metric}" is not a metric that can be compared.`,
        ...(question.at === undefined ? {} : { at: question.at }),
      });
      continue;
    }
    if (kind.facts.name === 'empty-weight') {
      results.push(emptyWeightResult(spec, kind, question));
      continue;
    }
    const collected = collectRuns(kind, { spec, question, flights: usable });
    leftOut.push(...collected.leftOut);
    const kept = withoutExcluded(question.metric, collected.runs, spec.exclusions, used);
    leftOut.push(...kept.leftOut);
    const once = withoutSameEvents(question.metric, kept.runs);
    leftOut.push(...once.leftOut);
    for (const target of targets.targets) {
      if (!kind.corrected && target.footing !== 'as-flown') continue;
      // An altitude up to which a rate is held exists at a weight only.
      if (kind.facts.kind === 'altitude' && target.footing === 'as-flown') continue;
      estimated.push(estimateOn(spec, question, kind, target, once.runs, shapeOf(collected), leftOut));
    }
  }
  const levels = judge(estimated);
  for (const one of estimated) results.push(resultOf(spec, targets, one, levels));
  problems.push(...unusedExclusions(spec.exclusions, used));
  return { title: spec.title, metrics: inOrder(results, questions), leftOut: withoutRepeats(leftOut), problems };
}

function usableFlights(
  spec: Spec,
  flights: readonly AnalysedFlight[],
  leftOut: LeftOut[],
  used: Set<Spec['exclusions'][number]>,
): UsableFlight[] {
  const known = new Set(spec.configurations.map(({ id }) => id));
  const seen = new Map<string, string>();
  return flights.flatMap((flight): UsableFlight[] => {
    const { analysis, day, file, entry } = flight;
    const excluded = wholeFlightExclusion(file, spec.exclusions) ?? wholeFlightExclusion(entry.track, spec.exclusions);
    if (excluded !== undefined) {
      used.add(excluded);
      leftOut.push({ file, reason: excluded.because, by: 'pilot' });
      return [];
    }
    const drop = (reason: string): UsableFlight[] => {
      leftOut.push({ file, reason, by: 'engine' });
      return [];
    };
    if (!known.has(entry.configuration)) return drop(`Its configuration "${entry.configuration}" is not described.`);
    if (analysis === undefined) {
      const error = flight.problems.find(({ severity }) => severity === 'error');
      return drop(`The recording could not be used. ${error?.message ?? ''}`.trim());
    }
    if (day === undefined)
      return drop('The day of the flight is not known, and the day is the unit of the comparison.');
    const twin = flight.contentHash === undefined ? undefined : seen.get(flight.contentHash);
    if (twin !== undefined) return drop(`The same recording as ${twin}: it counts once.`);
    if (flight.contentHash !== undefined) seen.set(flight.contentHash, file);
    return [{ ...flight, analysis, day }];
  });
}

function estimateOn(
  spec: Spec,
  question: Question,
  kind: MetricKind,
  target: Target,
  runs: readonly CollectedRun[],
  shape: ClimbShape | undefined,
  leftOut: LeftOut[],
): Estimated {
  const { metric } = question;
  const valued: ValuedRun[] = [];
  for (const run of runs) {
    const reduced = run.reduce(target);
    const usable =
      isReduced(reduced) && Number.isFinite(reduced.value) && (kind.scale === 'linear' || reduced.value > 0);
    if (usable) valued.push({ run, reduced });
    else {
      const reason = isReduced(reduced) ? 'No meaningful value is left at reference conditions.' : reduced;
      leftOut.push({ file: run.file, metric, number: run.number, reason, by: 'engine' });
    }
  }
  // Raw values are not compared, only shown: all of them.
  const descriptive = target.footing === 'as-flown' && kind.corrected;
  const like = descriptive
    ? { runs: valued.map(({ run }) => run), shifts: [], leftOut: [], remarks: [] }
    : likeWithLike(
        metric,
        valued.map(({ run }) => run),
      );
  leftOut.push(...like.leftOut);
  const kept = valued.filter(({ run }) => like.runs.includes(run));
  const ids = spec.configurations.map(({ id }) => id);
  const fit = descriptive || kept.length < 2 ? undefined : estimate(kind, ids, kept, like.shifts);
  const outliers = fit === undefined ? [] : outliersOf(fit);
  const extrapolation =
    fit === undefined || shape === undefined ? undefined : extrapolationOf(fit, shape.lines, kind, spec.report.units);
  const pairs = pairsOf(ids, spec).flatMap(([from, to]): Pair[] => {
    const days = (id: string): number =>
      new Set(kept.flatMap(({ run }) => (run.configuration === id ? [run.day] : []))).size;
    if (days(from) === 0 && days(to) === 0) return [];
    const short = [from, to].filter((id) => days(id) < 2);
    if (short.length > 0) {
      const lost = like.leftOut.length > 0 && valued.length > kept.length ? ` ${like.leftOut[0].reason}` : '';
      const because = `${formatList(short.map((id) => `"${id}" has ${days(id) === 0 ? 'no usable flying day' : 'one usable flying day'}`))}; at least two in each configuration are needed.${lost}`;
      return [{ from, to, because }];
    }
    const refused = extrapolation?.refused.find(({ id }) => id === from || id === to);
    if (refused !== undefined) return [{ from, to, because: refused.reason }];
    const contrast = fit === undefined ? undefined : contrastOf(fit, from, to);
    return contrast === undefined
      ? [{ from, to, because: descriptive ? undefined : 'The values could not be fitted.' }]
      : [{ from, to, contrast, pValue: pValueOf(contrast) }];
  });
  return {
    question,
    kind,
    target,
    valued: kept,
    ...(fit === undefined ? {} : { fit }),
    ...(shape === undefined ? {} : { shape }),
    outliers,
    remarks: [...like.remarks, ...(extrapolation?.remarks ?? [])],
    pairs,
  };
}

/** Whether an altitude lies above what was climbed through: up to half of the range flown it is marked, beyond that refused. */
function extrapolationOf(
  fit: Estimate,
  lines: ReadonlyMap<string, RateLine>,
  kind: MetricKind,
  units: Spec['report']['units'],
):
  | {
      readonly refused: readonly { readonly id: string; readonly reason: string }[];
      readonly remarks: readonly string[];
    }
  | undefined {
  if (kind.facts.kind !== 'altitude') return undefined;
  const refused: { id: string; reason: string }[] = [];
  const remarks: string[] = [];
  for (const id of fit.ids) {
    const line = lines.get(id);
    const value = meanOf(fit, id)?.value;
    if (line === undefined || value === undefined) continue;
    const range = line.highestM - line.lowestM;
    const beyond = Math.max(value - line.highestM, line.lowestM - value);
    // A degree of temperature moves a density altitude by 36 m.
    const highest = { value: line.highestM, low: line.highestM - 80, high: line.highestM + 80 };
    const shown = formatIntervalParts(highest, 'altitude', units);
    const climbed = `climbs of "${id}" end at a density altitude of ${shown.value} ${shown.unit}`;
    if (beyond > 0.5 * range) {
      refused.push({
        id,
        reason: `The ${climbed}, too far from the altitude asked for: it would be a guess. Climb higher.`,
      });
    } else if (beyond > 0) remarks.push(`Extrapolated: the ${climbed}.`);
  }
  return { refused, remarks };
}

const keyOf = (pair: Pair, one: Estimated): string =>
  [one.question.metric, one.target.footing, pair.from, pair.to].join('|');

/**
 * Levels of all questions. On each footing the primary question is one family (of two configurations: tested at the plain level), all other
 * questions are another. A family holds every pair of configurations that is asked about, so that which setting is the best one is answered with the
 * error of a single question. Pairs share configurations, and so their errors: Holm's step-down holds whatever the dependence.
 */
function judge(estimated: readonly Estimated[]): Map<string, Level> {
  const levels = new Map<string, Level>();
  const families = new Map<string, { key: string; p: number }[]>();
  for (const one of estimated) {
    for (const pair of one.pairs) {
      if (pair.pValue === undefined) continue;
      const name = `${one.target.footing} ${one.question.primary ? 'primary' : 'further questions'}`;
      families.set(name, [...(families.get(name) ?? []), { key: keyOf(pair, one), p: pair.pValue }]);
    }
  }
  for (const members of families.values()) {
    holmLevels(members.map(({ p }) => p)).forEach((level, i) => levels.set(members[i].key, level));
  }
  return levels;
}

function resultOf(spec: Spec, targets: Targets, one: Estimated, levels: ReadonlyMap<string, Level>): MetricResult {
  const { question, kind, target, valued, fit, outliers } = one;
  const weights = fit === undefined ? new Map<ValuedRun, number>() : runWeights(fit, spec.baseline);
  const odd = new Map<ValuedRun, string>();
  fit?.runs.forEach((run, i) => {
    const why = outliers[i];
    if (why !== undefined) odd.set(run, why);
  });
  const configurations = spec.configurations.map(({ id }) => configurationResult(id, valued, fit, weights, odd));
  const title = titleWith(kind, question, spec);
  const changes = one.pairs.map((pair): Change => {
    const level = levels.get(keyOf(pair, one));
    return changeOf({
      kind,
      title,
      footing: target.footing,
      question,
      units: spec.report.units,
      configurations,
      ...pair,
      ...(level === undefined ? {} : { level }),
      outliers,
      remarks: one.remarks,
    });
  });
  return {
    metric: question.metric,
    unit: kind.unit,
    conditions: target.footing,
    ...(kind.facts.better === 'neither' ? {} : { smallerIsBetter: kind.facts.better === 'smaller' }),
    primary: question.primary,
    configurations,
    changes,
    at: conditionsText(spec, targets, one),
    ...alongSettings(spec, one, configurations),
    ...drawnAgainst(spec, one, configurations),
  };
}

/** The line through the means against the setting, where three settings or more were flown. */
function alongSettings(
  spec: Spec,
  { fit, pairs }: Estimated,
  configurations: readonly ConfigurationResult[],
): Pick<MetricResult, 'alongSetting'> {
  if (fit === undefined) return {};
  // A configuration whose value is refused has no place on the line.
  const refused = new Set(pairs.flatMap(({ from, to, because }) => (because === undefined ? [] : [from, to])));
  const told = new Set(pairs.flatMap(({ from, to, contrast }) => (contrast === undefined ? [] : [from, to])));
  const known = configurations.filter(({ id, mean }) => mean !== undefined && (told.has(id) || !refused.has(id)));
  const found = settingTrend(spec, fit, new Set(known.map(({ id }) => id)));
  return found === undefined ? {} : { alongSetting: found };
}

function shapeOf(collected: Partial<ClimbShape>): ClimbShape | undefined {
  const { lines, bands } = collected;
  return lines === undefined || bands === undefined ? undefined : { lines, bands };
}

/** The rate of climb against density altitude, on the footings that have corrected values. */
function drawnAgainst(
  spec: Spec,
  { kind, shape, target }: Estimated,
  configurations: readonly ConfigurationResult[],
): Pick<MetricResult, 'seenAgainst'> {
  if (shape === undefined || kind.facts.name !== 'rate-of-climb' || target.footing === 'as-flown') return {};
  return { seenAgainst: seenAgainstAltitude(spec, shape, target, configurations) };
}

/** Title with the height or the rate that belongs to it. */
function titleWith(kind: MetricKind, question: Question, spec: Spec): string {
  const { units } = spec.report;
  if (kind.facts.name === 'distance-over') {
    const heightM = question.heightM ?? Number(/(\d+)m$/.exec(question.metric)?.[1]);
    return `Distance over ${formatValue(heightM, 'altitude', units)}`;
  }
  if (kind.facts.name === 'climb-held-to' && question.rateMps !== undefined) {
    return `Altitude to which ${formatValue(question.rateMps, 'vertical-speed', units)} is held`;
  }
  return kind.facts.title;
}

/** Results in the order of the questions. */
function inOrder(results: readonly MetricResult[], questions: readonly Question[]): MetricResult[] {
  return questions.flatMap((question) => results.filter(({ metric }) => metric === question.metric));
}

/** The same run may be left out on several footings for one reason: told once. */
function withoutRepeats(leftOut: readonly LeftOut[]): LeftOut[] {
  const seen = new Set<string>();
  return leftOut.filter((entry) => {
    const key = JSON.stringify([entry.file, entry.metric, entry.number, entry.reason]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Full name of a distance over a height, for callers that build questions. */
export { distanceOverName };
