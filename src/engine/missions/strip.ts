import { gravityMps2 } from '../atmosphere/index.ts';
import { planningFactor, type PlanningFactor } from '../corrections/planning-factors.ts';
import { studentQuantile } from '../stats/student.ts';
import type { AppliedFactor, MissionAnswer, StripNeed } from './need.ts';
import type { MeasuredMean, MeasuredPerformance } from './performance.ts';

/**
 * How the distance over an obstacle goes with density: exponent -3.0, one sigma 0.3. A straight line through the logarithms
 * of all 43 totals over 50 ft of the FAA example table (FAA-H-8083-25C fig. 11-24) gives -3.02; parts of the table between
 * -2.4 (near sea level) and -3.3 (above 6,000 ft). Roll and air distance of the flight-test handbook alone (-2.4, -2.2)
 * would be too hopeful for a low-powered aeroplane.
 */
const densityExponent = { value: -3.0, sigma: 0.3 };
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

/** Beyond the density ratios flown by more than this, the answer is "not enough data" (SFTE handbook ch. 12: about 10 %). */
const densityReach = 0.1;
const massReach = 0.15;

/**
 * Can the next take-off of this configuration use the strip? "Yes" only when the unfavourable end of the 95 % interval of a
 * SINGLE take-off (error of the mean and scatter of runs together), moved to the strip's conditions with the published
 * planning factors, still fits. "No" when even the favourable end of the mean does not fit. Everything between, and
 * everything too far from what was flown, is "not enough data".
 */
export function answerStrip(need: StripNeed, performance: MeasuredPerformance): MissionAnswer {
  const base = {
    need: need.name,
    kind: 'strip' as const,
    configuration: performance.configuration,
    available: need.availableM,
  };
  const measured = performance.takeoff;
  if (measured === undefined) return unknown(base, 'no take-off distance over an obstacle was measured');
  const massKg =
    need.massKg ??
    (need.loadKg === undefined || performance.emptyMassKg === undefined
      ? undefined
      : performance.emptyMassKg + need.loadKg);
  if (massKg === undefined)
    return unknown(base, 'the mass is not known: neither a total nor an empty weight with a load');
  const why: string[] = [];
  if (performance.maximumMassKg !== undefined && massKg > performance.maximumMassKg) {
    return {
      ...base,
      answer: 'no',
      factors: [],
      why: ['heavier than the maximum weight: not allowed whatever the distance'],
    };
  }
  if (Math.abs(measured.screenHeightM - need.obstacleHeightM) > 1) {
    return unknown(base, 'the distance was measured to another height than the obstacle asked about');
  }

  const factors: AppliedFactor[] = [];
  const density = need.densityRatio / measured.densityRatio;
  const mass = massKg / measured.massKg;
  const massPower = massExponent[performance.propeller];
  factors.push({
    name: 'density',
    factor: density ** densityExponent.value,
    source: 'exponent -3.0 from FAA-H-8083-25C fig. 11-24',
  });
  factors.push({ name: 'weight', factor: mass ** massPower.value, source: 'SFTE reference handbook (2013) ch. 12' });
  const rollShare = Math.min(1, measured.groundRollM.value / measured.distanceM.value);
  const credited = need.headwindMps >= 0 ? creditedHeadwind * need.headwindMps : creditedTailwind * need.headwindMps;
  const rollWind = Math.max(0, 1 - credited / measured.liftoffTasMps) ** windExponentGround;
  const airWind = Math.max(0, 1 - credited / (airSpeedOverLiftoff * measured.liftoffTasMps));
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
    const meanAcceleration = measured.liftoffTasMps ** 2 / (2 * measured.groundRollM.value);
    const uphill = meanAcceleration - gravityMps2 * need.slope;
    if (!(uphill > 0)) {
      return { ...base, answer: 'no', factors, why: ['the slope is steeper than the aeroplane accelerates'] };
    }
    factors.push({
      name: 'uphill slope',
      factor: rollShare * (meanAcceleration / uphill) + (1 - rollShare),
      source: 'exact for a constant force; SFTE reference handbook (2013) ch. 12',
    });
  } else if (need.slope < 0) why.push('no credit is taken for the downhill slope');
  const surface = surfaceFactor(need, measured.surface);
  if (surface === undefined) return unknown(base, 'the surface of the strip or of the flights is not known');
  if (surface.factor !== 1) factors.push(surface);

  const product = factors.reduce((all, one) => all * one.factor, 1);
  const modelSigma = Math.hypot(densityExponent.sigma * Math.log(density), massPower.sigma * Math.log(mass));
  const takes = scale(measured.distanceM, product, modelSigma);
  factors.push(privateTakeoffFactor);
  const room = (distanceM: number) => need.availableM - distanceM * privateTakeoffFactor.factor;
  const margin = room(takes.single);
  const [thinnest, densest] = measured.densityRatioSeen;
  const densityBeyond =
    need.densityRatio < thinnest * (1 - densityReach) || need.densityRatio > densest * (1 + densityReach);
  if (densityBeyond) why.push('the air there is more than 10 % thinner or denser than in any of the flights');
  const massBeyond = Math.abs(mass - 1) > massReach;
  if (massBeyond) why.push('the weight is more than 15 % away from the reference weight');
  const result = { ...base, takes: takes.mean, margin, factors };
  if (room(takes.mean.low) < 0) {
    return {
      ...result,
      answer: 'no',
      why: [...why, 'even the favourable end of the interval does not fit with the safety factor'],
    };
  }
  if (densityBeyond || massBeyond) return { ...result, answer: 'not enough data', why };
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
 * better surface gives no credit.
 */
function surfaceFactor(need: StripNeed, flown: StripNeed['surface']): AppliedFactor | undefined {
  if (need.surface === undefined || flown === undefined) return undefined;
  const of = (surface: NonNullable<StripNeed['surface']>): number | undefined => {
    const firm =
      surface.kind === 'paved' ? 1 : surface.kind === 'grass' ? (surface.wet ? grass.wet : grass.dry) : undefined;
    return firm === undefined ? undefined : firm * (surface.soft ? soft : 1);
  };
  const asked = of(need.surface);
  const seen = of(flown);
  if (asked === undefined || seen === undefined) {
    const same = need.surface.kind === flown.kind && need.surface.wet === flown.wet && need.surface.soft === flown.soft;
    return same ? { name: 'surface', factor: 1, source: 'as flown' } : undefined;
  }
  return { name: 'surface', factor: Math.max(1, asked / seen), source: sourceOf(planningFactor('dry-grass')) };
}
