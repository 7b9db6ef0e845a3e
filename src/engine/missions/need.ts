import type { StripSurface } from './performance.ts';

/** A strip with an obstacle at its end, in the conditions it is to be used in. */
export interface StripNeed {
  readonly kind: 'strip';
  readonly name: string;
  /** Distance from the start of the roll to the obstacle, m. */
  readonly availableM: number;
  /** Above the ground where it stands. */
  readonly obstacleHeightM: number;
  /** Density ratio there, from elevation, altimeter setting and temperature. */
  readonly densityRatio: number;
  /** Tangent, positive uphill. */
  readonly slope: number;
  readonly surface?: StripSurface;
  /** Reported wind along the strip, m/s, positive against; negative is a tailwind. */
  readonly headwindMps: number;
  /** Total mass, or load on top of each configuration's own empty mass; one of the two. */
  readonly massKg?: number;
  readonly loadKg?: number;
}

/** A leg to be flown with a payload and the reserve kept. */
export interface LegNeed {
  readonly kind: 'leg';
  readonly name: string;
  readonly distanceM: number;
  /** People and baggage, kg. */
  readonly payloadKg: number;
  readonly headwindMps: number;
  readonly reserveTimeS: number;
  /** Start, taxi and climb, m3. */
  readonly allowanceM3: number;
  /** False where nobody wrote an allowance and it was taken as nothing; true if absent. */
  readonly allowanceStated?: boolean;
}

/** A rate of climb at a density altitude. */
export interface ClimbNeed {
  readonly kind: 'climb';
  readonly name: string;
  readonly rateMps: number;
  readonly densityAltitudeM: number;
  readonly massKg?: number;
  readonly loadKg?: number;
}

export type Need = StripNeed | LegNeed | ClimbNeed;

export type Answer = 'yes' | 'no' | 'not enough data';

/** A factor as applied, with where it comes from, to be shown. */
export interface AppliedFactor {
  readonly name: string;
  readonly factor: number;
  readonly source: string;
}

export interface MissionAnswer {
  readonly need: string;
  readonly kind: Need['kind'];
  readonly configuration: string;
  readonly answer: Answer;
  /** What it takes, in the need's own unit (m, m, m/s): 95 % interval before the safety factors. */
  readonly takes?: { readonly value: number; readonly low: number; readonly high: number };
  /** What is there. */
  readonly available?: number;
  /** Room left after all factors at the unfavourable end of the interval, in the same unit; negative is missing. */
  readonly margin?: number;
  readonly factors: readonly AppliedFactor[];
  /** One or more plain sentences: why the answer is what it is. */
  readonly why: readonly string[];
}
