import { checkEnvelope, type EnvelopeCheck, type EnvelopeCorner } from './envelope.ts';
import { balance, type Balance, type MassPoint } from './mass-point.ts';

/** A place where load can be put: seats, baggage, tank. */
export interface LoadStation {
  readonly name: string;
  readonly armM: number;
  /** Greatest mass allowed there, kg. */
  readonly maximumKg?: number;
  /** Fuel burns off; everything else stays. */
  readonly fuel: boolean;
}

export interface LoadedStation {
  readonly station: LoadStation;
  readonly massKg: number;
  readonly massSigmaKg?: number;
}

export interface LoadedCase {
  readonly name: 'take-off' | 'landing' | 'zero fuel' | 'most forward' | 'most aft';
  readonly balance: Balance;
  readonly check?: EnvelopeCheck;
  /** Masses at the stations, kg, for the table. */
  readonly loads: readonly { readonly name: string; readonly massKg: number }[];
  /** Plain sentences: a station over its limit, a CG nearer to a limit than its uncertainty. */
  readonly remarks: readonly string[];
}

export interface LoadingInput {
  readonly empty: MassPoint;
  readonly loads: readonly LoadedStation[];
  /** Fuel burnt between take-off and landing, kg, taken from the fuel stations in proportion to what they hold. */
  readonly fuelBurntKg: number;
  readonly envelope?: readonly EnvelopeCorner[];
  readonly maximumMassKg?: number;
  /** Least mass of a pilot in the front for the most adverse cases, kg. */
  readonly lightestPilotKg?: number;
  /** Station of the pilot, by name; needed for the most adverse cases. */
  readonly pilotStation?: string;
}

/**
 * The loaded cases a change has to be checked for: take-off, landing, zero fuel, and the most adverse forward and aft
 * loadings (the allowed loading with the CG furthest to that side, with the lightest pilot on board, never beyond the
 * maximum mass).
 *
 * Sources: FAA-H-8083-30B ch. 6 (adverse-loaded CG checks, figs 6-34 to 6-37); FAA-H-8083-25C ch. 10.
 */
export function loadedCases(input: LoadingInput): readonly LoadedCase[] {
  const burnt = withFuelBurnt(input.loads, input.fuelBurntKg);
  const fuelKg = fuelOf(input.loads);
  const cases: LoadedCase[] = [
    makeCase('take-off', input, input.loads),
    makeCase('landing', input, burnt),
    makeCase('zero fuel', input, withFuelBurnt(input.loads, fuelKg)),
  ];
  if (input.pilotStation !== undefined && input.envelope !== undefined) {
    const forward = adverse(input, 'forward');
    const aft = adverse(input, 'aft');
    if (forward !== undefined) cases.push(makeCase('most forward', input, forward));
    if (aft !== undefined) cases.push(makeCase('most aft', input, aft));
  }
  return cases;
}

function fuelOf(loads: readonly LoadedStation[]): number {
  return loads.reduce((sum, load) => sum + (load.station.fuel ? load.massKg : 0), 0);
}

function withFuelBurnt(loads: readonly LoadedStation[], burntKg: number): LoadedStation[] {
  const fuelKg = fuelOf(loads);
  const left = fuelKg > 0 ? Math.max(0, 1 - burntKg / fuelKg) : 1;
  return loads.map((load) => (load.station.fuel ? { ...load, massKg: load.massKg * left } : load));
}

/**
 * The allowed loading with the CG furthest to one side. Filling the stations from that side inwards, as long as each lies
 * beyond the CG reached so far, is exact: adding mass at an arm beyond the CG moves the CG that way, and no other order
 * moves it further for the same mass. The handbook's hand rule (fill what lies beyond the limit, FAA-H-8083-30B ch. 6) is
 * the case in which the CG reached is at the limit; loadings well inside it can lie further out than the rule says.
 */
function adverse(input: LoadingInput, side: 'forward' | 'aft'): LoadedStation[] | undefined {
  const pilot = input.loads.find((load) => load.station.name === input.pilotStation);
  if (pilot === undefined) return undefined;
  const sign = side === 'aft' ? 1 : -1;
  // A loading without anybody in the pilot's seat is no reason to fly without a pilot.
  const pilotKg = input.lightestPilotKg ?? pilot.massKg;
  const taken = new Map([[pilot.station.name, pilotKg]]);
  let total = balance([input.empty, { name: pilot.station.name, massKg: pilotKg, armM: pilot.station.armM }]);
  for (const load of [...input.loads].sort((left, right) => sign * (right.station.armM - left.station.armM))) {
    if (sign * (load.station.armM - total.cgM) <= 0) break;
    const already = taken.get(load.station.name) ?? 0;
    const roomKg = (input.maximumMassKg ?? Number.POSITIVE_INFINITY) - total.massKg;
    const addKg = Math.max(0, Math.min((load.station.maximumKg ?? load.massKg) - already, roomKg));
    taken.set(load.station.name, already + addKg);
    total = balance([
      { name: 'so far', massKg: total.massKg, armM: total.cgM },
      { name: load.station.name, massKg: addKg, armM: load.station.armM },
    ]);
  }
  return input.loads.map((load) => ({ ...load, massKg: taken.get(load.station.name) ?? 0 }));
}

/** Beyond this many standard deviations from a limit a calculated CG is called clear of it (two-sided 95 %). */
const CLEAR_SIGMAS = 1.96;

function makeCase(name: LoadedCase['name'], input: LoadingInput, loads: readonly LoadedStation[]): LoadedCase {
  const total = balance([
    input.empty,
    ...loads.map((load) => ({
      name: load.station.name,
      massKg: load.massKg,
      armM: load.station.armM,
      massSigmaKg: load.massSigmaKg,
    })),
  ]);
  const remarks: string[] = [];
  for (const load of loads) {
    const limit = load.station.maximumKg;
    if (limit !== undefined && load.massKg > limit + 1e-9) {
      remarks.push(`more than the limit at ${load.station.name}`);
    }
  }
  if (input.maximumMassKg !== undefined && total.massKg > input.maximumMassKg + 1e-9) {
    remarks.push('heavier than the maximum weight');
  }
  const fuelKg = fuelOf(input.loads);
  if (name === 'take-off' && fuelKg === 0 && input.loads.some((load) => load.station.fuel))
    remarks.push('no fuel on board');
  const pilot = loads.find((load) => load.station.name === input.pilotStation);
  if (name === 'take-off' && pilot?.massKg === 0) remarks.push('nobody in the place of the pilot');
  if (name === 'landing' && input.fuelBurntKg > fuelKg + 1e-9) remarks.push('more fuel is burnt than is on board');
  const check = input.envelope === undefined ? undefined : checkEnvelope(input.envelope, total.massKg, total.cgM);
  if (check !== undefined) {
    if (!check.inside) remarks.push('outside the envelope');
    else {
      const nearestM = Math.min(
        check.forwardMarginM ?? Number.POSITIVE_INFINITY,
        check.aftMarginM ?? Number.POSITIVE_INFINITY,
      );
      if (nearestM < CLEAR_SIGMAS * total.cgSigmaM) {
        remarks.push('nearer to a limit than the uncertainty of the masses and arms: weigh before relying on it');
      }
    }
  }
  return {
    name,
    balance: total,
    check,
    loads: loads.map((load) => ({ name: load.station.name, massKg: load.massKg })),
    remarks,
  };
}
