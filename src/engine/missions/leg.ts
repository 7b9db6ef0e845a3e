import { rangeWithReserve, whyNoRange } from '../range/index.ts';
import type { LegNeed, MissionAnswer } from './need.ts';
import type { MeasuredPerformance } from './performance.ts';

/**
 * True airspeed with mass at the same power where it is heavier than flown: -0.1 to -0.2 per cent for each per cent (from memory;
 * induced drag grows). The unfavourable end; a lighter aeroplane gets no credit.
 */
const heavierSpeedExponent = -0.2;

/**
 * Can the leg be flown with the payload and the reserve kept, at any of the measured cruise settings? The fuel is what the
 * tanks hold and the maximum weight leaves beside the payload. "Yes" when the unfavourable end of the 95 % interval of the
 * range still covers the leg.
 */
export function answerLeg(need: LegNeed, performance: MeasuredPerformance): MissionAnswer {
  const base = {
    need: need.name,
    kind: 'leg' as const,
    configuration: performance.configuration,
    available: need.distanceM,
  };
  const unknown = (reason: string): MissionAnswer => ({
    ...base,
    answer: 'not enough data',
    factors: [],
    why: [reason],
  });
  const { emptyMassKg, maximumMassKg, usableFuelM3, fuelDensityKgM3 } = performance;
  if (usableFuelM3 === undefined) return unknown('the usable fuel is not given');
  if (emptyMassKg === undefined || maximumMassKg === undefined)
    return unknown('the empty or the maximum weight is not given');
  if (performance.cruise.length === 0) return unknown('no cruise speed with its fuel flow was measured');
  const roomKg = maximumMassKg - emptyMassKg - need.payloadKg;
  if (roomKg <= 0) {
    return { ...base, answer: 'no', factors: [], why: ['the payload alone is heavier than the useful load'] };
  }
  const usableM3 = Math.min(usableFuelM3, roomKg / fuelDensityKgM3);
  const why: string[] = [];
  if (usableM3 < usableFuelM3) why.push('the weight leaves no room for full tanks');
  if (need.allowanceStated === false)
    why.push('nothing is set aside for start, taxi and climb: no allowance is written');
  let best:
    | { readonly setting: string; readonly low: number; readonly value: number; readonly high: number }
    | undefined;
  // Reserve at the flow of normal cruise: the greatest of the measured settings, the cautious reading of 14 CFR 91.151.
  const reserveFlowM3ps = Math.max(...performance.cruise.map((one) => one.fuelFlowM3ps.value));
  // Half of the fuel is gone in the mean.
  const meanMassKg = emptyMassKg + need.payloadKg + (usableM3 * fuelDensityKgM3) / 2;
  const mass = meanMassKg / (performance.cruiseMassKg ?? meanMassKg);
  const slower = mass > 1 ? mass ** heavierSpeedExponent : 1;
  for (const setting of performance.cruise) {
    const { value, sigma } = setting.trueAirspeedMps;
    const trueAirspeedMps = { value: value * slower, sigma: sigma * slower };
    const result = rangeWithReserve(
      { usableM3, allowanceM3: need.allowanceM3, reserveTimeS: need.reserveTimeS, reserveFlowM3ps },
      { ...setting, trueAirspeedMps, headwindMps: need.headwindMps },
    );
    if (result !== undefined && (best === undefined || result.rangeM.low > best.low)) {
      best = { setting: setting.setting, low: result.rangeM.low, value: result.rangeM.value, high: result.rangeM.high };
    }
  }
  if (best === undefined) {
    const fastest = performance.cruise.reduce((one, other) =>
      other.trueAirspeedMps.value > one.trueAirspeedMps.value ? other : one,
    );
    return {
      ...base,
      answer: 'no',
      factors: [],
      why: [...why, whyNoRange({ ...fastest, headwindMps: need.headwindMps })],
    };
  }
  const result = {
    ...base,
    takes: { value: best.value, low: best.low, high: best.high },
    margin: best.low - need.distanceM,
    factors:
      slower < 1
        ? [{ name: 'speed at the weight of the leg', factor: slower, source: 'exponent -0.2 of mass, from memory' }]
        : [],
    why: [...why, `range at "${best.setting}" with the reserve kept${need.headwindMps === 0 ? ', in still air' : ''}`],
  };
  if (best.low >= need.distanceM) return { ...result, answer: 'yes' };
  return { ...result, answer: best.high < need.distanceM ? 'no' : 'not enough data' };
}
