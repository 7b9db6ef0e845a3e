import type { InducedDragData } from '../corrections/index.ts';
import type { SurfaceKind } from '../spec/types.ts';

/** A mean of several flights at reference conditions: its own error, and the scatter of single flights around it. */
export interface MeasuredMean {
  readonly value: number;
  /** One sigma of the mean. */
  readonly sigma: number;
  /** One sigma of a single take-off (run) around the mean: what the next one will do. */
  readonly scatter: number;
  /** Degrees of freedom behind both. */
  readonly df: number;
}

/** A surface as missions need it. */
export interface StripSurface {
  readonly kind: SurfaceKind;
  readonly wet: boolean;
  readonly soft: boolean;
  /** Grass so long that no published factor stands for it. */
  readonly long?: boolean;
}

/** A distance from the start of the roll to a screen. */
export interface MeasuredScreen {
  readonly heightM: number;
  readonly distanceM: MeasuredMean;
}

/** What the flights of one configuration have shown, as the missions need it. */
export interface MeasuredPerformance {
  readonly configuration: string;
  readonly propeller: 'fixed-pitch' | 'constant-speed';
  readonly turbocharged: boolean;
  readonly emptyMassKg?: number;
  readonly maximumMassKg?: number;
  readonly usableFuelM3?: number;
  readonly fuelDensityKgM3: number;
  /** Distances from the start of the roll at reference conditions: level, still air. */
  readonly takeoff?: {
    readonly groundRollM: MeasuredMean;
    /** To the screen height below, from the start of the roll. */
    readonly distanceM: MeasuredMean;
    readonly screenHeightM: number;
    /** To other screen heights that were measured. */
    readonly otherScreens?: readonly MeasuredScreen[];
    /** At reference mass and density. */
    readonly liftoffTasMps: number;
    readonly massKg: number;
    readonly densityRatio: number;
    /** Of the flights: lowest and highest density ratio seen. */
    readonly densityRatioSeen: readonly [number, number];
    readonly surface?: StripSurface;
  };
  readonly climb?: {
    /** Rate at a density altitude, with one sigma, at `massKg`; undefined where the flights say nothing. */
    readonly rateAt: (densityAltitudeM: number) => { readonly value: number; readonly sigma: number } | undefined;
    readonly df: number;
    readonly seenM: readonly [number, number];
    readonly massKg: number;
    /** Wing and speed at a density altitude, for the induced drag of another weight, where they are known. */
    readonly polarAt?: (densityAltitudeM: number) => InducedDragData | undefined;
  };
  /** At which the cruise speeds stand; undefined where none was said. */
  readonly cruiseMassKg?: number;
  readonly cruise: readonly {
    readonly setting: string;
    readonly trueAirspeedMps: { readonly value: number; readonly sigma: number };
    readonly fuelFlowM3ps: { readonly value: number; readonly sigma: number };
  }[];
}

/** Every screen that was measured, the one asked about first in front. */
export function screensOf(takeoff: NonNullable<MeasuredPerformance['takeoff']>): readonly MeasuredScreen[] {
  return [{ heightM: takeoff.screenHeightM, distanceM: takeoff.distanceM }, ...(takeoff.otherScreens ?? [])];
}
