import { loadedCases, percentMac, type EnvelopeCorner, type LoadedCase, type LoadStation } from '../loading/index.ts';
import type { DecisionSections } from '../spec/types.ts';
import { type EmptyState, emptyStates } from './empty.ts';

/** 6 lb/US gal is the handbook's figure for avgas (FAA-H-8083-25C ch. 10); 0.72 kg/L is the same, rounded. */
export const usualFuelDensityKgM3 = 720;

export interface LoadingCaseResult {
  readonly name: string;
  readonly cases: readonly LoadedCase[];
}

export interface LoadingStateResult extends EmptyState {
  readonly usefulLoadKg?: number;
  readonly percentMac?: number;
  readonly loadings: readonly LoadingCaseResult[];
  /** The most adverse forward and aft loadings, whatever is planned; empty without an envelope and a pilot's seat. */
  readonly adverse: readonly LoadedCase[];
}

export interface LoadingResult {
  readonly states: readonly LoadingStateResult[];
  readonly envelope?: readonly EnvelopeCorner[];
  readonly maximumMassKg?: number;
}

/** One sigma of a load that does not state it: people and baggage guessed, 3 % and at least 2 kg (own judgement). */
function loadSigmaKg(massKg: number): number {
  return massKg === 0 ? 0 : Math.max(2, 0.03 * massKg);
}

function isAdverse({ name }: LoadedCase): boolean {
  return name === 'most forward' || name === 'most aft';
}

/** Weight and balance of every configuration and candidate in every loading of the spec. */
export function evaluateLoading(sections: DecisionSections): LoadingResult | undefined {
  const { loading, aircraft } = sections;
  if (loading === undefined) return undefined;
  const fuelDensity = aircraft['fuel-density'] ?? usualFuelDensityKgM3;
  const maximumMassKg = aircraft['maximum-weight'];
  const stations: LoadStation[] = Object.entries(loading.stations).map(([name, station]) => ({
    name,
    armM: station.arm,
    maximumKg: station.limit,
    fuel: station.fuel ?? false,
  }));
  const pilotStation = Object.entries(loading.stations).find(([, station]) => station.pilot === true)?.[0];
  const massOf = (load: { massKg?: number; volumeM3?: number; sigma?: number } | undefined) => {
    const perUnit = load?.volumeM3 === undefined ? 1 : fuelDensity;
    const massKg = (load?.massKg ?? load?.volumeM3 ?? 0) * perUnit;
    return { massKg, massSigmaKg: load?.sigma === undefined ? loadSigmaKg(massKg) : load.sigma * perUnit };
  };

  const states = emptyStates(sections).map((state): LoadingStateResult => {
    const { empty } = state;
    if (empty === undefined) return { ...state, loadings: [], adverse: [] };
    const point = {
      name: 'empty',
      massKg: empty.massKg,
      armM: empty.cgM,
      massSigmaKg: empty.massSigmaKg,
      armSigmaM: empty.cgSigmaM,
    };
    const { chord, 'leading-edge': leadingEdge } = loading;
    const worked = Object.entries(loading.cases ?? {}).map(([name, written]) => ({
      name,
      cases: loadedCases({
        empty: point,
        loads: stations.map((station) => ({ station, ...massOf(written.load[station.name]) })),
        fuelBurntKg: massOf(written['fuel-burnt']).massKg,
        envelope: loading.envelope,
        maximumMassKg,
        lightestPilotKg: loading['lightest-pilot'],
        pilotStation,
      }),
    }));
    return {
      ...state,
      usefulLoadKg: maximumMassKg === undefined ? undefined : maximumMassKg - empty.massKg,
      percentMac:
        chord === undefined || leadingEdge === undefined ? undefined : percentMac(empty.cgM, leadingEdge, chord),
      loadings: worked.map((one) => ({ ...one, cases: one.cases.filter((each) => !isAdverse(each)) })),
      // They depend on what the stations may hold, not on the loading looked at: the first has them all.
      adverse: worked[0]?.cases.filter(isAdverse) ?? [],
    };
  });
  return { states, envelope: loading.envelope, maximumMassKg };
}
