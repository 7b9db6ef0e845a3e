import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { DayCounter } from '../samples/day-counter.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { daysSince1970, fullYear } from '../text/date-time.ts';
import { eachLine } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { type Extension, fieldNumber, readExtensions, readFix } from './b-record.ts';
import { igcSpeedUnit, storeExtensions, usedExtensions } from './extension-values.ts';

/** A thousandth of a minute of latitude; the extensions LAD and LOD make it finer. */
const positionStepM = 1.852;

/** Altitudes are written in whole metres. */
const altitudeStepM = 1;

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
  #used: readonly Extension[] = [];
  #byCode = new Map<string, Extension>();
  /** Length that the I record gives to B records, and whether any had it. */
  #length = 0;
  #lengthSeen = false;
  #firstDay = Number.NaN;
  #gnssDatum: 'ellipsoid' | 'msl' = 'ellipsoid';
  #datumStated = false;
  #pressureFromIsa = true;

  constructor(source: ByteSource, options: ReadOptions) {
    this.#source = source;
    this.#options = options;
    this.#problems = new ProblemList(source.name);
  }

  async read(): Promise<ReadResult> {
    await eachLine(this.#source, this.#options, this.#problems, (line, number) => this.#line(line, number));
    const assumptions: string[] = [];
    if (!this.#datumStated) {
      assumptions.push('The file does not state the datum of its GNSS altitude; the IGC format says WGS-84 ellipsoid.');
    }
    const dated = this.#days.settle(this.#options.date, this.#problems, assumptions);
    this.#table.writtenUnits.set('latitude', 1 / 60);
    settleSpeed(this.#table, { stated: igcSpeedUnit }, this.#problems, assumptions);
    const further = this.#byCode.get('LAD');
    const facts = {
      assumptions,
      positionStepM: further ? positionStepM / 10 ** (further.end - further.start) : positionStepM,
      altitudeStepM,
    };
    const track = dated ? buildTrack(this.#table, facts, this.#problems) : undefined;
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
    this.#used = usedExtensions(extensions);
    this.#length = Math.max(0, ...extensions.map(({ end }) => end));
    this.#lengthSeen = false;
    this.#byCode = new Map(extensions.map((extension) => [extension.code, extension]));
  }

  #header(record: string, line: number): void {
    const date = /^H[FOP]DTE(?:DATE)?:?\s*(\d\d)(\d\d)(\d\d)/.exec(record);
    if (date) {
      const day = daysSince1970(fullYear(Number(date[3])), Number(date[2]), Number(date[1]));
      if (Number.isNaN(day)) {
        this.#problems.warning('igc-bad-date', `The date "${record.slice(5, 20)}" does not exist.`, { line });
      } else if (day !== this.#firstDay) this.#days.stateDay(day);
      if (Number.isNaN(this.#firstDay)) this.#firstDay = day;
    } else if (/^H[FOP]DTE/.test(record)) {
      this.#problems.warning('igc-bad-date', 'The date record is malformed: expected HFDTE and DDMMYY.', { line });
    }
    const geometric = datumOf(record, 'ALG');
    if (geometric !== undefined) {
      this.#datumStated = true;
      this.#gnssDatum = /^(?:GEO|MSL|EGM)/.test(geometric) ? 'msl' : 'ellipsoid';
    }
    const pressure = datumOf(record, 'ALP');
    if (pressure !== undefined && !/^(?:ISA|NIL)?$/.test(pressure)) {
      this.#pressureFromIsa = false;
      const message = `The pressure altitude refers to "${pressure}" and not to the standard atmosphere (ISA); it was not used.`;
      this.#problems.warning('igc-pressure-datum', message, { line });
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
    if (!fix.valid) {
      const message = 'Fixes marked V (no 3D position): only their pressure altitude was used.';
      this.#problems.info('igc-no-fix', message, { line });
    }
    const row = table.add(timeS, fix.valid ? fix.latDeg : Number.NaN, fix.valid ? fix.lonDeg : Number.NaN);
    if (this.#shifted(record, line)) return;
    if (this.#pressureFromIsa) table.set('altitude-pressure', row, fix.pressureAltitudeM);
    if (fix.valid) {
      table.set(`altitude-${this.#gnssDatum}`, row, fix.gnssAltitudeM);
      storeExtensions(record, this.#used, table, row);
    }
  }

  /** A value too wide for its field moves everything behind it: then only what stands before the altitudes is sure. */
  #shifted(record: string, line: number): boolean {
    const asStated = record.length === this.#length || record.trimEnd().length === this.#length;
    this.#lengthSeen ||= asStated;
    if (asStated || !this.#lengthSeen) return false;
    const message =
      'B records of another length than the I record states: their altitudes and further values were not used.';
    this.#problems.warning('igc-bad-length', message, { line });
    return true;
  }
}

/** What an H record says that an altitude refers to, e.g. `ELL`, `GEO`, `ISA`; `undefined` for other records. */
function datumOf(record: string, code: 'ALG' | 'ALP'): string | undefined {
  if (!/^H[FOP]/.test(record) || record.slice(2, 5) !== code) return undefined;
  return record
    .slice(record.indexOf(':') + 1)
    .trim()
    .toUpperCase();
}
