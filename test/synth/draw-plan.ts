import { speedsOf } from './aeroplane.ts';
import type { FlightPlan } from './flight.ts';
import type { Random } from './random.ts';
import { type SimulationSetup, wrapAngle } from './simulation.ts';
import { steadyClimb } from './steady.ts';
import type { TakeoffTechnique } from './truth.ts';

/** What may be asked of a flight; drawn at random where absent. */
export interface PlanOptions {
  /** 'full' has several legs, 'short' one climb and three short legs, 'circuits' stays at the field. */
  readonly length?: 'full' | 'short' | 'circuits';
  readonly start?: 'standing' | 'rolling';
  readonly rejectFirst?: boolean;
  readonly circuits?: FlightPlan['circuits'];
  readonly goArounds?: number;
  readonly style?: TakeoffTechnique['style'];
  readonly epochS?: number;
  /** No scatter of technique and no disturbance: for checks of physics. */
  readonly nominal?: boolean;
  /** Height of the climb above the field. */
  readonly climbToM?: number;
  /** Power of the (first) cruise setting as a share of the rated. */
  readonly cruisePowerShare?: number;
}

const degree = Math.PI / 180;

/** A pilot's habits with the day's scatter about them. */
export function drawTechnique(
  setup: SimulationSetup,
  random: Random,
  style?: TakeoffTechnique['style'],
  nominal = false,
): TakeoffTechnique {
  const { aeroplane } = setup;
  const massKg = aeroplane.emptyMassKg + setup.loadKg + setup.fuelM3 * setup.fuelDensityKgM3;
  const speeds = speedsOf(aeroplane, massKg);
  const scatter = (sigma: number): number => (nominal ? 0 : random.bounded(0, sigma));
  const used =
    style ?? (aeroplane.gear === 'nosewheel' ? 'nosewheel' : random.pick(['three-point', 'tail-high'] as const));
  // In gusts a little is added, as everybody does.
  const extra = nominal ? 0 : 0.5 * setup.wind.gustSigmaMps;
  return {
    style: used,
    throttleRampS: Math.max(0.8, 2.5 + scatter(1)),
    holdOnBrakesS: !nominal && random.chance(0.2) ? random.uniform(2, 5) : 0,
    rotationMps: speeds.rotationMps * (1 + scatter(0.035)) + extra * 0.5,
    rotationRate: Math.max(0.3, 0.7 * (1 + scatter(0.3))),
    accelerateShare: Math.max(0.15, Math.min(0.85, 0.5 + scatter(0.15))),
    climbAwayMps: speeds.climbAwayMps * (1 + scatter(0.02)) + extra,
    startSpeedMps: random.uniform(2.5, 6),
    settles: !nominal && random.chance(0.15),
  };
}

export function drawPlan(setup: SimulationSetup, random: Random, runwayEnd: 0 | 1, options: PlanOptions): FlightPlan {
  const { aeroplane } = setup;
  const massKg = aeroplane.emptyMassKg + setup.loadKg + setup.fuelM3 * setup.fuelDensityKgM3;
  const nominal = options.nominal === true;
  const technique = drawTechnique(setup, random.fork('technique'), options.style, nominal);
  const length = options.length ?? random.pick(['full', 'short', 'circuits'] as const);
  const base = random.uniform(0, 360) * degree;
  const around = [0, 120, 240].map((turn) => wrapAngle(base + turn * degree));
  const cross = [0, 90, 180, 270].map((turn) => wrapAngle(base + turn * degree));
  const wantedM = options.climbToM ?? (length === 'full' ? random.uniform(700, 1500) : random.uniform(450, 800));
  // Nobody climbs for an hour: ten minutes at the rate of the day.
  const rate = steadyClimb(
    aeroplane,
    setup.air,
    setup.field.elevationM + 300,
    massKg,
    speedsOf(aeroplane, massKg).climbMps,
  );
  const climbToM = Math.min(wantedM, Math.max(380, 600 * rate));
  const part = (share: number, headingsRad: readonly number[], turns: number, legS: number) => ({
    setting: { kind: 'power', share } as const,
    settingName: `${Math.round(share * 100)} %`,
    headingsRad,
    legS,
    turns,
  });
  let cruise: FlightPlan['cruise'] = [];
  if (length === 'full') {
    cruise = [
      part(
        options.cruisePowerShare ?? 0.7,
        random.chance(0.5) ? around : cross,
        random.integer(0, 1),
        random.uniform(70, 110),
      ),
      part(0.55, random.chance(0.5) ? [base, wrapAngle(base + Math.PI)] : around, 0, random.uniform(60, 90)),
    ];
  } else if (length === 'short')
    cruise = [part(options.cruisePowerShare ?? 0.65, around, random.integer(0, 1), random.uniform(45, 70))];
  return {
    epochS: options.epochS ?? 1_767_600_000 + random.integer(0, 300) * 86_400 + random.integer(0, 36_000),
    runwayEnd,
    technique,
    lineUpM: random.uniform(5, 30),
    startKind: options.start ?? (random.chance(0.25) ? 'rolling' : 'standing'),
    ...((options.rejectFirst ?? random.chance(0.12)) && { rejectFirstAt: random.uniform(0.45, 0.9) }),
    circuits:
      options.circuits ??
      (length === 'circuits'
        ? Array.from({ length: random.integer(1, 3) }, () =>
            random.pick(['touch-and-go', 'stop-and-go', 'go-around'] as const),
          )
        : []),
    climbToM: length === 'circuits' ? 350 : climbToM,
    levelOffs: !nominal && random.chance(0.25) ? [{ atM: climbToM * 0.55, seconds: random.uniform(20, 60) }] : [],
    climbEasMps: speedsOf(aeroplane, massKg).climbMps * (nominal ? 1 : 1 + random.bounded(0, 0.03)),
    cruise,
    goArounds: options.goArounds ?? (random.chance(0.1) ? 1 : 0),
    landing: {
      stopMps: random.chance(0.5) ? 0 : random.uniform(3.5, 5),
      braking: random.uniform(0.15, 0.5),
    },
    standAtStartS: random.uniform(15, 60),
    runUp: random.chance(0.7),
    standAtEndS: random.uniform(10, 40),
    steadiness: nominal ? { speedSigmaMps: 0, heightSigmaM: 0 } : { speedSigmaMps: 0.5, heightSigmaM: 6 },
  };
}
