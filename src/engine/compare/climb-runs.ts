import type { Climb, ClimbBand } from '../analysis.ts';
import { climbLapsePerM, climbWeightAddend, type InducedDragData, type Uncertain } from '../corrections/index.ts';
import { seaLevelDensityKgM3 } from '../atmosphere/index.ts';
import type { Spec } from '../spec/types.ts';
import { applied } from './applied.ts';
import { type CollectionRequest, leftOutList, type UsableFlight } from './flight-runs.ts';
import type { AppliedCorrection } from './result.ts';
import { standardDensityRatio } from './roll-conditions.ts';
import { type Collected, type CollectedRun, type ReducedRun, sigmaOf, type Target } from './run.ts';
import { airOf, isKnown, massOf, propellerOf, type SharedQuantity, totalSigma } from './run-conditions.ts';
import { addShifts } from './shift-sum.ts';

/** A climb belongs to the take-off before it when it begins within this time of lift-off, s: later ones may be at any power. */
const afterLiftoffS = 240;
/** Lower than this above the runway ground effect, shear and the clean-up of the take-off are in the rate, m (300 ft: flight-test practice). */
const lowestM = 90;
/** A band with more of its time in a turn is not used: bank costs climb. */
const mostTurning = 0.35;
/** What a band of 500 ft has of thermals and turbulence beyond its own interval, m/s: keeps one short band from ruling the mean. */
const bandScatterMps = 0.3;

interface BandPoint {
  readonly rateMps: number;
  readonly sigmaMps: number;
  readonly densityAltitudeM: number;
  readonly airspeedMps: number;
}

/** A climb brought down to one point: mean rate at a mean density altitude. */
interface ClimbPoint {
  readonly bands: readonly BandPoint[];
  readonly rateMps: number;
  readonly sigmaMps: number;
  /** With the errors of the notes by name. */
  readonly densityAltitude: SharedQuantity;
  readonly airspeedMps: number;
}

interface FlownClimb {
  readonly flight: UsableFlight;
  readonly number: number;
  readonly climb: Climb;
  readonly point: ClimbPoint;
}

/** How the rate of a configuration falls with density altitude: (m/s)/m, negative, and where its climbs lie. */
export interface RateLine {
  readonly slope: Uncertain;
  readonly lowestM: number;
  readonly highestM: number;
}

/** One band of a climb, as it is drawn. */
export interface SeenBand {
  readonly file: string;
  readonly day: string;
  readonly densityAltitudeM: number;
  readonly rateMps: number;
  readonly airspeedMps: number;
  /** Unknown where no weight was noted. */
  readonly massKg?: number;
}

/** What the climbs of each configuration look like, beyond their single values. */
export interface ClimbShape {
  readonly lines: ReadonlyMap<string, RateLine>;
  readonly bands: ReadonlyMap<string, readonly SeenBand[]>;
}

/**
 * Climbs after take-off, each as one mean rate at its mean density altitude: bands of a climb share its air, load and speed and are not independent.
 * The change of rate with density altitude comes from the bands within the climbs, joined with what physics expects.
 */
export function climbRuns(request: CollectionRequest): Collected & ClimbShape {
  const { spec, question, flights } = request;
  const leftOut = leftOutList(question.metric);
  const climbs: FlownClimb[] = [];
  for (const flight of flights) {
    flight.analysis.climbs.forEach((climb, index) => {
      const number = index + 1;
      const afterTakeoff = flight.analysis.takeoffs.some(
        ({ liftoff }) =>
          liftoff !== undefined && climb.startS > liftoff.timeS - 30 && climb.startS < liftoff.timeS + afterLiftoffS,
      );
      if (flight.analysis.takeoffs.length > 0 && !afterTakeoff) {
        leftOut.add(flight.file, number, 'Not the climb after a take-off: its power is not known.');
        return;
      }
      const point = pointOf(flight, climb);
      if (typeof point === 'string') leftOut.add(flight.file, number, point);
      else climbs.push({ flight, number, climb, point });
    });
  }
  const lines = new Map<string, RateLine>();
  const bands = new Map<string, readonly SeenBand[]>();
  for (const { id } of spec.configurations) {
    const own = climbs.filter(({ flight }) => flight.entry.configuration === id);
    if (own.length > 0) lines.set(id, rateLine(spec, id, own));
    bands.set(
      id,
      own.flatMap((flown) => seenBands(flown, spec)),
    );
  }
  const runs = climbs.flatMap((flown): CollectedRun[] => {
    const { flight, number, climb, point } = flown;
    const raw = rawOf(question.metric, climb, point, request);
    if (typeof raw === 'string') {
      leftOut.add(flight.file, number, raw);
      return [];
    }
    const mass = massOf(flight, spec, climb.startS);
    return [
      {
        file: flight.file,
        number,
        day: flight.day,
        configuration: flight.entry.configuration,
        timeS: climb.startS,
        raw: raw.interval,
        kinds: { strict: {}, soft: {} },
        conditions: {
          densityAltitudeM: point.densityAltitude.value,
          ...(isKnown(mass) ? { massKg: mass.value } : {}),
        },
        reduce: (target) => reduceClimb(flown, raw.point, lines, request, target),
      },
    ];
  });
  return { runs, leftOut: leftOut.entries, lines, bands };
}

function seenBands({ flight, climb, point }: FlownClimb, spec: Spec): SeenBand[] {
  const mass = massOf(flight, spec, (climb.startS + climb.endS) / 2);
  return point.bands.map(({ densityAltitudeM, rateMps, airspeedMps }) => ({
    file: flight.file,
    day: flight.day,
    densityAltitudeM,
    rateMps,
    airspeedMps,
    ...(isKnown(mass) ? { massKg: mass.value } : {}),
  }));
}

function pointOf(flight: UsableFlight, climb: Climb): ClimbPoint | string {
  const startM = flight.analysis.takeoffs.find((takeoff) => takeoff.startAltitudeM !== undefined)?.startAltitudeM;
  const pressure = climb.altitudeKind === 'pressure';
  const elevationM = flight.entry.conditions.runway?.elevationM;
  const groundM = startM ?? elevationM;
  if (groundM === undefined) return 'The height of the field is not known, so the height of the climb is not.';
  const field = airOf(flight);
  if (!isKnown(field)) return field;
  const bands: BandPoint[] = [];
  const shifts: { readonly weight: number; readonly shifts: SharedQuantity['shifts'] }[] = [];
  const used: ClimbBand[] = climb.bands.filter(
    (band) => band.turningFraction <= mostTurning && (band.fromAltitudeM + band.toAltitudeM) / 2 - groundM > lowestM,
  );
  if (used.length === 0) {
    return climb.bands.length === 0
      ? 'No band of the climb was flown through.'
      : 'Every band of the climb was turning or too close to the ground.';
  }
  for (const band of used) {
    const rate = band.energyRateMps ?? band.rateOfClimbMps;
    const middleM = (band.fromAltitudeM + band.toAltitudeM) / 2;
    const air = pressure ? airOf(flight, 0, middleM) : airOf(flight, middleM - groundM);
    if (!isKnown(air)) return air;
    const sigmaMps = Math.hypot(sigmaOf(rate), bandScatterMps);
    bands.push({
      rateMps: rate.value,
      sigmaMps,
      densityAltitudeM: air.densityAltitudeM.value,
      airspeedMps: band.trueAirspeedMps ?? band.groundSpeedMps,
    });
    shifts.push({ weight: 1 / sigmaMps ** 2, shifts: air.densityAltitudeM.shifts });
  }
  const total = shifts.reduce((sum, { weight }) => sum + weight, 0);
  const average = (of: (band: BandPoint) => number): number =>
    bands.reduce((sum, band, i) => sum + (shifts[i].weight / total) * of(band), 0);
  const joined: Record<string, number> = {};
  for (const { weight, shifts: own } of shifts) addShifts(joined, own, weight / total);
  return {
    bands,
    rateMps: average((band) => band.rateMps),
    sigmaMps: Math.hypot(Math.sqrt(1 / total), climb.airMotionSigmaMps ?? 0),
    densityAltitude: { value: average((band) => band.densityAltitudeM), shifts: joined, remarks: [] },
    airspeedMps: average((band) => band.airspeedMps),
  };
}

/**
 * Absolute ceiling of an ordinary light aeroplane at ordinary weights, m, and its spread: worked examples at full weight have 15,000 to
 * 16,300 ft, and a tenth less weight gives a tenth more (own judgement).
 */
const usualCeiling: Uncertain = { value: 5200, sigma: 1500 };

function expectedSlope(spec: Spec, configuration: string, climbs: readonly FlownClimb[]): Uncertain {
  const mean = (of: (climb: FlownClimb) => number): number =>
    climbs.reduce((sum, climb) => sum + of(climb), 0) / climbs.length;
  const rateMps = mean(({ point }) => point.rateMps);
  const densityAltitudeM = mean(({ point }) => point.densityAltitude.value);
  const masses = climbs.flatMap(({ flight, climb }) => {
    const mass = massOf(flight, spec, climb.startS);
    return isKnown(mass) ? [mass.value] : [];
  });
  const ratedPowerW =
    spec.configurations.find(({ id }) => id === configuration)?.ratedPowerW ?? spec.aircraft.ratedPowerW;
  if (spec.aircraft.turbocharged) {
    // Power is kept to the critical altitude; the rate still falls a little with the growing true airspeed.
    return { value: -0.15e-3 * rateMps, sigma: 0.15e-3 * Math.abs(rateMps) };
  }
  // A fixed-pitch propeller never lets the engine give its rated power in a climb: there the usual ceiling is the better guide.
  if (propellerOf(spec, configuration) === 'constant-speed' && ratedPowerW !== undefined && masses.length > 0) {
    const massKg = masses.reduce((sum, mass) => sum + mass, 0) / masses.length;
    return climbLapsePerM({ rateMps, massKg, ratedPowerW, densityRatio: standardDensityRatio(densityAltitudeM) });
  }
  const belowCeilingM = Math.max(1500, usualCeiling.value - densityAltitudeM);
  const value = -Math.abs(rateMps) / belowCeilingM;
  return { value, sigma: (Math.abs(value) * usualCeiling.sigma) / belowCeilingM };
}

/** Slope within climbs, its error from the scatter of whole climbs (the bands of one climb are one piece of air), joined with the expectation. */
function rateLine(spec: Spec, configuration: string, climbs: readonly FlownClimb[]): RateLine {
  const expected = expectedSlope(spec, configuration, climbs);
  let squares = 0;
  let products = 0;
  const parts: { readonly square: number; readonly product: number }[] = [];
  for (const { point } of climbs) {
    let square = 0;
    let product = 0;
    for (const band of point.bands) {
      const weight = 1 / band.sigmaMps ** 2;
      const offset = band.densityAltitudeM - point.densityAltitude.value;
      square += weight * offset * offset;
      product += weight * offset * (band.rateMps - point.rateMps);
    }
    parts.push({ square, product });
    squares += square;
    products += product;
  }
  const altitudes = climbs.flatMap(({ point }) => point.bands.map((band) => band.densityAltitudeM));
  const range = { lowestM: Math.min(...altitudes), highestM: Math.max(...altitudes) };
  if (!(squares > 0)) return { slope: expected, ...range };
  const found = products / squares;
  const count = climbs.length;
  const scatter = parts.reduce((sum, { square, product }) => sum + (product - found * square) ** 2, 0) / squares ** 2;
  // The bands' own errors are a floor; one or two climbs cannot tell their scatter.
  const sigmaFound = Math.sqrt(
    Math.max(count > 2 ? (scatter * count) / (count - 1) : 0, (count > 2 ? 1 : 4) / squares),
  );
  const weightFound = 1 / sigmaFound ** 2;
  const weightExpected = 1 / expected.sigma ** 2;
  return {
    slope: {
      value: (weightFound * found + weightExpected * expected.value) / (weightFound + weightExpected),
      sigma: Math.sqrt(1 / (weightFound + weightExpected)),
    },
    ...range,
  };
}

/** Rate of climb, m/s, that a `climb-held-to` asks for; 100 ft/min for the service ceiling. */
export function askedRateMps({ question }: CollectionRequest): number | undefined {
  return question.metric === 'service-ceiling' ? 0.508 : question.rateMps;
}

function rawOf(
  metric: string,
  climb: Climb,
  point: ClimbPoint,
  request: CollectionRequest,
): { readonly interval: CollectedRun['raw']; readonly point: ClimbPoint } | string {
  switch (metric) {
    case 'best-minute-climb': {
      const best = climb.bestMinuteMps;
      if (best === undefined) return 'No whole minute of steady climb was found.';
      // Its height is not told: that of the band with the highest rate.
      const highest = point.bands.reduce((a, b) => (b.rateMps > a.rateMps ? b : a));
      const { value, shifts, remarks } = point.densityAltitude;
      const shifted = { value: value + highest.densityAltitudeM - value, shifts, remarks };
      return {
        interval: best,
        point: {
          ...point,
          rateMps: best.value,
          sigmaMps: Math.hypot(sigmaOf(best), climb.airMotionSigmaMps ?? 0),
          densityAltitude: shifted,
        },
      };
    }
    case 'climb-gradient': {
      if (climb.bands.some((band) => band.trueAirspeedMps === undefined)) {
        return "No true airspeed: the gradient over the ground is one of the day's wind.";
      }
      const interval = climb.gradient;
      return interval === undefined ? 'The gradient could not be measured.' : { interval, point };
    }
    case 'climb-held-to':
    case 'service-ceiling':
      return askedRateMps(request) === undefined
        ? 'The question does not say which rate of climb is to be held.'
        : { interval: climb.energyRateMps ?? climb.rateOfClimbMps, point };
    default:
      return { interval: climb.energyRateMps ?? climb.rateOfClimbMps, point };
  }
}

/** Induced drag, where wing area and span are known. */
export function polarOf(spec: Spec, densityAltitudeM: number, airspeedMps: number): InducedDragData | undefined {
  const { wingAreaM2, spanM } = spec.aircraft;
  if (wingAreaM2 === undefined || spanM === undefined) return undefined;
  const densityKgM3 = standardDensityRatio(densityAltitudeM) * seaLevelDensityKgM3;
  return { aspectRatio: spanM ** 2 / wingAreaM2, wingAreaM2, densityKgM3, trueAirspeedMps: airspeedMps };
}

function reduceClimb(
  { flight, climb }: FlownClimb,
  point: ClimbPoint,
  lines: ReadonlyMap<string, RateLine>,
  request: CollectionRequest,
  target: Target,
): ReducedRun | string {
  const { spec, question } = request;
  const configuration = flight.entry.configuration;
  const ceiling = question.metric === 'climb-held-to' || question.metric === 'service-ceiling';
  if (target.footing === 'as-flown') {
    if (ceiling) return 'An altitude up to which a rate is held is only given at a reference weight.';
    const raw =
      question.metric === 'climb-gradient'
        ? climb.gradient
        : question.metric === 'best-minute-climb'
          ? climb.bestMinuteMps
          : (climb.energyRateMps ?? climb.rateOfClimbMps);
    if (raw === undefined) return 'It could not be measured.';
    return {
      value: raw.value,
      ownSigma: Math.hypot(sigmaOf(raw), climb.airMotionSigmaMps ?? 0),
      shared: {},
      corrections: [],
    };
  }
  const line = lines.get(configuration);
  const mass = massOf(flight, spec, (climb.startS + climb.endS) / 2);
  const targetMass = target.massOf(configuration);
  if (line === undefined) return 'Too little is known of how the climb falls with height.';
  if (!isKnown(mass)) return mass;
  if (targetMass === undefined) return 'The reference weight is not known for this configuration.';
  const referenceM = spec.reference.climbDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const massUncertain = { value: mass.value, sigma: totalSigma(mass) };
  const polar = polarOf(spec, ceiling ? point.densityAltitude.value : referenceM, point.airspeedMps);
  const airM = point.densityAltitude;
  try {
    const atReference = ceiling ? point.rateMps : point.rateMps + line.slope.value * (referenceM - airM.value);
    const weight = climbWeightAddend({
      rateMps: atReference,
      massKg: massUncertain,
      referenceMassKg: targetMass.value,
      ...(polar === undefined ? {} : { polar }),
    });
    const rateMps = atReference + (weight.addend ?? 0);
    const corrections: AppliedCorrection[] = [];
    const shared: Record<string, number> = {};
    const ofRate = (sensitivity: number | undefined): number => (sensitivity ?? 0) * Math.abs(rateMps);
    if (massUncertain.sigma > 0) addShifts(shared, mass.shifts, ofRate(weight.sensitivity.mass) / massUncertain.sigma);
    addShifts(shared, { 'induced drag': ofRate(weight.sensitivity['induced drag']) }, 1);
    addShifts(
      shared,
      {
        [`empty mass ${configuration}`]:
          (-ofRate(weight.sensitivity.mass) / Math.max(1e-9, massUncertain.sigma)) * targetMass.sigma,
      },
      1,
    );
    if (ceiling) {
      const asked = askedRateMps(request);
      if (asked === undefined) return 'The question does not say which rate of climb is to be held.';
      const steepness = -line.slope.value;
      if (!(steepness > 0) || !(line.slope.sigma < 0.5 * steepness)) {
        return 'How the climb falls with height is not known well enough.';
      }
      const value = airM.value + (rateMps - asked) / steepness;
      const inMetres = addShifts({}, shared, 1 / steepness);
      addShifts(inMetres, airM.shifts, 1);
      addShifts(
        inMetres,
        { [`rate line ${configuration}`]: ((rateMps - asked) / steepness ** 2) * line.slope.sigma },
        1,
      );
      corrections.push({ ...applied(weight), addend: (weight.addend ?? 0) / steepness });
      return { value, ownSigma: point.sigmaMps / steepness, shared: inMetres, corrections };
    }
    addShifts(shared, airM.shifts, -line.slope.value);
    addShifts(shared, { [`rate line ${configuration}`]: (referenceM - airM.value) * line.slope.sigma }, 1);
    const densityAddend = line.slope.value * (referenceM - airM.value);
    const densitySigma = Math.hypot(line.slope.value * totalSigma(airM), (referenceM - airM.value) * line.slope.sigma);
    corrections.push(
      {
        name: 'density',
        addend: densityAddend,
        relativeSigma: densitySigma / Math.abs(rateMps),
        ...(Math.abs(densityAddend) > 0.1 * Math.abs(point.rateMps)
          ? {
              warning:
                'The correction for density is more than 10 %: it rests on the line of rate against density altitude.',
            }
          : {}),
      },
      applied(weight),
    );
    if (question.metric === 'climb-gradient') {
      // The same indicated airspeed is a faster true airspeed in thinner air.
      const root = Math.sqrt(standardDensityRatio(airM.value) / standardDensityRatio(referenceM));
      const speed = point.airspeedMps * root;
      return {
        value: rateMps / speed,
        ownSigma: point.sigmaMps / speed,
        shared: addShifts({}, shared, 1 / speed),
        corrections: corrections.map((correction) => ({ ...correction, addend: (correction.addend ?? 0) / speed })),
      };
    }
    return { value: rateMps, ownSigma: point.sigmaMps, shared, corrections };
  } catch (error) {
    if (error instanceof RangeError) return `It cannot be brought to reference conditions: ${error.message}`;
    throw error;
  }
}
