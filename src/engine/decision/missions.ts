import { airAtField } from '../corrections/index.ts';
import { answerMissions, type MeasuredPerformance, type MissionAnswer, type Need } from '../missions/index.ts';
import { reserveRules } from '../range/index.ts';
import type { DecisionSections } from '../spec/types.ts';

const standardSettingPa = 101325;
/** 50 ft, the screen height of light aeroplanes (14 CFR 23.51, 2003). */
const usualObstacleM = 15.24;

/** The needs of the spec in the form in which they are answered. */
export function needsOf(sections: DecisionSections): readonly Need[] {
  return (sections.missions ?? []).map((mission): Need => {
    if ('strip' in mission) {
      const air = airAtField({
        elevationM: mission.elevation,
        airTemperatureK: mission['air-temperature'],
        altimeterSettingPa: mission['altimeter-setting'] ?? { value: standardSettingPa, sigma: 0 },
      });
      return {
        kind: 'strip',
        name: mission.strip,
        availableM: mission.available,
        obstacleHeightM: mission.obstacle ?? usualObstacleM,
        // The unfavourable end of what the note of the air leaves open.
        densityRatio: air.densityRatio.value - 1.96 * air.densityRatio.sigma,
        slope: mission.slope ?? 0,
        surface: mission.surface,
        headwindMps: mission.headwind ?? 0,
        massKg: mission.weight,
        loadKg: mission.load,
      };
    }
    if ('leg' in mission) {
      return {
        kind: 'leg',
        name: mission.leg,
        distanceM: mission.distance,
        payloadKg: mission.payload,
        headwindMps: mission.headwind ?? sections.fuel?.headwind ?? 0,
        reserveTimeS: (mission.reserve ?? sections.fuel?.reserve ?? reserveRules[0]).timeS,
        allowanceM3: sections.fuel?.allowance ?? 0,
        allowanceStated: sections.fuel?.allowance !== undefined,
      };
    }
    return {
      kind: 'climb',
      name: mission.climb,
      rateMps: mission.rate,
      densityAltitudeM: mission['density-altitude'],
      massKg: mission.weight,
      loadKg: mission.load,
    };
  });
}

export function evaluateMissions(
  sections: DecisionSections,
  performances: readonly MeasuredPerformance[],
): readonly MissionAnswer[] | undefined {
  return sections.missions === undefined ? undefined : answerMissions(needsOf(sections), performances);
}
