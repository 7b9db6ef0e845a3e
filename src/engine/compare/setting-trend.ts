import type { Interval } from '../../../shared/measured.ts';
import type { Spec } from '../spec/types.ts';
import { combination } from '../stats/integrated-random-intercept.ts';
import { mixtureCdf, mixtureMean, mixtureQuantile } from '../stats/normal-mixture.ts';
import type { Estimate } from './estimate.ts';
import type { AlongSetting } from './result.ts';
import { toldInUnit } from './sentence.ts';

/** A straight line needs one setting more than it has unknowns, or it fits whatever was flown. */
const fewestSettings = 3;
/** Points of the drawn line: a constant percentage is no straight line in metres. */
const linePoints = 9;

/** `values` without what a constant and the other columns explain (Gram-Schmidt), each value once. */
function apartFrom(values: readonly number[], columns: readonly (readonly number[])[]): number[] {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * b[i], 0);
  let rest = [...values];
  const basis: (readonly number[])[] = [];
  for (const column of columns) {
    const own = basis.reduce<readonly number[]>((left, other) => {
      const share = dot(left, other) / dot(other, other);
      return left.map((value, i) => value - share * other[i]);
    }, column);
    basis.push(own);
  }
  for (const column of basis) {
    const share = dot(rest, column) / dot(column, column);
    rest = rest.map((value, i) => value - share * column[i]);
  }
  return rest;
}

/**
 * The metric along the setting: least-squares line through the means, each configuration counting alike, with its uncertainty and that
 * of its bend from the joint fit, so that what the configurations share (a day, an exponent, the slope of the runway) counts by their
 * difference. The bend is the quadratic contrast (orthogonal polynomials: Snedecor and Cochran, "Statistical methods", ch. on regression; from memory).
 *
 * @param known configurations whose mean may be told
 * @returns undefined with fewer than three different settings
 */
export function settingTrend(spec: Spec, fit: Estimate, known: ReadonlySet<string>): AlongSetting | undefined {
  const settings = spec.configurations
    .flatMap(({ id, setting }) =>
      setting === undefined || !known.has(id) || !fit.ids.includes(id) ? [] : [{ id, value: setting.value }],
    )
    .sort((a, b) => a.value - b.value);
  if (new Set(settings.map(({ value }) => value)).size < fewestSettings) return undefined;
  const ones = settings.map(() => 1);
  const middle = settings.reduce((sum, { value }) => sum + value, 0) / settings.length;
  const half = (settings[settings.length - 1].value - settings[0].value) / 2;
  // In units of half the range: squares of a setting in rpm or in radians are no matter of rounding then.
  const x = settings.map(({ value }) => (value - middle) / half);
  const along = apartFrom(x, [ones]);
  const square = along.reduce((sum, value) => sum + value * value, 0);
  const contrast = (weights: readonly number[]) =>
    combination(
      fit.fit,
      fit.ids.map((id) => weights[settings.findIndex((setting) => setting.id === id)] ?? 0),
    );
  const slope = contrast(along.map((value) => value / square / half));
  const bend = contrast(
    apartFrom(
      x.map((value) => value * value),
      [ones, x],
    ),
  );
  const below = mixtureCdf(bend, 0);
  const bends = 2 * Math.min(below, 1 - below) < 0.05;
  const centre = contrast(ones.map(() => 1 / ones.length));
  const log = fit.kind.scale === 'log';
  const inPercent = !toldInUnit(fit.kind);
  const level = mixtureMean(centre);
  const back = (value: number): number => {
    if (!inPercent) return value;
    return log ? 100 * Math.expm1(value) : (100 * value) / Math.abs(level);
  };
  const interval: Interval = {
    value: back(mixtureMean(slope)),
    low: back(mixtureQuantile(slope, 0.025)),
    high: back(mixtureQuantile(slope, 0.975)),
  };
  const at = (setting: number): number => {
    const value = level + mixtureMean(slope) * (setting - middle);
    return log ? Math.exp(value) : value;
  };
  const [from, to] = [settings[0].value, settings[settings.length - 1].value];
  return {
    settings,
    slope: interval,
    slopeIn: inPercent ? 'percent' : 'si',
    bends,
    line: bends
      ? []
      : Array.from({ length: linePoints }, (_, index) => {
          const setting = from + ((to - from) * index) / (linePoints - 1);
          return { setting, value: at(setting) };
        }),
  };
}
