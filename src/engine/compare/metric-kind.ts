import type { QuantityKind } from '../../../shared/format.ts';
import { factsOf, type MetricFacts } from '../../../shared/metric.ts';
import type { MetricResult } from './result.ts';

/** What the comparison needs to know of a metric beyond its name (`shared/metric.ts`). */
export interface MetricKind {
  readonly facts: MetricFacts;
  readonly unit: MetricResult['unit'];
  /** 'log': positive and with errors that grow with it; 'linear': may come near zero. */
  readonly scale: 'log' | 'linear';
  /**
   * Usual unexplained scatter of one flight after all corrections, as a fraction of the value (of {@link typicalValue} on a linear scale): the scale
   * of a weak prior, which a few days of data overrule.
   */
  readonly usualScatter: number;
  /** On a linear scale: what the fraction above is taken of where the mean of the values is not the right measure, SI. */
  readonly typicalValue?: number;
  /** Whether there are corrections to reference conditions at all. Without any, "as flown" is the answer itself. */
  readonly corrected: boolean;
  /** Smallest difference that would matter to most owners, as a fraction of the value or in SI: for planning, where the spec names none. */
  readonly worthwhile: { readonly value: number; readonly relative: boolean };
  readonly words: { readonly less: 'shorter' | 'lower'; readonly more: 'longer' | 'higher' };
}

const units: Partial<Record<QuantityKind, MetricResult['unit']>> = {
  length: 'm',
  altitude: 'm',
  speed: 'm/s',
  'vertical-speed': 'm/s',
  time: 's',
  'fuel-flow': 'm3/s',
  mass: 'kg',
  ratio: '1',
};

type Own = Omit<MetricKind, 'facts' | 'unit' | 'words'>;

const tenth = { value: 0.1, relative: true } as const;

/**
 * The usual scatter, each argued from what a pilot and the air do (own judgement; common practice, no source):
 * - ground roll 7 %: lift-off speed held within 1.5 kt of 50 is 6 % of distance (speed squared), opening the throttle a second earlier or
 *   later 2 to 4 %. At equal lift-off speed only the second part is left, and gusts: 4 %. Distance over an obstacle 6 %: the longer air part varies less. Time to lift-off: half the speed's share.
 * - climb 6 %: 0.25 m/s of rising or sinking air along a climb of 4 m/s, climb speed within 3 kt.
 * - level speed 1.2 %: half a degree of trim and height, 0.1 m/s of lift or sink is 0.5 kt. Fuel flow 4 %: mixture by hand.
 * - fuel burn of a whole flight 8 %: shares of taxi, climb and cruise. Landing roll 15 %: braking is a choice.
 */
const own: Readonly<Record<string, Own>> = {
  'ground-roll': { scale: 'log', usualScatter: 0.07, corrected: true, worthwhile: tenth },
  'ground-roll-at-equal-speed': { scale: 'log', usualScatter: 0.04, corrected: true, worthwhile: tenth },
  'distance-over': { scale: 'log', usualScatter: 0.06, corrected: true, worthwhile: tenth },
  'time-to-liftoff': { scale: 'log', usualScatter: 0.05, corrected: true, worthwhile: tenth },
  'liftoff-speed': { scale: 'log', usualScatter: 0.03, corrected: true, worthwhile: { value: 0.03, relative: true } },
  'rate-of-climb': { scale: 'linear', usualScatter: 0.06, corrected: true, worthwhile: tenth },
  'best-minute-climb': { scale: 'linear', usualScatter: 0.08, corrected: true, worthwhile: tenth },
  'climb-gradient': { scale: 'linear', usualScatter: 0.07, corrected: true, worthwhile: tenth },
  'climb-held-to': {
    scale: 'linear',
    usualScatter: 1,
    typicalValue: 300,
    corrected: true,
    worthwhile: { value: 304.8, relative: false },
  },
  'service-ceiling': {
    scale: 'linear',
    usualScatter: 1,
    typicalValue: 300,
    corrected: true,
    worthwhile: { value: 304.8, relative: false },
  },
  'level-speed': { scale: 'log', usualScatter: 0.012, corrected: true, worthwhile: { value: 0.03, relative: true } },
  'fuel-flow': { scale: 'log', usualScatter: 0.04, corrected: true, worthwhile: { value: 0.05, relative: true } },
  'fuel-burn': { scale: 'log', usualScatter: 0.08, corrected: false, worthwhile: tenth },
  'landing-roll': { scale: 'log', usualScatter: 0.15, corrected: true, worthwhile: tenth },
  'empty-weight': { scale: 'linear', usualScatter: 0, corrected: false, worthwhile: { value: 5, relative: false } },
};

const measuredAlong: ReadonlySet<QuantityKind> = new Set(['length', 'time']);

/** Undefined for a metric that the comparison does not know. */
export function metricKind(metric: string): MetricKind | undefined {
  const facts = factsOf(metric);
  const rest = facts === undefined ? undefined : own[facts.name];
  const unit = facts === undefined ? undefined : units[facts.kind];
  if (facts === undefined || rest === undefined || unit === undefined) return undefined;
  const words: MetricKind['words'] = measuredAlong.has(facts.kind)
    ? { less: 'shorter', more: 'longer' }
    : { less: 'lower', more: 'higher' };
  return { facts, unit, words, ...rest };
}

/** Title as a heading, with the height or rate that belongs to it left to the caller. */
export function titleOf(kind: MetricKind): string {
  return kind.facts.title;
}
