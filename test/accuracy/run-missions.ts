import type { AnalysedFlight } from '../../src/engine/compare/flight.ts';
import { evaluateCandidates } from '../../src/engine/decision/candidates.ts';
import { emptyStates } from '../../src/engine/decision/empty.ts';
import { needsOf } from '../../src/engine/decision/missions.ts';
import { measuredPerformance } from '../../src/engine/decision/performance.ts';
import type { EngineParts } from '../../src/engine/evaluate/evaluate.ts';
import {
  type Answer,
  answerClimb,
  answerLeg,
  answerStrip,
  type AppliedFactor,
  type MeasuredPerformance,
  type MissionAnswer,
  type Need,
} from '../../src/engine/missions/index.ts';
import { parseSpec } from '../../src/engine/spec/index.ts';
import { type Aeroplane, speedsOf } from '../synth/aeroplane.ts';
import { standardAir } from '../synth/air.ts';
import { type Campaign, type CampaignOptions, campaignSpec, makeCampaign, modifications } from '../synth/index.ts';
import { Random } from '../synth/random.ts';
import { levelSpeed, rpmOf, settled, steadyClimb, throttleOf } from '../synth/steady.ts';
import { emulatedAnalysis } from './emulated-analysis.ts';
import { distanceOverObstacleM, type TrueStrip } from './strip-truth.ts';

/** One answer beside the truth. */
export interface MissionSeen {
  readonly kind: Need['kind'];
  /** Measured in its own flights, or predicted for a candidate from the flights before. */
  readonly from: 'measured' | 'predicted';
  /** With the published safety factor, or with the factor 1. */
  readonly factor: 'published' | 'none';
  /** What the strip has beyond air and weight: to see where a wrong answer comes from. */
  readonly conditions: string;
  readonly answer: Answer;
  /** Whether the average flight of the true aeroplane fits. */
  readonly fits: boolean;
  /** Whether one take-off of this pilot, drawn with his scatter and gusts, fits; absent for legs and climbs. */
  readonly singleFits?: boolean;
  /** What is there over what it truly takes, less one. */
  readonly room: number;
  /** What the engine says it takes over what it truly takes, and whether its interval holds the truth; absent where it says nothing. */
  readonly takesOverTruth?: number;
  readonly held?: boolean;
  readonly what: string;
}

export interface MissionsRun {
  readonly seen: MissionSeen[];
  campaigns: number;
  readonly problems: string[];
}

export function newMissionsRun(): MissionsRun {
  return { seen: [], campaigns: 0, problems: [] };
}

const noFactor: AppliedFactor = { name: 'none', factor: 1, source: 'check of the statistics' };

interface DrawnNeed {
  readonly yaml: string;
  readonly conditions: string;
  readonly fits: boolean;
  readonly singleFits?: boolean;
  readonly room: number;
  /** Distance, range or rate, SI. */
  readonly truth: number;
  readonly factor: 'published' | 'none';
}

/**
 * One campaign measured as a pilot would, and needs near the limit of what the true aeroplane does: answered from the
 * flights, and for the change as a candidate from the flights before it.
 */
export function runMissions(
  compare: EngineParts['compare'],
  seed: string,
  options: CampaignOptions,
  run: MissionsRun,
): void {
  const campaign = makeCampaign(seed, { ...options, withoutFiles: true });
  const random = new Random(`${seed}/missions`);
  const flow = (of: 'before' | 'after'): number => cruiseOf(campaign, of).flowM3ps * (1 + random.normal(0, 0.03));
  const flowText = (of: 'before' | 'after'): string =>
    `    - { configuration: ${of}, setting: as flown, flow: ${(flow(of) * 3.6e6).toFixed(2)} L/h +- 3 % }`;
  const text = withFacts(campaignSpec(campaign), campaign, [
    'fuel:',
    '  allowance: 4 L',
    '  cruise:',
    flowText('before'),
    flowText('after'),
    'candidates:',
    `  changed: { ${candidateKeys(campaign).join(', ')} }`,
  ]);
  const base = parseSpec(text, 'missions.modproof.yaml');
  if (base.spec?.decision === undefined) {
    run.problems.push(...base.problems.map((problem) => problem.message));
    return;
  }
  const flights = base.spec.flights.map((entry): AnalysedFlight => {
    const flight = campaign.flights.find((one) => one.file === entry.track);
    if (!flight) throw new Error(`${entry.track} is in the spec and was not flown`);
    return { entry, file: entry.track, analysis: emulatedAnalysis(flight), day: flight.day, problems: [] };
  });
  const result = compare(base.spec, flights);
  const states = emptyStates(base.spec.decision);
  const performances = new Map(
    states
      .filter((state) => state.kind === 'configuration')
      .map((state) => [state.id, measuredPerformance(base.spec as never, result, flights, state)] as const),
  );
  const candidate = evaluateCandidates(base.spec, states, performances, result)?.[0];
  run.campaigns++;
  for (const of of ['before', 'after'] as const) {
    const drawn = drawNeeds(campaign, of, random.fork(of));
    const { spec, problems } = parseSpec(`${text}missions:\n${drawn.map((need) => need.yaml).join('\n')}\n`, 'needs');
    if (spec?.decision === undefined) {
      run.problems.push(...problems.map((problem) => problem.message));
      return;
    }
    const needs = needsOf(spec.decision);
    const askers: [MissionSeen['from'], MeasuredPerformance | undefined][] = [['measured', performances.get(of)]];
    if (of === 'after') askers.push(['predicted', candidate?.performance]);
    for (const [from, performance] of askers) {
      if (performance === undefined) continue;
      needs.forEach((need, i) => {
        const { conditions, fits, singleFits, room, factor, truth } = drawn[i];
        const answer = answered(need, performance, factor === 'none' ? noFactor : undefined);
        const what = `${seed} ${of} ${drawn[i].yaml.trim()} takes ${JSON.stringify(answer.takes)} margin ${answer.margin?.toFixed(1)}: ${answer.why.join('; ')}`;
        const { takes } = answer;
        run.seen.push({
          kind: need.kind,
          from,
          factor,
          conditions,
          answer: answer.answer,
          fits,
          singleFits,
          room,
          ...(takes && { takesOverTruth: takes.value / truth, held: takes.low <= truth && truth <= takes.high }),
          what,
        });
      });
    }
  }
}

function answered(need: Need, performance: MeasuredPerformance, factor: AppliedFactor | undefined): MissionAnswer {
  if (need.kind === 'strip') return answerStrip(need, performance, factor);
  return need.kind === 'leg' ? answerLeg(need, performance) : answerClimb(need, performance);
}

/** The spec that the campaign's pilot would write, with what the decisions need beside. */
function withFacts(text: string, { aeroplane }: Campaign, more: readonly string[]): string {
  const facts = [
    `  maximum-weight: ${aeroplane.maximumMassKg} kg`,
    `  usable-fuel: ${(aeroplane.usableFuelM3 * 1000).toFixed(0)} L`,
    `  propeller-diameter: ${aeroplane.propeller.diameterM} m`,
    ...(aeroplane.propeller.kind === 'fixed-pitch' ? [`  propeller-pitch: ${aeroplane.propeller.pitchM} m`] : []),
  ];
  return `${text
    .replace('\nconfigurations:', `\n${facts.join('\n')}\nconfigurations:`)
    .replace(/ kg \+- 1 kg }/g, ' kg +- 1 kg, empty-arm: 0 mm }')}${more.join('\n')}\n`;
}

/** The change as its owner would have written it before it was made. */
function candidateKeys({ change, aeroplane }: Campaign): string[] {
  const percent = (factor: number): string => `${factor >= 1 ? '+' : '-'}${Math.abs(100 * (factor - 1)).toFixed(1)} %`;
  const { massKg = 0, zeroLiftDrag, maximumLift, rollingFriction, power } = change;
  const fixed = aeroplane.propeller.kind === 'fixed-pitch' ? aeroplane.propeller : undefined;
  return [
    ...(zeroLiftDrag === undefined ? [] : [`drag: ${percent(zeroLiftDrag)}`]),
    ...(maximumLift === undefined ? [] : [`lift: ${percent(maximumLift)}`]),
    ...(rollingFriction === undefined ? [] : [`rolling-friction: ${percent(rollingFriction)}`]),
    ...(power === undefined ? [] : [`rated-power: ${((aeroplane.engine.ratedPowerW * power) / 1000).toFixed(1)} kW`]),
    ...(power === undefined || fixed === undefined ? [] : [`propeller-pitch: ${fixed.pitchM} m`]),
    `${massKg < 0 ? 'removed' : 'installed'}: [{ item: parts, weight: ${Math.abs(massKg)} kg, arm: 0 mm }]`,
  ];
}

type Which = 'before' | 'after';

const aeroplaneOf = (campaign: Campaign, of: Which): Aeroplane =>
  of === 'before' ? campaign.aeroplane : campaign.after;

/** How much more is there than it takes: through the limit without and with the published factors. */
const rooms = { published: [0.9, 2.1], none: [0.85, 1.45] } as const;

function drawNeeds(campaign: Campaign, of: Which, random: Random): DrawnNeed[] {
  const needs: DrawnNeed[] = [];
  for (let i = 0; i < 6; i++) {
    const strip = drawStrip(campaign, of, random.fork(`strip/${i}`), i % 2 === 0 ? 'published' : 'none', i);
    if (strip !== undefined) needs.push(strip);
  }
  for (let i = 0; i < 2; i++) needs.push(drawLeg(campaign, of, random.fork(`leg/${i}`), i));
  for (let i = 0; i < 2; i++) {
    const climb = drawClimb(campaign, of, random.fork(`climb/${i}`), i);
    if (climb !== undefined) needs.push(climb);
  }
  return needs;
}

/** Conditions of a strip beside air and weight: each alone, and together. */
const stripKinds = ['air and weight', 'surface', 'uphill', 'downhill', 'headwind', 'tailwind', 'several'] as const;

function drawStrip(
  campaign: Campaign,
  of: Which,
  random: Random,
  factor: DrawnNeed['factor'],
  number: number,
): DrawnNeed | undefined {
  const aeroplane = aeroplaneOf(campaign, of);
  const { field, standard, change } = campaign;
  const kind = random.pick(stripKinds);
  const has = (one: (typeof stripKinds)[number]): boolean => kind === one || (kind === 'several' && random.chance(0.6));
  const paved = field.surface === 'paved';
  // Everybody's strip differs a little from the home field.
  let friction = field.rollingFriction * random.uniform(0.9, 1.12);
  let surface: string = field.surface;
  if (has('surface')) {
    surface = random.pick(paved ? ['grass', 'wet grass', 'soft grass'] : ['wet grass', 'soft grass', 'paved']);
    const dry = paved ? random.uniform(0.045, 0.08) : friction;
    friction =
      surface === 'paved' ? random.uniform(0.018, 0.028) : dry * (surface === 'grass' ? 1 : random.uniform(1.1, 1.5));
  }
  friction *= of === 'after' ? (change.rollingFriction ?? 1) : 1;
  let slope = 0;
  if (has('uphill')) slope = random.uniform(0.005, 0.03);
  else if (has('downhill')) slope = -random.uniform(0.005, 0.03);
  let windKt = 0;
  if (has('headwind')) windKt = random.integer(3, 14);
  else if (has('tailwind')) windKt = -random.integer(2, 6);
  const elevationM = Math.max(0, Math.round(field.elevationM + random.uniform(-250, 500)));
  const temperatureC = Math.round(15 - 0.0065 * elevationM + random.uniform(-12, 14));
  const settingHpa = Math.round(random.uniform(1000, 1026));
  const massKg = Math.round(Math.min(aeroplane.maximumMassKg, campaign.referenceMassKg * random.uniform(0.9, 1.1)));
  const strip: TrueStrip = {
    elevationM,
    temperatureK: temperatureC + 273.15,
    altimeterSettingPa: settingHpa * 100,
    slope: Number(slope.toFixed(3)),
    rollingFriction: friction,
    headwindMps: (windKt * 1852) / 3600,
    obstacleHeightM: 15.24,
  };
  const takesM = distanceOverObstacleM(aeroplane, massKg, strip, standard.style);
  if (takesM === undefined) return undefined;
  const availableM = Math.round(takesM * (1 + random.uniform(rooms[factor][0] - 1, rooms[factor][1] - 1)));
  if (availableM > 5000) return undefined;
  const singleM = distanceOverObstacleM(aeroplane, massKg, strip, standard.style, random.fork('single'));
  return {
    yaml: `  - { strip: s${number}, available: ${availableM} m, elevation: ${elevationM} m, air-temperature: ${temperatureC} degC, altimeter-setting: ${settingHpa} hPa, slope: ${(strip.slope * 100).toFixed(1)} %, surface: ${surface}, headwind: ${windKt} kt, weight: ${massKg} kg }`,
    conditions: kind,
    fits: takesM <= availableM,
    singleFits: singleM !== undefined && singleM <= availableM,
    room: availableM / takesM - 1,
    truth: takesM,
    factor,
  };
}

/** Cruise of the true aeroplane at the power of the campaign's legs. */
function cruiseOf(campaign: Campaign, of: Which, massKg = campaign.referenceMassKg) {
  const aeroplane = aeroplaneOf(campaign, of);
  const { cruiseDensityAltitudeM: heightM, cruisePowerShare: share } = campaign.standard;
  const setting = { kind: 'power', share } as const;
  const air = standardAir(heightM);
  const tasMps = levelSpeed(aeroplane, air, heightM, massKg, setting) ?? Number.NaN;
  const throttle = throttleOf(aeroplane, air, heightM, setting, tasMps);
  const plant = settled(aeroplane, air, heightM, throttle, tasMps, rpmOf(aeroplane, setting));
  return { tasMps, flowM3ps: plant.fuelFlowM3ps };
}

function drawLeg(campaign: Campaign, of: Which, random: Random, number: number): DrawnNeed {
  const aeroplane = aeroplaneOf(campaign, of);
  const usefulKg = aeroplane.maximumMassKg - aeroplane.emptyMassKg;
  const payloadKg = Math.max(75, Math.round(usefulKg * random.uniform(0.3, 0.85)));
  const fuelM3 = Math.min(aeroplane.usableFuelM3, Math.max(0, usefulKg - payloadKg) / 720);
  const headwindKt = random.integer(-10, 15);
  const { tasMps, flowM3ps } = cruiseOf(campaign, of, aeroplane.emptyMassKg + payloadKg + 360 * fuelM3);
  const rangeM = Math.max(0, (fuelM3 - 0.004) / flowM3ps - 1800) * Math.max(0, tasMps - (headwindKt * 1852) / 3600);
  const distanceNm = Math.max(1, Math.round((rangeM * random.uniform(0.8, 1.15)) / 1852));
  return {
    yaml: `  - { leg: l${number}, distance: ${distanceNm} NM, payload: ${payloadKg} kg, headwind: ${headwindKt} kt }`,
    conditions: payloadKg + 720 * aeroplane.usableFuelM3 > usefulKg ? 'weight limits the fuel' : 'full tanks',
    fits: distanceNm * 1852 <= rangeM,
    room: rangeM / (distanceNm * 1852) - 1,
    truth: rangeM,
    factor: 'published',
  };
}

function drawClimb(campaign: Campaign, of: Which, random: Random, number: number): DrawnNeed | undefined {
  const aeroplane = aeroplaneOf(campaign, of);
  const heightM = Math.round(campaign.standard.climbDensityAltitudeM + random.uniform(-300, 900));
  const massKg = Math.round(Math.min(aeroplane.maximumMassKg, campaign.referenceMassKg * random.uniform(0.9, 1.15)));
  const rateMps = steadyClimb(aeroplane, standardAir(0), heightM, massKg, speedsOf(aeroplane, massKg).climbMps);
  const neededFpm = Math.round((rateMps / 0.00508) * random.uniform(0.7, 1.15));
  if (neededFpm < 20) return undefined;
  return {
    yaml: `  - { climb: c${number}, rate: ${neededFpm} ft/min, density-altitude: ${heightM} m, weight: ${massKg} kg }`,
    conditions: massKg > campaign.referenceMassKg ? 'heavier' : 'lighter',
    fits: rateMps >= neededFpm * 0.00508,
    room: rateMps / (neededFpm * 0.00508) - 1,
    truth: rateMps,
    factor: 'published',
  };
}

/** Modifications of the campaigns in turn, in fair weather: the answers are about margins, not about faked changes. */
export function missionCampaign(i: number): CampaignOptions {
  const names = (Object.keys(modifications) as (keyof typeof modifications)[]).filter((name) => name !== 'none');
  const days = [5, 6, 8][i % 3];
  return { daysBefore: days, daysAfter: days, runsPerDay: [1, 2], change: names[i % names.length], weather: 'fair' };
}
