import type { MetricResult, RunValue } from '../engine/compare/result.ts';
import type { Evaluation } from '../engine/evaluate/index.ts';
import { lastPart, mapTexts, shownNames } from '../engine/report/index.ts';
import { eventsByPilot } from '../engine/view/index.ts';
import { filmJson } from './film-json.ts';
import { measuredJson, told } from './inspect-json.ts';
import { configurationsJson, standingJson, suitsJson, tradeJson } from './several-json.ts';
import { recordingsJson } from './recordings-json.ts';
import { problemJson } from './show-problems.ts';

type Json = Record<string, unknown>;

function number(value: number | undefined): number | undefined {
  return value === undefined || !Number.isFinite(value) ? undefined : Number(value.toPrecision(9));
}

function runJson(run: RunValue, metric: string, evaluation: Evaluation): Json {
  const analysis = evaluation.flights.find(({ file }) => file === run.file)?.analysis;
  const given = eventsByPilot(analysis, metric, run.number);
  return told({
    file: run.file,
    value: number(run.value),
    low: number(run.low),
    high: number(run.high),
    number: run.number,
    day: run.day,
    raw: measuredJson(run.raw),
    outlier: run.outlier,
    byPilot: given.length === 0 ? undefined : given,
  });
}

function metricJson(result: MetricResult, evaluation: Evaluation): Json {
  return {
    metric: result.metric,
    unit: result.unit,
    conditions: result.conditions,
    configurations: result.configurations.map((configuration) =>
      told({
        id: configuration.id,
        runs: configuration.runs,
        days: configuration.days,
        mean: measuredJson(configuration.mean),
        values: configuration.values.map((run) => runJson(run, result.metric, evaluation)),
      }),
    ),
    changes: result.changes.map((change) =>
      told({
        from: change.from,
        to: change.to,
        difference: measuredJson(change.differenceAlone ?? change.difference),
        percent: measuredJson(change.percentAlone ?? change.percent),
        naivePercent: number(change.naivePercent),
        verdict: change.verdict,
        moreDays: change.moreDays,
        confidence: number(change.confidence),
        warnings: change.warnings.length === 0 ? undefined : change.warnings,
      }),
    ),
    ...standingJson(result),
  };
}

/** The object of `compare --json`, without places where the spec hides them; the format is described in JSON.md. */
export function comparisonJson(evaluation: Evaluation): Json {
  const whole = wholeJson(evaluation);
  const names = shownNames(evaluation);
  if (!names.hidden) return whole;
  const problems = (whole.problems as readonly Json[]).map(({ file, ...rest }) =>
    typeof file === 'string' ? { ...rest, file: lastPart(file) } : rest,
  );
  return mapTexts({ ...whole, problems }, names.text) as Json;
}

function wholeJson(evaluation: Evaluation): Json {
  const { result } = evaluation;
  return {
    title: result?.title ?? evaluation.spec?.title ?? '',
    configurations: configurationsJson(evaluation),
    metrics: (result?.metrics ?? []).map((metric) => metricJson(metric, evaluation)),
    ...told({ trade: tradeJson(evaluation), suits: suitsJson(evaluation) }),
    leftOut: (result?.leftOut ?? []).map(({ file, metric, number: which, reason, by }) =>
      told({ file, metric, number: which, reason, by }),
    ),
    films: evaluation.flights.flatMap(({ file, analysis }) => {
      const film = filmJson(analysis);
      return film === undefined ? [] : [{ file, ...film }];
    }),
    joined: evaluation.flights.flatMap(({ file, analysis }) => {
      const recordings = recordingsJson(analysis);
      return recordings === undefined ? [] : [{ file, recordings }];
    }),
    problems: evaluation.problems.map(problemJson),
  };
}
