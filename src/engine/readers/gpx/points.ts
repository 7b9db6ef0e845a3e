import type { ProblemList } from '../problem-list.ts';
import { GrowingColumn, SampleTable } from '../samples/sample-table.ts';
import { hasZone } from '../text/date-time.ts';
import { decimalOf, textOf, timeOf } from '../xml/byte-values.ts';
import type { SampleSink } from '../xml/sample-lift.ts';

const degreeRad = Math.PI / 180;

/** Takes the track points of a GPX file into a table while it streams by. */
export class GpxPoints implements SampleSink {
  readonly groups: ReadonlySet<string> = new Set(['trkpt', 'wpt', 'rtept']);
  readonly leaves: ReadonlySet<string> = new Set();
  readonly table = new SampleTable();
  /** Metres of the geoid above the ellipsoid, a row. */
  readonly geoidHeightM = new GrowingColumn();
  /** First row of each run of points. */
  readonly runStarts: number[] = [];
  line = (): number => 0;
  hasGeoidHeight = false;
  waypoints = 0;
  routePoints = 0;
  readonly #problems: ProblemList;
  #kind = '';
  #latDeg = Number.NaN;
  #lonDeg = Number.NaN;
  #timeS = Number.NaN;
  #elevationM = Number.NaN;
  #geoidM = Number.NaN;
  #speed = Number.NaN;
  #courseDeg = Number.NaN;
  #hdop = Number.NaN;
  #fix = '';
  /** The columns in use, at hand. */
  readonly #columns: Partial<Record<'altitude-unknown' | 'groundSpeedMps' | 'trackRad' | 'hdop', GrowingColumn>> = {};

  constructor(problems: ProblemList) {
    this.#problems = problems;
  }

  startRun(): void {
    this.runStarts.push(this.table.rows);
  }

  startGroup(name: string): void {
    this.#kind = name;
    this.#latDeg = this.#lonDeg = this.#timeS = this.#elevationM = this.#geoidM = Number.NaN;
    this.#speed = this.#courseDeg = this.#hdop = Number.NaN;
    this.#fix = '';
  }

  attribute(name: string, bytes: Uint8Array, start: number, end: number): void {
    if (name === 'lat') this.#latDeg = decimalOf(bytes, start, end);
    else if (name === 'lon') this.#lonDeg = decimalOf(bytes, start, end);
  }

  leaf(name: string, bytes: Uint8Array, start: number, end: number): void {
    switch (name) {
      case 'ele':
        this.#elevationM = decimalOf(bytes, start, end);
        if (Number.isNaN(this.#elevationM)) this.#noteAltitude(textOf(bytes, start, Math.min(end, start + 40)).trim());
        break;
      case 'time':
        this.#timeS = timeOf(bytes, start, end);
        this.#checkTime(bytes, start, end);
        break;
      case 'speed':
        if (Number.isNaN(this.#speed)) this.#speed = decimalOf(bytes, start, end);
        break;
      case 'course':
        if (Number.isNaN(this.#courseDeg)) this.#courseDeg = decimalOf(bytes, start, end);
        break;
      case 'hdop':
        this.#hdop = decimalOf(bytes, start, end);
        break;
      case 'geoidheight':
        this.#geoidM = decimalOf(bytes, start, end);
        break;
      case 'fix':
        this.#fix = textOf(bytes, start, end).trim();
        break;
    }
  }

  endGroup(name: string): void {
    if (name === 'wpt') this.waypoints++;
    else if (name === 'rtept') this.routePoints++;
    else this.#store();
  }

  #set(name: 'altitude-unknown' | 'groundSpeedMps' | 'trackRad' | 'hdop', row: number, value: number): void {
    if (Number.isNaN(value)) return;
    this.#columns[name] ??= this.table.column(name);
    this.#columns[name].set(row, value);
  }

  #noteAltitude(text: string): void {
    if (this.#kind !== 'trkpt' || text === '') return;
    this.#problems.info('gpx-bad-altitude', `"${text}" is no altitude; taken as missing.`, { line: this.line() });
  }

  #checkTime(bytes: Uint8Array, start: number, end: number): void {
    if (this.#kind !== 'trkpt') return;
    if (Number.isNaN(this.#timeS)) {
      const message = `"${textOf(bytes, start, Math.min(end, start + 40))}" is no date and time (expected like 2026-03-31T23:59:58Z).`;
      this.#problems.warning('gpx-bad-time', message, { line: this.line() });
    } else if (bytes[end - 1] !== 90 && !hasZone(textOf(bytes, start, end))) {
      this.#problems.warning('time-without-zone', 'Times name no zone; taken as UTC.', { line: this.line() });
    }
  }

  #store(): void {
    const lost = this.#fix === 'none' || Number.isNaN(this.#latDeg) || Number.isNaN(this.#lonDeg);
    if (Number.isNaN(this.#latDeg) || Number.isNaN(this.#lonDeg)) {
      this.#problems.warning('gpx-bad-position', 'A track point has no readable position.', { line: this.line() });
    } else if (lost)
      this.#problems.info('gpx-no-fix', 'Points marked as without fix were left out.', { line: this.line() });
    const row = this.table.add(this.#timeS, lost ? Number.NaN : this.#latDeg, lost ? Number.NaN : this.#lonDeg);
    if (lost) return;
    if (this.#fix === '2d') {
      this.#problems.info('fix-2d', 'Two-dimensional fixes have no altitude of their own: it was left out.', {
        line: this.line(),
      });
    } else {
      this.#set('altitude-unknown', row, this.#elevationM);
      if (!Number.isNaN(this.#geoidM)) {
        this.hasGeoidHeight = true;
        this.geoidHeightM.set(row, this.#geoidM);
      }
    }
    this.#set('groundSpeedMps', row, this.#speed);
    this.#set('trackRad', row, this.#courseDeg * degreeRad);
    this.#set('hdop', row, this.#hdop);
  }
}
