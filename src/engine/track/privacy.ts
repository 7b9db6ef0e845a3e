import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';
import { localPlane } from '../geo/local-plane.ts';
import { median } from '../stats/sample.ts';
import { keepRows } from './columns.ts';
import type { Track } from './track.ts';

export interface Place {
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** Where moved tracks lie: on the equator, in the middle of an ocean, so that nobody takes it for a real field. */
export const hiddenHome: Place = { latDeg: 0, lonDeg: -30 };

/**
 * The track moved so that `home` comes to {@link hiddenHome}: distances and directions stay
 * (to 2 parts in 100,000 within 70 km), the place is gone. Recorded directions are turned with the meridian, which leans
 * towards the pole away from home: how much they differ from the motion would tell the latitude. Times and heights stay:
 * with a date and a runway direction a determined reader may still find the field.
 */
export function withRelativePlaces(track: Track, home: Place): Track {
  const from = localPlane(home.latDeg, home.lonDeg);
  const to = localPlane(hiddenHome.latDeg, hiddenHome.lonDeg);
  const rows = track.latDeg.length;
  const latDeg = new Float64Array(rows);
  const lonDeg = new Float64Array(rows);
  const turnRad = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    const { eastM, northM } = from.toPlane(track.latDeg[row], track.lonDeg[row]);
    const moved = to.toDegrees(eastM, northM);
    latDeg[row] = moved.latDeg;
    lonDeg[row] = moved.lonDeg;
    turnRad[row] =
      convergenceRad(home, track.latDeg[row], track.lonDeg[row]) -
      convergenceRad(hiddenHome, moved.latDeg, moved.lonDeg);
  }
  const turned = (values: Float64Array): Float64Array => values.map((value, row) => wrapped(value - turnRad[row]));
  const channels = { ...track.channels };
  for (const name of directionChannels) {
    const values = channels[name];
    if (values) channels[name] = turned(values);
  }
  const assumption = 'Positions were moved to hide the field: they lie relative to a point in the ocean.';
  return {
    ...track,
    latDeg,
    lonDeg,
    ...(track.trackRad ? { trackRad: turned(track.trackRad) } : {}),
    channels,
    assumptions: [...track.assumptions, assumption],
  };
}

const directionChannels = ['headingRad', 'windFromRad'] as const;
const radiansPerDegree = Math.PI / 180;

/** How far north at a point leans from north at home, radians: the difference of longitude times the sine of the mean latitude. */
function convergenceRad(home: Place, latDeg: number, lonDeg: number): number {
  const eastDeg = ((((lonDeg - home.lonDeg + 180) % 360) + 360) % 360) - 180;
  return eastDeg * radiansPerDegree * Math.sin(((home.latDeg + latDeg) / 2) * radiansPerDegree);
}

/** Into 0 to 2 pi; a direction that stood outside was written so and is brought in as well. */
function wrapped(rad: number): number {
  const turn = rad % (2 * Math.PI);
  return turn < 0 ? turn + 2 * Math.PI : turn;
}

/** A seam shorter than this is widened, so that it is a gap whatever format the copy is written in (see `gaps.ts`). */
const shortestSeamS = 10;
const shortestSeamSteps = 8;

/** A circle on the ground. */
export interface Circle extends Place {
  readonly radiusM: number;
}

/**
 * The track without what lies within circles; breaks mark where it was cut, and each seam lasts long enough to be a gap.
 * Rows without a position go too. `undefined` when nothing is left. From several tracks cut at the same circle its centre
 * and radius can be worked out: give a circle whose centre is some way off the place that it hides.
 */
export function withoutCircles(track: Track, circles: readonly Circle[]): Track | undefined {
  const planes = circles.map((circle) => ({ ...circle, plane: localPlane(circle.latDeg, circle.lonDeg) }));
  const { timeS, latDeg, lonDeg } = track;
  const seamS = Math.max(shortestSeamS, shortestSeamSteps * usualStepS(timeS));
  const rows: number[] = [];
  let lastOutside = -1;
  let cut = false;
  for (let row = 0; row < timeS.length; row++) {
    if (!Number.isFinite(latDeg[row]) || !Number.isFinite(lonDeg[row])) continue;
    const outside = planes.every(({ plane, radiusM }) => {
      const { eastM, northM } = plane.toPlane(latDeg[row], lonDeg[row]);
      return Math.hypot(eastM, northM) > radiusM;
    });
    if (!outside) cut ||= lastOutside >= 0;
    else if (!cut || timeS[row] - timeS[lastOutside] >= seamS) {
      rows.push(row);
      lastOutside = row;
      cut = false;
    }
  }
  return rows.length > 0 ? keepRows(track, rows) : undefined;
}

function usualStepS(timeS: Float64Array): number {
  const steps = timeS.slice(1).map((at, row) => at - timeS[row]);
  return steps.length === 0 ? 0 : median(steps);
}

/** Of the step in which a recorder wrote its positions: enough to hide it in the positions of an hour. */
const shakenSteps = 0.5;

/**
 * The track with each position shaken by about half the step in which the recorder wrote it. Steps of latitude and
 * longitude stay in a track that is moved, and their ratio is the cosine of the latitude. A normal shift of half a step
 * leaves exp(-pi^2 / 2), 0.7 %, of the grid's first harmonic at the equator and less elsewhere, which 2,000 positions
 * cannot show. Equal positions are shaken alike, so that averaging over a standstill does not bring the grid back.
 * Positions whose step is not known are taken to be written in millionths of a degree.
 *
 * @param seed of the random numbers; who knows it can take the shifts off again
 */
export function withoutGrid(track: Track, seed: number): Track {
  const stepM = track.positionResolutionM ?? 0.11;
  const random = xoroshiro128plus(seed);
  const shifts = new Map<string, readonly [number, number]>();
  const latDeg = Float64Array.from(track.latDeg);
  const lonDeg = Float64Array.from(track.lonDeg);
  for (let row = 0; row < latDeg.length; row++) {
    if (Number.isNaN(latDeg[row]) || Number.isNaN(lonDeg[row])) continue;
    const key = `${latDeg[row]} ${lonDeg[row]}`;
    let shift = shifts.get(key);
    if (shift === undefined) {
      shift = normalPair(random);
      shifts.set(key, shift);
    }
    const sigmaM = shakenSteps * stepM;
    latDeg[row] += (shift[0] * sigmaM) / metresPerDegree;
    lonDeg[row] += (shift[1] * sigmaM) / (metresPerDegree * Math.cos((latDeg[row] * Math.PI) / 180));
  }
  return { ...track, latDeg, lonDeg };
}

/** A degree of a meridian, metres; this good to a percent is enough for a shift at random. */
const metresPerDegree = 111_200;

/** Two independent normal numbers (Box and Muller, Annals of Mathematical Statistics 29, 1958). */
function normalPair(random: RandomGenerator): readonly [number, number] {
  const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(random)));
  const angle = 2 * Math.PI * uniformFloat64(random);
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}

/** The first position of a track; `undefined` when it has none. */
export function firstPlace(track: Track): Place | undefined {
  const row = track.latDeg.findIndex((value, at) => Number.isFinite(value) && Number.isFinite(track.lonDeg[at]));
  return row < 0 ? undefined : { latDeg: track.latDeg[row], lonDeg: track.lonDeg[row] };
}

/** The last position of a track; `undefined` when it has none. */
export function lastPlace(track: Track): Place | undefined {
  let row = track.latDeg.length - 1;
  while (row >= 0 && !(Number.isFinite(track.latDeg[row]) && Number.isFinite(track.lonDeg[row]))) row--;
  return row < 0 ? undefined : { latDeg: track.latDeg[row], lonDeg: track.lonDeg[row] };
}
