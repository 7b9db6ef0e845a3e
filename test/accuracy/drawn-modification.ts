import type { Aeroplane } from '../synth/aeroplane.ts';
import { modified } from '../synth/modification.ts';
import type { Random } from '../synth/random.ts';
import { staticRpm } from './drawn-aeroplane.ts';

/** A modification as it truly is, and as its owner would write it under `candidates`. */
export interface DrawnModification {
  readonly kind: ModificationKind;
  readonly after: Aeroplane;
  /** Factor on the rolling friction of the day. */
  readonly friction: number;
  /** Keys of the candidate, in the language of the spec. */
  readonly written: readonly string[];
  /** Whether the pitch is written, for the aircraft and for the candidate. */
  readonly pitchWritten: boolean;
}

export const modificationKinds = [
  'weight',
  'drag claimed',
  'lift claimed',
  'tyres',
  'wing tips',
  'power, constant speed',
  'power, fixed pitch kept',
  'power, fixed pitch matched',
  'diameter, constant speed',
  'diameter, fixed pitch',
  'fixed pitch to constant speed',
  'engine, propeller and weight',
] as const;
export type ModificationKind = (typeof modificationKinds)[number];

export function suits(kind: ModificationKind, aeroplane: Aeroplane): boolean {
  const fixed = aeroplane.propeller.kind === 'fixed-pitch';
  if (/fixed pitch/.test(kind)) return fixed;
  return /constant speed/.test(kind) ? !fixed : true;
}

const installed = (massKg: number): string =>
  massKg >= 0
    ? `installed: [{ item: parts, weight: ${massKg.toFixed(1)} kg +- 0.1 kg, arm: 0 mm }]`
    : `removed: [{ item: parts, weight: ${(-massKg).toFixed(1)} kg +- 0.1 kg, arm: 0 mm }]`;
const claim = (key: string, factor: number): string =>
  `${key}: ${factor >= 1 ? '+' : '-'}${Math.abs(100 * (factor - 1)).toFixed(1)} %`;
const pitch = (aeroplane: Aeroplane): string[] =>
  aeroplane.propeller.kind === 'fixed-pitch' ? [`propeller-pitch: ${aeroplane.propeller.pitchM.toFixed(2)} m`] : [];
const power = (aeroplane: Aeroplane): string => `rated-power: ${(aeroplane.engine.ratedPowerW / 1000).toFixed(2)} kW`;

/**
 * The truth of a claim is drawn about the claim: makers and forums are right within a third of the change about two times
 * in three, sometimes far off, never known beforehand (own judgement of the simulation's author).
 */
function trueOf(claimed: number, random: Random): number {
  return claimed ** Math.max(0, random.bounded(1, 0.3, 2.5));
}

const drawn = (after: Aeroplane, written: readonly string[], friction?: number): Drawn => ({
  after,
  written,
  friction,
});

interface Draw {
  readonly kind: ModificationKind;
  readonly before: Aeroplane;
  readonly random: Random;
  readonly sign: 1 | -1;
}

interface Drawn {
  readonly after: Aeroplane;
  readonly written: readonly string[];
  readonly friction?: number;
}

export function drawModification(kind: ModificationKind, before: Aeroplane, random: Random): DrawnModification {
  const pitchWritten = random.chance(0.6);
  const { after, written, friction = 1 } = drawers[kind]({ kind, before, random, sign: random.chance(0.5) ? 1 : -1 });
  return {
    kind,
    after,
    friction,
    written: pitchWritten && kind !== 'fixed pitch to constant speed' ? [...written, ...pitch(after)] : written,
    pitchWritten,
  };
}

function drawWeight({ kind, before, random, sign }: Draw): Drawn {
  const massKg = Math.round(sign * random.uniform(0.01, 0.06) * before.maximumMassKg);
  return drawn(modified(before, { name: kind, massKg }), [installed(massKg)]);
}

function drawDragClaimed({ kind, before, random, sign }: Draw): Drawn {
  const claimed = 1 + sign * random.uniform(0.03, 0.15);
  return drawn(modified(before, { name: kind, zeroLiftDrag: trueOf(claimed, random) }), [claim('drag', claimed)]);
}

function drawLiftClaimed({ kind, before, random }: Draw): Drawn {
  const lift = random.uniform(1.04, 1.16);
  const drag = random.uniform(1, 1.04);
  return drawn(
    modified(before, {
      name: kind,
      maximumLift: trueOf(lift, random),
      zeroLiftDrag: trueOf(drag, random),
      massKg: 2,
    }),
    [claim('lift', lift), claim('drag', drag), installed(2)],
  );
}

function drawTyres({ kind, before, random }: Draw): Drawn {
  const drag = random.uniform(1.02, 1.14);
  const friction = random.uniform(0.7, 0.95);
  const massKg = Math.round(random.uniform(2, 14));
  return drawn(
    modified(before, { name: kind, zeroLiftDrag: trueOf(drag, random), massKg }),
    [claim('drag', drag), claim('rolling-friction', friction), installed(massKg)],
    trueOf(friction, random),
  );
}

function drawWingTips({ before, random }: Draw): Drawn {
  const spanM = Number((before.spanM * random.uniform(1.02, 1.1)).toFixed(2));
  return drawn({ ...before, spanM }, [`wing-span: ${spanM} m`]);
}

function drawPowerConstantSpeed({ kind, before, random }: Draw): Drawn {
  // A kept propeller would overspeed with much more.
  const factor = kind === 'power, constant speed' ? random.uniform(0.85, 1.35) : random.uniform(0.88, 1.15);
  const after = modified(before, { name: kind, power: factor });
  return drawn(after, [power(after)]);
}

function drawPowerFixedPitchMatched({ kind, before, random }: Draw): Drawn {
  const after = matched(modified(before, { name: kind, power: random.uniform(0.9, 1.35) }), before, 0);
  return drawn(after, [power(after)]);
}

function drawDiameterConstantSpeed({ kind, before, random, sign }: Draw): Drawn {
  const diameterM = Number((before.propeller.diameterM * (1 + sign * random.uniform(0.01, 0.045))).toFixed(2));
  const changed = { ...before, propeller: { ...before.propeller, diameterM } };
  const after = kind === 'diameter, fixed pitch' ? matched(changed, before, random.uniform(-0.02, 0.02)) : changed;
  return drawn(after, [`propeller-diameter: ${diameterM} m`]);
}

function drawFixedPitchToConstantSpeed({ kind, before, random }: Draw): Drawn {
  const massKg = Math.round(random.uniform(8, 20));
  const heavier = modified(before, { name: kind, massKg });
  const after: Aeroplane = {
    ...heavier,
    propeller: {
      kind: 'constant-speed',
      diameterM: before.propeller.diameterM,
      staticMerit: random.uniform(0.46, 0.58),
      cruiseMerit: random.uniform(0.84, 0.91),
    },
  };
  return drawn(after, ['propeller: constant-speed', installed(massKg)]);
}

function drawEnginePropellerAndWeight({ kind, before, random }: Draw): Drawn {
  const massKg = Math.round(random.uniform(-5, 25));
  const diameterM = Number((before.propeller.diameterM * random.uniform(0.98, 1.05)).toFixed(2));
  const changed = modified(before, { name: kind, power: random.uniform(1.05, 1.35), massKg });
  const bigger = { ...changed, propeller: { ...changed.propeller, diameterM } };
  const after = before.propeller.kind === 'fixed-pitch' ? matched(bigger, before, random.uniform(-0.03, 0.03)) : bigger;
  return drawn(after, [power(after), `propeller-diameter: ${diameterM} m`, installed(massKg)]);
}

const drawers: Readonly<Record<ModificationKind, (draw: Draw) => Drawn>> = {
  weight: drawWeight,
  'drag claimed': drawDragClaimed,
  'lift claimed': drawLiftClaimed,
  tyres: drawTyres,
  'wing tips': drawWingTips,
  'power, constant speed': drawPowerConstantSpeed,
  'power, fixed pitch kept': drawPowerConstantSpeed,
  'power, fixed pitch matched': drawPowerFixedPitchMatched,
  'diameter, constant speed': drawDiameterConstantSpeed,
  'diameter, fixed pitch': drawDiameterConstantSpeed,
  'fixed pitch to constant speed': drawFixedPitchToConstantSpeed,
  'engine, propeller and weight': drawEnginePropellerAndWeight,
};

/** The pitch with which the engine turns as fast standing still as before, and a share more. */
function matched(changed: Aeroplane, before: Aeroplane, more: number): Aeroplane {
  const { propeller } = changed;
  if (propeller.kind !== 'fixed-pitch') return changed;
  const wanted = staticRpm(before) * (1 + more);
  let low = 0.4 * propeller.pitchM;
  let high = 2 * propeller.pitchM;
  for (let i = 0; i < 18; i++) {
    const middle = (low + high) / 2;
    if (staticRpm({ ...changed, propeller: { ...propeller, pitchM: middle } }) > wanted) low = middle;
    else high = middle;
  }
  return { ...changed, propeller: { ...propeller, pitchM: (low + high) / 2 } };
}
