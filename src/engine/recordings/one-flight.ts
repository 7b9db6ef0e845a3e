import { localPlane } from '../geo/local-plane.ts';
import { median } from '../stats/sample.ts';
import { clockOffset } from '../track/clock-offset.ts';
import { joinChapters } from '../track/join-chapters.ts';
import type { Track } from '../track/track.ts';
import type { ReadFile, Recorder } from './join-flight.ts';

/** What is kept of a recording to tell whether others are of the same flight: little, so that hundreds can be compared. */
export interface RecordingOutline {
  readonly file: string;
  readonly format?: string;
  /** Unix times. */
  readonly startS: number;
  readonly endS: number;
  /** Median, of the samples. */
  readonly rateHz: number;
  /** Where it was, every {@link placeStepS} or so, the first and the last sample included. */
  readonly places: {
    readonly timeS: readonly number[];
    readonly latDeg: readonly number[];
    readonly lonDeg: readonly number[];
  };
}

/** Files that look like one flight: names as in the outlines. */
export interface LikelyFlight {
  readonly file: string;
  readonly continuedIn: readonly string[];
  readonly alsoRecordedBy: readonly { readonly file: string; readonly continuedIn: readonly string[] }[];
}

/** All files of it, the first recording first. */
export function filesOf({ file, continuedIn, alsoRecordedBy }: LikelyFlight): readonly string[] {
  return [file, ...continuedIn, ...alsoRecordedBy.flatMap((second) => [second.file, ...second.continuedIn])];
}

/** At 50 m/s 250 m: enough to tell one aeroplane from another. */
const placeStepS = 5;

/** Files that a recorder split follow each other at once (see `joinChapters`). */
const [mostOverlapS, mostPauseS] = [3, 5];

/** No aeroplane of this kind is faster; a fix may be this far off besides. */
const [fastestMps, poorFixM] = [150, 100];

/** Common time, and ground covered in it, below which nothing is told: two that stand at one field prove nothing. */
const [leastCommonS, leastCoveredM] = [60, 1000];

/** As for `clockOffset`: two receivers in one cabin, and a second or two of their clocks and delays. */
const furthestApartM = 500;

/** A recorder covers more of a flight than another when it is longer by this; else the faster one comes first. */
const clearlyLonger = 1.1;

export function outlineOf(file: string, track: Track, format?: string): RecordingOutline | undefined {
  const { timeS, latDeg, lonDeg } = track;
  const rows: number[] = [];
  let last = -1;
  for (let row = 0; row < timeS.length; row++) {
    if (!Number.isFinite(latDeg[row]) || !Number.isFinite(lonDeg[row])) continue;
    last = row;
    const before = rows[rows.length - 1];
    if (before === undefined || timeS[row] - timeS[before] >= placeStepS) rows.push(row);
  }
  if (last < 0) return undefined;
  if (rows[rows.length - 1] !== last) rows.push(last);
  const steps = timeS.slice(1).map((time, row) => time - timeS[row]);
  return {
    file,
    ...(format === undefined ? {} : { format }),
    startS: timeS[0],
    endS: timeS[timeS.length - 1],
    rateHz: 1 / median(steps),
    places: {
      timeS: rows.map((row) => timeS[row]),
      latDeg: rows.map((row) => latDeg[row]),
      lonDeg: rows.map((row) => lonDeg[row]),
    },
  };
}

function metres(aLat: number, aLon: number, bLat: number, bLon: number): number {
  const { eastM, northM } = localPlane(aLat, aLon).toPlane(bLat, bLon);
  return Math.hypot(eastM, northM);
}

/** True when the second goes on at once, at the same place, where the first ends. */
function goesOn(before: RecordingOutline, after: RecordingOutline): boolean {
  if (before.format !== after.format) return false;
  const pauseS = after.startS - before.endS;
  if (pauseS < -mostOverlapS || pauseS > mostPauseS) return false;
  const [a, b] = [before.places, after.places];
  const jumpM = metres(a.latDeg.at(-1) ?? 0, a.lonDeg.at(-1) ?? 0, b.latDeg[0], b.lonDeg[0]);
  // Between the last place kept and the first the aeroplane may have moved.
  const betweenS = Math.max(0, b.timeS[0] - (a.timeS.at(-1) ?? 0));
  return jumpM <= poorFixM + fastestMps * betweenS;
}

/** True when both were at the same places at the same times, in movement. */
export function flewTogether(a: RecordingOutline, b: RecordingOutline, apartM = furthestApartM): boolean {
  const fromS = Math.max(a.startS, b.startS);
  const toS = Math.min(a.endS, b.endS);
  if (toS - fromS < leastCommonS) return false;
  const apart: number[] = [];
  const covered = { south: 90, north: -90, west: 180, east: -180 };
  let next = 0;
  for (const [row, timeS] of a.places.timeS.entries()) {
    if (timeS < fromS || timeS > toS) continue;
    while (next < b.places.timeS.length && b.places.timeS[next] < timeS) next++;
    if (next === 0 || next === b.places.timeS.length) continue;
    const stepS = b.places.timeS[next] - b.places.timeS[next - 1];
    if (stepS > 4 * placeStepS) continue;
    const share = (timeS - b.places.timeS[next - 1]) / stepS;
    const between = (values: readonly number[]): number => values[next - 1] + share * (values[next] - values[next - 1]);
    const [lat, lon] = [a.places.latDeg[row], a.places.lonDeg[row]];
    apart.push(metres(lat, lon, between(b.places.latDeg), between(b.places.lonDeg)));
    covered.south = Math.min(covered.south, lat);
    covered.north = Math.max(covered.north, lat);
    covered.west = Math.min(covered.west, lon);
    covered.east = Math.max(covered.east, lon);
  }
  if (apart.length * placeStepS < leastCommonS / 2 || median(apart) > apartM) return false;
  return metres(covered.south, covered.west, covered.north, covered.east) >= leastCoveredM;
}

/** Recordings that go on in each other, each chain in the order of time. */
function chainsOf(outlines: readonly RecordingOutline[]): RecordingOutline[][] {
  const chains: RecordingOutline[][] = [];
  for (const one of [...outlines].sort((a, b) => a.startS - b.startS || (a.file < b.file ? -1 : 1))) {
    const chain = chains.find((other) => goesOn(other[other.length - 1], one));
    if (chain === undefined) chains.push([one]);
    else chain.push(one);
  }
  return chains;
}

const spanS = (chain: readonly RecordingOutline[]): number => chain[chain.length - 1].endS - chain[0].startS;

/**
 * Recordings that plainly are of one flight: parts that a recorder split, and recorders that were at the same places at the
 * same times. Only what is plain by the clocks as they are: a clock that is off by more than some seconds is not looked
 * through here. Of each flight the recorder that covers most comes first; of two that cover the same, the faster.
 */
export function likelyFlights(outlines: readonly RecordingOutline[]): readonly LikelyFlight[] {
  const chains = chainsOf(outlines).sort((a, b) => {
    const [longer, shorter] = spanS(a) >= spanS(b) ? [a, b] : [b, a];
    if (spanS(longer) > clearlyLonger * spanS(shorter)) return longer === a ? -1 : 1;
    return b[0].rateHz - a[0].rateHz || a[0].startS - b[0].startS;
  });
  const taken = new Set<RecordingOutline[]>();
  const flights: LikelyFlight[] = [];
  for (const chain of chains) {
    if (taken.has(chain)) continue;
    taken.add(chain);
    const seconds = chains.filter(
      (other) => !taken.has(other) && other.some((part) => chain.some((own) => flewTogether(own, part))),
    );
    for (const second of seconds) taken.add(second);
    if (chain.length + seconds.length < 2) continue;
    const names = (part: readonly RecordingOutline[]): { file: string; continuedIn: string[] } => ({
      file: part[0].file,
      continuedIn: part.slice(1).map(({ file }) => file),
    });
    flights.push({ ...names(chain), alsoRecordedBy: seconds.map(names) });
  }
  return flights;
}

/**
 * Files that a person says are of one flight, sorted into recorders: the first named is the first recording, whatever goes
 * on in it by place and time is its continuation, and what moves as it does, by whatever clock, is another recorder.
 */
export function asOneFlight(files: readonly ReadFile[]): {
  readonly first: Recorder;
  readonly others: readonly Recorder[];
} {
  const chains: ReadFile[][] = [];
  const fits = (chain: readonly ReadFile[], file: ReadFile): boolean => {
    if (file.track === undefined || chain[0].track === undefined || chain[0].format !== file.format) return false;
    const chapters = [...chain, file].flatMap((one) =>
      one.track === undefined ? [] : [{ name: one.file, track: one.track }],
    );
    if (joinChapters(chapters).problems.some(({ severity }) => severity === 'error')) return false;
    // A copy by a clock that is an hour off begins where the first ends, at the same field.
    const { track } = file;
    return chain.every((one) => one.track === undefined || typeof clockOffset(one.track, track) === 'string');
  };
  for (const file of files) {
    const chain = chains.find((other) => fits(other, file));
    if (chain === undefined) chains.push([file]);
    else chain.push(file);
  }
  const [first, ...others] = chains.map(([named, ...continued]): Recorder => ({ named, continued }));
  return { first, others };
}

/** Two recordings of one flight, one of them by a clock that is off by hours. */
export interface WrongClock {
  readonly file: string;
  readonly other: string;
  /** To be added to the other's times, seconds: a multiple of half an hour. */
  readonly offsetS: number;
}

/** Offsets from UTC are whole or half hours nearly everywhere, up to 14 h. */
const [zoneStepS, furthestZoneS] = [1800, 14 * 3600];

/** Share of the shorter recording in common, and distance, that are no chance even between two flights of the same circuit. */
const [leastShare, sameClockM] = [0.8, 200];

/**
 * Recordings that flew the same way to the second but hours apart: one flight twice, the second by a clock that keeps local
 * time, most likely. It would count as two flights.
 */
export function wrongClocks(outlines: readonly RecordingOutline[]): readonly WrongClock[] {
  const found: WrongClock[] = [];
  // Of a flight in several recordings one is enough.
  const further = new Set(likelyFlights(outlines).flatMap((flight) => filesOf(flight).slice(1)));
  const firsts = outlines.filter(({ file }) => !further.has(file));
  for (const [index, a] of firsts.entries()) {
    for (const b of firsts.slice(index + 1)) {
      const shortestS = Math.min(a.endS - a.startS, b.endS - b.startS);
      if (shortestS < 5 * leastCommonS) continue;
      for (let offsetS = -furthestZoneS; offsetS <= furthestZoneS; offsetS += zoneStepS) {
        if (offsetS === 0) continue;
        const commonS = Math.min(a.endS, b.endS + offsetS) - Math.max(a.startS, b.startS + offsetS);
        if (commonS < leastShare * shortestS || !flewTogether(a, shifted(b, offsetS), sameClockM)) continue;
        found.push({ file: a.file, other: b.file, offsetS });
        break;
      }
    }
  }
  return found;
}

function shifted(outline: RecordingOutline, byS: number): RecordingOutline {
  const { startS, endS, places } = outline;
  return {
    ...outline,
    startS: startS + byS,
    endS: endS + byS,
    places: { ...places, timeS: places.timeS.map((timeS) => timeS + byS) },
  };
}
