import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { DayCounter } from '../samples/day-counter.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { daysSince1970, fullYear, isoDateDays } from '../text/date-time.ts';
import { eachLine } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { type Extension, fieldNumber, readExtensions, readFix } from './b-record.ts';

const degreeRad = Math.PI / 180;
const kilometrePerHourMps = 1 / 3.6;
const zeroCelsiusK = 273.15;

/** Reader of IGC flight-recorder files; the format facts are in README.md beside. */
export const igcReader: Reader = {
  format: 'igc',
  recognises: (head) =>
    /^B\d{6}\d{7}[NS]\d{8}[EW][AV][-\d]/m.test(headText(head)) ||
    /^\uFEFF?A[A-Z0-9]{3}[^\n]*\r?\nH/.test(headText(head)),
  read: async (source, options) => new IgcRecording(source, options).read(),
};

class IgcRecording {
  readonly #source: ByteSource;
  readonly #options: ReadOptions;
  readonly #problems: ProblemList;
  readonly #table = new SampleTable();
  readonly #days = new DayCounter(this.#table);
  #extensions: readonly Extension[] = [];
  #byCode = new Map<string, Extension>();
  #firstDay = Number.NaN;
  #gnssDatum: 'ellipsoid' | 'msl' = 'ellipsoid';
  #datumStated = false;

  constructor(source: ByteSource, options: ReadOptions) {
    this.#source = source;
    this.#options = options;
    this.#problems = new ProblemList(source.name);
  }

  async read(): Promise<ReadResult> {
    await eachLine(this.#source, this.#options, this.#problems, (line, number) => this.#line(line, number));
    const assumptions: string[] = [];
    if (!this.#datumStated)
      assumptions.push('The file does not state the datum of its GNSS altitude; the IGC format says WGS-84 ellipsoid.');
    const dated = this.#table.rows === 0 || this.#settleDate(assumptions);
    this.#table.writtenUnits.set('latitude', 1 / 60);
    const track = dated ? buildTrack(this.#table, { assumptions }, this.#problems) : undefined;
    const codes = this.#extensions.map((extension) => extension.code);
    const contents = codes.length > 0 ? [`Extensions of the fixes: ${codes.join(', ')}`] : [];
    return { format: 'igc', track, problems: this.#problems.toArray(), contents };
  }

  #line(text: string, line: number): void {
    const record = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
    switch (record[0]) {
      case 'B':
        this.#fix(record, line);
        break;
      case 'I':
        this.#stateExtensions(record, line);
        break;
      case 'H':
        this.#header(record, line);
        break;
    }
  }

  #stateExtensions(record: string, line: number): void {
    const extensions = readExtensions(record);
    if (!extensions) {
      this.#problems.warning(
        'igc-bad-extension-list',
        'The I record is malformed; further values of the fixes were not read.',
        { line },
      );
      return;
    }
    this.#extensions = extensions;
    this.#byCode = new Map(extensions.map((extension) => [extension.code, extension]));
  }

  #header(record: string, line: number): void {
    const date = /^H[FOP]DTE(?:DATE)?:?\s*(\d\d)(\d\d)(\d\d)/.exec(record);
    if (date) {
      const day = daysSince1970(fullYear(Number(date[3])), Number(date[2]), Number(date[1]));
      if (Number.isNaN(day))
        this.#problems.warning('igc-bad-date', `The date "${record.slice(5, 20)}" does not exist.`, { line });
      else if (day !== this.#firstDay) this.#days.stateDay(day);
      if (Number.isNaN(this.#firstDay)) this.#firstDay = day;
    } else if (/^H[FOP]DTE/.test(record)) {
      this.#problems.warning('igc-bad-date', 'The date record is malformed: expected HFDTE and DDMMYY.', { line });
    }
    const datum = /^H[FOP]ALG[^:]*:\s*(.*?)\s*$/.exec(record)?.[1].toUpperCase();
    if (datum !== undefined) {
      this.#datumStated = true;
      this.#gnssDatum = /^(GEO|MSL)/.test(datum) ? 'msl' : 'ellipsoid';
    }
  }

  #fix(record: string, line: number): void {
    const fix = readFix(record, this.#byCode.get('LAD'), this.#byCode.get('LOD'));
    if (!fix) {
      this.#problems.warning('igc-bad-line', 'A B record is malformed and was not used.', { line });
      return;
    }
    const fraction = this.#byCode.get('TDS');
    const fractionS = fraction
      ? fieldNumber(record, fraction.start, fraction.end) / 10 ** (fraction.end - fraction.start)
      : 0;
    const table = this.#table;
    const timeS = this.#days.timeS(fix.timeOfDayS) + (Number.isNaN(fractionS) ? 0 : fractionS);
    if (!fix.valid)
      this.#problems.info('igc-no-fix', 'Fixes marked V (no 3D position): only their pressure altitude was used.', {
        line,
      });
    const row = table.add(timeS, fix.valid ? fix.latDeg : Number.NaN, fix.valid ? fix.lonDeg : Number.NaN);
    table.set('altitude-pressure', row, fix.pressureAltitudeM);
    if (fix.valid) {
      table.set(`altitude-${this.#gnssDatum}`, row, fix.gnssAltitudeM);
      this.#extensionValues(record, row);
    }
  }

  #extensionValues(record: string, row: number): void {
    for (const { code, start, end } of this.#extensions) {
      const value = fieldNumber(record, start, end);
      if (Number.isNaN(value)) continue;
      const table = this.#table;
      // Three digits are whole units; further ones are decimals.
      const whole = value / 10 ** Math.max(0, end - start - 3);
      if (code === 'FXA') table.set('horizontalSigmaM', row, value);
      else if (code === 'ENL') table.set('engineNoise', row, value);
      else if (code === 'TRT') table.set('trackRad', row, whole * degreeRad);
      else if (code === 'GSP') table.set('groundSpeedMps', row, whole * kilometrePerHourMps);
      else if (code === 'TAS') table.set('trueAirspeedMps', row, whole * kilometrePerHourMps);
      else if (code === 'OAT') table.set('outsideAirTemperatureK', row, whole + zeroCelsiusK);
    }
  }

  #settleDate(assumptions: string[]): boolean {
    if (this.#days.dated) return true;
    const day = isoDateDays(this.#options.date ?? '');
    if (Number.isNaN(day)) {
      this.#problems.error(
        'date-missing',
        'The file states no date (no HFDTE record): write the UTC date of the first fix, as `date: YYYY-MM-DD`.',
      );
      return false;
    }
    const times = this.#table.timeS.view(this.#table.rows);
    for (let row = 0; row < times.length; row++) times[row] += day * 86_400;
    assumptions.push(`The recording states no date; ${this.#options.date} was given for its first fix.`);
    return true;
  }
}
