import type { ProblemList } from '../problem-list.ts';
import { GrowingColumn } from '../samples/sample-table.ts';
import { hasZone } from '../text/date-time.ts';
import { decimalNumber } from '../text/decimal.ts';
import { decimalOf, textOf, timeOf } from '../xml/byte-values.ts';
import type { SampleSink } from '../xml/sample-lift.ts';

/** How much of each kind had been read when a run of samples started (or the file ended). */
export interface Counts {
  readonly times: number;
  readonly coordinates: number;
  readonly values: number;
  readonly points: number;
}

/** Takes the times, coordinates and values of a KML file while it streams by, each kind in the order of the file. */
export class KmlSamples implements SampleSink {
  readonly groups: ReadonlySet<string> = new Set();
  readonly leaves: ReadonlySet<string> = new Set(['when', 'coord', 'angles', 'value', 'coordinates']);
  readonly timeS = new GrowingColumn();
  readonly lonDeg = new GrowingColumn();
  readonly latDeg = new GrowingColumn();
  readonly altitudeM = new GrowingColumn();
  readonly values = new GrowingColumn();
  /** First point of each `coordinates` text, and how many of those had more than one (paths). */
  readonly pointLonDeg = new GrowingColumn();
  readonly pointLatDeg = new GrowingColumn();
  readonly pointAltitudeM = new GrowingColumn();
  paths = 0;
  line = (): number => 0;
  readonly #runs: Counts[] = [];
  readonly #problems: ProblemList;
  #times = 0;
  #coordinates = 0;
  #values = 0;
  #points = 0;

  constructor(problems: ProblemList) {
    this.#problems = problems;
  }

  /** What a run holds: from these counts to those. */
  run(index: number): { readonly from: Counts; readonly to: Counts } {
    const end = this.#counts();
    return { from: this.#runs[index] ?? end, to: this.#runs[index + 1] ?? end };
  }

  startRun(): void {
    this.#runs.push(this.#counts());
  }

  #counts(): Counts {
    return { times: this.#times, coordinates: this.#coordinates, values: this.#values, points: this.#points };
  }

  startGroup(): void {}
  attribute(): void {}
  endGroup(): void {}

  leaf(name: string, bytes: Uint8Array, start: number, end: number): void {
    if (name === 'when') this.#when(bytes, start, end);
    else if (name === 'coord') this.#coordinate(bytes, start, end);
    else if (name === 'value') this.values.set(this.#values++, decimalOf(bytes, start, end));
    else if (name === 'coordinates') this.#point(textOf(bytes, start, Math.min(end, start + 500)));
  }

  #when(bytes: Uint8Array, start: number, end: number): void {
    const timeS = timeOf(bytes, start, end);
    if (Number.isNaN(timeS)) {
      const written = textOf(bytes, start, Math.min(end, start + 40)).trim();
      this.#problems.warning(
        'kml-bad-time',
        `"${written}" is no date with a time of day (expected like 2026-03-31T23:59:58Z).`,
        { line: this.line() },
      );
    } else if (bytes[end - 1] !== 90 && !hasZone(textOf(bytes, start, end))) {
      this.#problems.warning('time-without-zone', 'Times name no zone; taken as UTC.', { line: this.line() });
    }
    this.timeS.set(this.#times++, timeS);
  }

  /** "longitude latitude altitude", parted by blanks; an empty one means that the position was not known. */
  #coordinate(bytes: Uint8Array, start: number, end: number): void {
    const at = this.#coordinates++;
    const parts = bounds(bytes, start, end);
    this.lonDeg.set(at, parts.length >= 2 ? decimalOf(bytes, parts[0], parts[1]) : Number.NaN);
    this.latDeg.set(at, parts.length >= 4 ? decimalOf(bytes, parts[2], parts[3]) : Number.NaN);
    this.altitudeM.set(at, parts.length >= 6 ? decimalOf(bytes, parts[4], parts[5]) : Number.NaN);
  }

  /** "longitude,latitude,altitude", points parted by blanks. */
  #point(text: string): void {
    const [first, second] = text.trim().split(/\s+/);
    const [lon, lat, altitude] = (first ?? '').split(',');
    const at = this.#points++;
    if (second !== undefined) this.paths++;
    this.pointLonDeg.set(at, decimalNumber(lon ?? ''));
    this.pointLatDeg.set(at, decimalNumber(lat ?? ''));
    this.pointAltitudeM.set(at, decimalNumber(altitude ?? ''));
  }
}

/** Starts and ends of the parts of a text that are parted by blanks; at most 3 parts. */
function bounds(bytes: Uint8Array, start: number, end: number): number[] {
  const found: number[] = [];
  for (let at = start; at < end && found.length < 6; ) {
    while (at < end && bytes[at] <= 32) at++;
    if (at === end) break;
    found.push(at);
    while (at < end && bytes[at] > 32) at++;
    found.push(at);
  }
  return found;
}
