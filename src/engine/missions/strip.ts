import { gravityMps2 } from '../atmosphere/index.ts';
import { planningFactor, type PlanningFactor } from '../corrections/planning-factors.ts';
import { studentQuantile } from '../stats/student.ts';
import { lighterThanEmpty, massOf, tooHeavy } from './mass.ts';
import type { AppliedFactor, MissionAnswer, StripNeed } from './need.ts';
import {
  type MeasuredMean,
  type MeasuredPerformance,
  type MeasuredScreen,
  screensOf,
  type StripSurface,
} from './performance.ts';

/**
 * How the distance over an obstacle goes with density: exponent -3.0, one sigma 0.3. A straight line through the logarithms
 * of all 43 totals over 50 ft of the FAA example table (FAA-H-8083-25C fig. 11-24) gives -3.02; parts of the table between
 * -2.4 (near sea level) and -3.3 (above 6,000 ft). Roll and air distance of the flight-test handbook alone (-2.4, -2.2)
 * would be too hopeful for a low-powered aeroplane.
 */
const densityExponent = { value: -3.0, sigma: 0.3 };
/**
 * With the power kept by a turbocharger: roll -1.7, air distance -1.2 (SFTE reference handbook, 2013, ch. 12); one sigma 0.4, as the
 * power may be kept less well than that.
 */
const turbochargedDensityExponent = { value: -1.6, sigma: 0.4 };
/** With mass: roll 2.4 to 2.6, air distance 2.2 to 2.3 (SFTE reference handbook, 2013, ch. 12). */
const massExponent = { 'fixed-pitch': { value: 2.4, sigma: 0.25 }, 'constant-speed': { value: 2.6, sigma: 0.25 } };
const windExponentGround = 1.85;
/** The airspeed of the air distance over that at lift-off: 1.2 over 1.1 of the stall speed (14 CFR 23.51, 2003). */
const airSpeedOverLiftoff = 1.1;

/** The published factors, as they are shown. */
const grass = { dry: planningFactor('dry-grass').factor, wet: planningFactor('wet-grass').factor };
const soft = planningFactor('soft-ground').factor;
const creditedHeadwind = planningFactor('headwind-credit').factor;
const creditedTailwind = planningFactor('tailwind-charge').factor;

function sourceOf(factor: PlanningFactor): string {
  return factor.seen === 'second-hand' ? `${factor.source}, second-hand` : factor.source;
}

const safety = planningFactor('private-safety-factor');
/** What a private take-off is multiplied by after everything else. */
export const privateTakeoffFactor: AppliedFactor = {
  name: 'safety factor for a private take-off',
  factor: safety.factor,
  source: sourceOf(safety),
};

/** The published uphill factor: this much of the distance for each 1 % (0.01), as far as it goes; physics counts where it says more. */
const uphillPerUnit = (planningFactor('slope-per-percent').factor - 1) / 0.01;
/** Steeper than this nothing published and nothing flown stands for the strip (own judgement; the published factor ends at 2 %). */
const steepest = 0.05;
/** Tables of flight manuals give tailwinds up to 10 kt (note 2 of FAA-H-8083-25C fig. 11-24). */
const greatestTailwindMps = (10 * 1852) / 3600;
/** A headwind of which more than this share of the lift-off speed would be credited is not planned with (own judgement). */
const greatestCredit = 0.25;

/** Beyond the density ratios flown by more than this, the answer is "not enough data" (SFTE handbook ch. 12: about 10 %). */
const densityReach = 0.1;
const massReach = 0.15;

/**
 * Can the next take-off of this configuration use the strip? "Yes" only when the unfavourable end of the 95 % interval of a
 * SINGLE take-off (error of the mean and scatter of runs together), moved to the strip's conditions with the published
 * planning factors, still fits. "No" when even the favourable end of the mean does not fit. Everything between, and
 * everything too far from what was flown, is "not enough data".
 */
export function answerStrip(
  need: StripNeed,
  performance: MeasuredPerformance,
  /** Multiplies the distance after everything else; only a check of the statistics passes another than the published one. */
  safetyFactor: AppliedFactor = privateTakeoffFactor,
): MissionAnswer {
  const base = {
    need: need.name,
    kind: 'strip' as const,
    configuration: performance.configuration,
    available: need.availableM,
  };
  const massKg = massOf(need, performance);
  if (massKg !== undefined && tooHeavy(massKg, performance)) {
    const why = ['heavier than the maximum weight: not allowed whatever the distance'];
    return { ...base, answer: 'no', factors: [], why };
  }
  const measured = performance.takeoff;
  if (measured === undefined) return unknown(base, 'no take-off distance over an obstacle was measured');
  if (massKg === undefined)
    return unknown(base, 'the mass is not known: neither a total nor an empty weight with a load');
  if (lighterThanEmpty(massKg, performance))
    return unknown(base, 'the weight asked about is less than the empty weight');
  const why: string[] = [];
  const screen = screenFor(need.obstacleHeightM, measured);
  if (screen === undefined) {
    return unknown(base, 'the distance was measured to a lesser height than the obstacle asked about');
  }
  if (screen.heightM > need.obstacleHeightM + sameHeightM)
    why.push('the distance to a greater height is counted, as none was measured to that of the obstacle');

  const factors: AppliedFactor[] = [];
  const density = need.densityRatio / measured.densityRatio;
  const mass = massKg / measured.massKg;
  const massPower = massExponent[performance.propeller];
  const densityPower = performance.turbocharged ? turbochargedDensityExponent : densityExponent;
  factors.push({
    name: 'density',
    factor: density ** densityPower.value,
    source: performance.turbocharged
      ? 'exponent -1.6, power kept: SFTE reference handbook (2013) ch. 12'
      : 'exponent -3.0 from FAA-H-8083-25C fig. 11-24',
  });
  factors.push({ name: 'weight', factor: mass ** massPower.value, source: 'SFTE reference handbook (2013) ch. 12' });
  const rollShare = Math.min(1, measured.groundRollM.value / screen.distanceM.value);
  const credited = need.headwindMps >= 0 ? creditedHeadwind * need.headwindMps : creditedTailwind * need.headwindMps;
  // Of a storm no more is reckoned than is planned with: the answer is "not enough data" then (see below).
  const counted = Math.min(credited, greatestCredit * measured.liftoffTasMps);
  const rollWind = (1 - counted / measured.liftoffTasMps) ** windExponentGround;
  const airWind = 1 - counted / (airSpeedOverLiftoff * measured.liftoffTasMps);
  factors.push({
    name:
      need.headwindMps === 0
        ? 'no wind'
        : need.headwindMps > 0
          ? 'wind, half of the headwind counted'
          : 'wind, one and a half times the tailwind counted',
    factor: rollShare * rollWind + (1 - rollShare) * airWind,
    source: 'CAT.POL.A.400(d)(5), air-operations rules; SFTE reference handbook (2013) ch. 12',
  });
  if (need.slope > 0) {
    const product = factors.reduce((all, one) => all * one.factor, 1);
    const uphill = uphillFactor(need.slope, measured, screen, product);
    if (typeof uphill === 'string') return { ...base, answer: 'no', factors, why: [uphill] };
    factors.push(uphill);
  } else if (need.slope < 0) why.push('no credit is taken for the downhill slope');
  const surface = surfaceFactor(need.surface, measured.surface);
  if (typeof surface === 'string') return unknown(base, surface);
  if (surface.factor !== 1) factors.push(surface);
  else if (need.surface?.kind === 'paved' && measured.surface?.kind !== 'paved')
    why.push('no credit is taken for the better surface');

  const product = factors.reduce((all, one) => all * one.factor, 1);
  const modelSigma = Math.hypot(densityPower.sigma * Math.log(density), massPower.sigma * Math.log(mass));
  const takes = scale(screen.distanceM, product, modelSigma);
  factors.push(safetyFactor);
  const room = (distanceM: number) => need.availableM - distanceM * safetyFactor.factor;
  const margin = room(takes.single);
  const beyond = beyondWhatWasFlown(need, measured, mass, credited);
  const result = { ...base, takes: takes.mean, margin, factors };
  if (room(takes.mean.low) < 0) {
    return {
      ...result,
      answer: 'no',
      why: [...why, ...beyond, 'even the favourable end of the interval does not fit with the safety factor'],
    };
  }
  if (beyond.length > 0) return { ...result, answer: 'not enough data', why: [...why, ...beyond] };
  if (margin >= 0) {
    return {
      ...result,
      answer: 'yes',
      why: [...why, 'the unfavourable end of the interval of a single take-off fits with the safety factor'],
    };
  }
  return {
    ...result,
    answer: 'not enough data',
    why: [...why, 'with the safety factor the interval of a single take-off reaches beyond what is available'],
  };
}

type Takeoff = NonNullable<MeasuredPerformance['takeoff']>;

/** Heights nearer than this are the same height, m: a screen of 15 m stands for 50 ft. */
const sameHeightM = 1;

/** The lowest screen measured that is as high as the obstacle; undefined where all are lower. */
function screenFor(obstacleM: number, measured: Takeoff): MeasuredScreen | undefined {
  const screens = [...screensOf(measured)].sort((one, other) => one.heightM - other.heightM);
  return screens.find(({ heightM }) => heightM >= obstacleM - sameHeightM);
}

/**
 * Uphill the roll accelerates less (exact for a constant force), and the obstacle stands on rising ground: the air distance grows
 * until the path has gained the rise as well, reckoned with the mean gradient from lift-off to the screen. Never less than the
 * published factor of 5 % for each 1 %. A sentence where the aeroplane cannot do it.
 *
 * @param product of the factors before this one, by which the measured distances are longer already
 */
function uphillFactor(
  slope: number,
  measured: Takeoff,
  screen: { readonly heightM: number; readonly distanceM: MeasuredMean },
  product: number,
): AppliedFactor | string {
  const rollM = measured.groundRollM.value * product;
  const airM = Math.max(0, screen.distanceM.value - measured.groundRollM.value) * product;
  const meanAcceleration = measured.liftoffTasMps ** 2 / (2 * rollM);
  const uphill = meanAcceleration - gravityMps2 * slope;
  if (!(uphill > 0)) return 'the slope is steeper than the aeroplane accelerates';
  const gradient = screen.heightM / Math.max(airM, 1);
  if (!(gradient > slope)) return 'the ground rises as steeply as the aeroplane climbs away';
  const longer = rollM * (meanAcceleration / uphill) + airM / (1 - slope / gradient);
  return {
    name: 'uphill slope, the obstacle on rising ground',
    factor: Math.max(1 + uphillPerUnit * slope, longer / (rollM + airM)),
    source: 'SFTE reference handbook (2013) ch. 12 and geometry; at least 5 % for each 1 % (CAT.POL.A.305 AMC2)',
  };
}

/** What of the need lies so far from the flights that no distance is promised: sentences, none where all is near enough. */
function beyondWhatWasFlown(need: StripNeed, measured: Takeoff, mass: number, creditedMps: number): string[] {
  const [thinnest, densest] = measured.densityRatioSeen;
  const beyond: string[] = [];
  if (need.densityRatio < thinnest * (1 - densityReach) || need.densityRatio > densest * (1 + densityReach))
    beyond.push('the air there is more than 10 % thinner or denser than in any of the flights');
  if (Math.abs(mass - 1) > massReach) beyond.push('the weight is more than 15 % away from the reference weight');
  if (need.slope > steepest) beyond.push('uphill steeper than 5 %: no published factor goes so far');
  if (need.headwindMps < -greatestTailwindMps)
    beyond.push('a tailwind of more than 10 kt: no published table goes so far');
  if (creditedMps > greatestCredit * measured.liftoffTasMps)
    beyond.push('the headwind is so strong that half of it is more than a quarter of the lift-off speed');
  return beyond;
}

function unknown(
  base: Pick<MissionAnswer, 'need' | 'kind' | 'configuration' | 'available'>,
  reason: string,
): MissionAnswer {
  return { ...base, answer: 'not enough data', factors: [], why: [reason] };
}

function scale(mean: MeasuredMean, product: number, modelSigma: number) {
  const t = studentQuantile(0.975, Math.max(1, mean.df));
  const value = mean.value * product;
  const sigmaMean = Math.hypot(mean.sigma * product, value * modelSigma);
  return {
    mean: { value, low: Math.max(0, value - t * sigmaMean), high: value + t * sigmaMean },
    single: value + t * Math.hypot(sigmaMean, mean.scatter * product),
  };
}

/**
 * Published planning factors of surfaces, on the distance to 50 ft, applied between what was measured and what is asked; a
 * better surface gives no credit. A sentence where no factor is published between the two.
 */
function surfaceFactor(asked: StripSurface | undefined, flown: StripSurface | undefined): AppliedFactor | string {
  if (asked === undefined) return 'the surface of the strip is not written';
  if (flown === undefined) return 'the surface of the flights is not written, or was not one and the same';
  const same =
    asked.kind === flown.kind && asked.soft === flown.soft && (asked.long ?? false) === (flown.long ?? false);
  if (same && asked.wet === flown.wet) return { name: 'surface', factor: 1, source: 'as flown' };
  if (asked.long === true && flown.long !== true)
    return 'the published factors stand for grass up to 20 cm, and none of the flights was on longer';
  const of = (surface: StripSurface): number | undefined => {
    const firm =
      surface.kind === 'paved' ? 1 : surface.kind === 'grass' ? (surface.wet ? grass.wet : grass.dry) : undefined;
    return firm === undefined ? undefined : firm * (surface.soft ? soft : 1);
  };
  const onAsked = of(asked);
  const onFlown = of(flown);
  if (onAsked === undefined || onFlown === undefined)
    return `no published factor stands between ${words(flown)} as flown and ${words(asked)}`;
  return {
    name: 'surface',
    factor: Math.max(1, onAsked / onFlown),
    source: asked.soft
      ? `${sourceOf(planningFactor('dry-grass'))}; soft ground ${sourceOf(planningFactor('soft-ground'))}`
      : sourceOf(planningFactor('dry-grass')),
  };
}

function words(surface: StripSurface): string {
  return [surface.wet && 'wet', surface.soft && 'soft', surface.long === true && 'long', surface.kind]
    .filter((word) => word !== false)
    .join(' ');
}
