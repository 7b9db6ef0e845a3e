import { type CircleFit, fitWindCircle, spreadOf } from './fit-circle.ts';
import { type LegPoint, legCovariance } from './wind-errors.ts';
import type { Velocity } from './wind-triangle.ts';

/** A leg: its mean ground velocity, when and how high it was flown. */
export interface WindLeg extends LegPoint, Velocity {
  /** Duration, s; `timeS` is its middle. */
  readonly lengthS: number;
  /** Legs of different numbers were flown at different power settings (by engine speed, fuel flow, recorded airspeed). */
  readonly setting?: number;
  /** Legs of one number were flown at one setting for sure; otherwise they may still be divided by their velocities. */
  readonly settingSure?: boolean;
}

export interface WindFromLegs {
  /** Where the air goes at the centre, over all ways to give the legs to settings, each weighted by how well it explains them. */
  readonly air: Velocity;
  /** Of east and north, (m/s)^2: of the fits and between them. */
  readonly airCovariance: readonly (readonly number[])[];
  /** The most likely settings: of each leg the group of equal airspeed, from 0. */
  readonly groups: readonly number[];
  /** True airspeed of each group and its standard error. */
  readonly airspeeds: readonly { readonly valueMps: number; readonly sigmaMps: number }[];
  /** For Student's t. */
  readonly degreesOfFreedom: number;
  /** Of the most likely fit. */
  readonly residualRmsMps: number;
  /** Share of the most likely way to give the legs to settings, 0 to 1. */
  readonly settingsShare: number;
  /** Time and height that the wind stands for. */
  readonly timeS: number;
  readonly altitudeM: number;
}

export type LegsAnswer = { readonly found: WindFromLegs } | { readonly refused: string };

/** The assumed errors of the legs count as so many observations against their residuals. */
const priorDegrees = 4;
/** Headings spread over less than this do not separate wind and airspeed well enough: 120 degrees. */
const leastSpreadRad = (120 * Math.PI) / 180 - 1e-9;
/** Nobody flies steady legs in a wind of more than this share of the airspeed. */
const mostWindShare = 0.6;
/** Nor does a fit whose airspeed is less sure than 2 kt, one standard error. */
const mostAirspeedSigmaMps = 2 * (1852 / 3600);
/**
 * Weighted squares that another airspeed must explain before the legs are taken as flown at two power settings: 30 (5.5 standard deviations: about
 * 5 kt between two pairs of legs; changes of setting are larger, thermals rarely are).
 */
const splitPenalty = 30;
/**
 * Three legs at one supposed setting leave nothing to check that with. They are believed only when flown one after the other: pauses of at most 90 s,
 * time for a turn but hardly for anything else.
 */
const longestUncheckedPauseS = 90;
const mostGroups = 3;

/**
 * One wind, and one true airspeed for each power setting, from steady legs of an ordinary flight: generalised least squares on the circle, with the change of
 * the wind between the legs allowed for. Legs that follow each other at another power setting are told apart by their settings where given, else by
 * their airspeeds.
 *
 * Refused with a sentence: fewer than three legs, three with pauses between them and no known setting, headings within 120 degrees, an airspeed less sure than 2 kt.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 4 for the method; limits are our own.
 */
export function windFromLegs(legs: readonly WindLeg[]): LegsAnswer {
  if (legs.length < 3) return { refused: `Three legs are needed to separate wind and airspeed, not ${legs.length}.` };
  const settingsKnown = legs.every((leg) => leg.settingSure === true);
  if (!settingsKnown && legs.length === 3 && longestPauseS(legs) > longestUncheckedPauseS) {
    return { refused: 'Three legs with pauses between them: they may have been flown at different power settings.' };
  }
  const centre = {
    timeS: legs.reduce((sum, leg) => sum + leg.timeS, 0) / legs.length,
    altitudeM: legs.reduce((sum, leg) => sum + leg.altitudeM, 0) / legs.length,
  };
  const covariance = legCovariance(legs, centre);
  const solve = (groups: readonly number[]) =>
    fitWindCircle(
      legs.map((leg, i) => ({ ...leg, group: groups[i] })),
      { covariance, priorDegrees },
    );
  const candidates: Candidate[] = [];
  let refused = '';
  for (const { groups, penalty } of partitions(legs)) {
    const answer = solve(groups);
    if ('fit' in answer) candidates.push({ fit: answer.fit, groups, cost: answer.fit.weightedSquares + penalty });
    else if (refused === '') refused = answer.refused;
  }
  if (candidates.length === 0) return { refused };
  const combined = combine(candidates);
  const degrees = Math.round((combined.best.fit.headingSpreadRad * 180) / Math.PI);
  if (combined.best.fit.headingSpreadRad < leastSpreadRad) {
    return {
      refused: `The headings are spread over ${degrees} degrees; 120 are needed to separate wind and airspeed.`,
    };
  }
  const tracks = spreadOf(legs.map((leg) => Math.atan2(leg.eastMps, leg.northMps)));
  const wind = Math.hypot(combined.air.eastMps, combined.air.northMps);
  // A false circle through legs of one direction has a small radius and a far centre.
  if (tracks < leastSpreadRad || wind > mostWindShare * combined.airspeeds[0].valueMps) {
    return { refused: 'The tracks are too alike to separate wind and airspeed.' };
  }
  if (!(combined.airspeeds[0].sigmaMps < mostAirspeedSigmaMps)) {
    return { refused: 'Wind and airspeed cannot be separated better than 2 kt with these legs.' };
  }
  const { best, air, airCovariance, airspeeds, share } = combined;
  return {
    found: {
      air,
      airCovariance,
      groups: best.groups,
      airspeeds,
      degreesOfFreedom: best.fit.degreesOfFreedom,
      residualRmsMps: best.fit.residualRmsMps,
      settingsShare: share,
      ...centre,
    },
  };
}

/** Longest time between the end of a leg and the beginning of the next, s. */
function longestPauseS(legs: readonly WindLeg[]): number {
  const sorted = [...legs].sort((a, b) => a.timeS - b.timeS);
  return Math.max(
    ...sorted.slice(1).map((leg, i) => leg.timeS - leg.lengthS / 2 - (sorted[i].timeS + sorted[i].lengthS / 2)),
  );
}

/** One way to give the legs to settings, with its fit. */
interface Candidate {
  readonly fit: CircleFit;
  readonly groups: readonly number[];
  readonly cost: number;
}

/** Mean over the candidates, weighted with exp(-cost/2), and the variance within and between them (Bayesian model averaging). */
function combine(candidates: readonly Candidate[]) {
  const best = candidates.reduce((a, b) => (b.cost < a.cost ? b : a));
  const weights = candidates.map(({ cost }) => Math.exp(-(cost - best.cost) / 2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (of: (candidate: Candidate) => number): number =>
    candidates.reduce((sum, candidate, i) => sum + (weights[i] / total) * of(candidate), 0);
  const air = { eastMps: mean(({ fit }) => fit.air.eastMps), northMps: mean(({ fit }) => fit.air.northMps) };
  const apart = ({ fit }: Candidate): readonly number[] => [
    fit.air.eastMps - air.eastMps,
    fit.air.northMps - air.northMps,
  ];
  const airCovariance = [0, 1].map((i) =>
    [0, 1].map((j) => mean((candidate) => candidate.fit.covariance[i][j] + apart(candidate)[i] * apart(candidate)[j])),
  );
  const groups = [...new Set(best.groups)].sort((a, b) => a - b);
  const airspeeds = groups.map((group) => {
    const own = best.groups.flatMap((other, leg) => (other === group ? [leg] : []));
    const airspeedOf = ({ fit, groups: of }: Candidate): number =>
      own.reduce((sum, leg) => sum + fit.trueAirspeedsMps[of[leg]], 0) / own.length;
    const valueMps = mean(airspeedOf);
    const variance = mean((candidate) => {
      const index = 2 + candidate.groups[own[0]];
      return candidate.fit.covariance[index][index] + (airspeedOf(candidate) - valueMps) ** 2;
    });
    return { valueMps, sigmaMps: Math.sqrt(variance) };
  });
  return { best, air, airCovariance, airspeeds, share: 1 / total };
}

/** Ways to give the legs, in order of time, to settings: known ones are kept apart; else all cuts into at most three runs of legs. */
function partitions(legs: readonly WindLeg[]): { readonly groups: readonly number[]; readonly penalty: number }[] {
  const n = legs.length;
  const known = numbered(legs.map((leg) => leg.setting ?? 0));
  const found = [{ groups: known, penalty: 0 }];
  if (legs.every((leg) => leg.settingSure === true)) return found;
  const order = legs.map((_, i) => i).sort((a, b) => legs[a].timeS - legs[b].timeS);
  const add = (cuts: readonly number[]): void => {
    const part = new Map<number, number>();
    order.forEach((leg, place) => part.set(leg, cuts.filter((cut) => cut <= place).length));
    const groups = numbered(known.map((setting, leg) => setting * (mostGroups + 1) + (part.get(leg) ?? 0)));
    // Two settings that are only supposed, without a leg to spare, fit anything.
    const unknowns = 3 + Math.max(...groups);
    if (n > unknowns) found.push({ groups, penalty: splitPenalty * (Math.max(...groups) - Math.max(...known)) });
  };
  for (let first = 1; first < n; first += 1) {
    add([first]);
    for (let second = first + 1; second < n; second += 1) add([first, second]);
  }
  return found.filter(({ groups }) => Math.max(...groups) < mostGroups + Math.max(...known));
}

/** Numbers from 0 without a break, in order of first appearance. */
function numbered(values: readonly number[]): number[] {
  const names = [...new Set(values)];
  return values.map((value) => names.indexOf(value));
}
