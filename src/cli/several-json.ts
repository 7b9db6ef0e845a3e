import { type MetricResult, standingOf, standingSentence, toldIds } from '../engine/compare/index.ts';
import type { Evaluation } from '../engine/evaluate/index.ts';
import { suitabilityOf } from '../engine/missions/index.ts';
import { metricWords, tradeOf, tradeSentences } from '../engine/report/index.ts';
import { measuredJson, told } from './inspect-json.ts';

type Json = Record<string, unknown>;

/** The states of the aeroplane with their settings, in the order of the spec. */
export function configurationsJson({ spec }: Evaluation): Json[] {
  return (spec?.configurations ?? []).map(({ id, description, setting }) =>
    told({
      id,
      description,
      baseline: id === spec?.baseline,
      setting: setting === undefined ? undefined : { of: spec?.settingOf, value: setting.value, unit: setting.unit },
    }),
  );
}

/** How the configurations of a metric stand to each other, and how it goes with the setting; for `metrics[]`. */
export function standingJson(result: MetricResult): Json {
  const { order, best, unbeaten } = standingOf(result);
  const sentence = standingSentence(result);
  const along = result.alongSetting;
  return told({
    standing: order.length < 2 ? undefined : told({ order, best, unbeaten, sentence: sentence || undefined }),
    alongSetting:
      along === undefined
        ? undefined
        : {
            settings: along.settings,
            slope: measuredJson(along.slope),
            slopeIn: along.slopeIn,
            bends: along.bends,
          },
  });
}

/** What each configuration gains and loses over the metrics, whether it is drawn or not. */
export function tradeJson({ spec, result }: Evaluation): Json | undefined {
  const trade = spec === undefined || result === undefined ? undefined : tradeOf(result.metrics);
  if (trade === undefined || spec === undefined) return undefined;
  const titleOf = (metric: string): string => {
    const found = trade.results.find((one) => one.metric === metric);
    return found === undefined ? metric : metricWords(found, spec, spec.report.units).title;
  };
  return told({
    metrics: trade.results.map((one) => ({
      metric: one.metric,
      conditions: one.conditions,
      unit: one.unit,
      smallerIsBetter: one.smallerIsBetter,
      means: one.configurations.flatMap(({ id, mean }) =>
        toldIds(one).includes(id) ? [{ id, mean: measuredJson(mean) }] : [],
      ),
    })),
    exchanges: trade.exchanges,
    leader: trade.leader,
    sentences: tradeSentences(trade, titleOf),
  });
}

/** Which configuration does which mission; absent without missions. */
export function suitsJson({ decision }: Evaluation): Json | undefined {
  if (decision?.missions === undefined) return undefined;
  const { needs, all } = suitabilityOf(decision.missions);
  return { needs, all };
}
