import { findUnit } from '../../../../shared/units.ts';
import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { DayCounter } from '../samples/day-counter.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { eachLine } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { type Epoch, EpochWindow } from './epochs.ts';
import { sentenceReadings } from './readings.ts';
import { checkSentence, timeOfDayS } from './sentence.ts';

/** RMC and VTG give the speed in knots. */
const knot = findUnit('kt', 'speed');
const degreeRad = Math.PI / 180;

/** Reader of NMEA 0183 logs; the format facts are in README.md beside. */
export const nmeaReader: Reader = {
  format: 'nmea',
  recognises: (head) => /\$(?:[A-Z]{2})(?:RMC|GGA|GNS|GLL|VTG|ZDA|GSA|GSV),/.test(headText(head)),
  read: async (source, options) => new NmeaRecording(source, options).read(),
};

class NmeaRecording {
  readonly #source: ByteSource;
  readonly #options: ReadOptions;
  readonly #problems: ProblemList;
  readonly #table = new SampleTable();
  readonly #days = new DayCounter(this.#table);
  readonly #epochs = new EpochWindow((epoch) => this.#store(epoch));
  readonly #counts = new Map<string, number>();
  /** Rows that only a GLL sentence gave: used when the file has nothing better. */
  readonly #positionOnlyRows: number[] = [];
  #seenChecksum = false;

  constructor(source: ByteSource, options: ReadOptions) {
    this.#source = source;
    this.#options = options;
    this.#problems = new ProblemList(source.name);
  }

  async read(): Promise<ReadResult> {
    await eachLine(this.#source, this.#options, this.#problems, (line, number) => this.#line(line, number));
    this.#epochs.flush();
    this.#table.writtenUnits.set('latitude', 1 / 60);
    if (this.#positionOnlyRows.length < this.#table.rows) {
      for (const row of this.#positionOnlyRows) this.#table.leaveOut(row, row + 1);
    }
    const assumptions: string[] = [];
    const dated = this.#days.settle(this.#options.date, this.#problems, assumptions);
    settleSpeed(this.#table, { stated: knot }, this.#problems, assumptions);
    const track = dated ? buildTrack(this.#table, { assumptions }, this.#problems) : undefined;
    const contents = [...this.#counts].map(([type, count]) => `${count} ${type} sentences`);
    return { format: 'nmea', track, problems: this.#problems.toArray(), contents };
  }

  #line(line: string, number: number): void {
    for (let start = line.indexOf('$'); start !== -1; ) {
      const next = line.indexOf('$', start + 1);
      this.#sentence(next === -1 ? line.slice(start) : line.slice(start, next), number);
      start = next;
    }
  }

  #sentence(text: string, line: number): void {
    const checked = checkSentence(text);
    if (checked === 'other') return;
    if (checked === 'broken' || (this.#seenChecksum && !checked.checksum)) {
      const message = 'A sentence is cut or its checksum does not match; it was not used.';
      this.#problems.warning('nmea-bad-sentence', message, { line });
      return;
    }
    this.#seenChecksum ||= checked.checksum;
    const type = checked.fields[0].slice(2);
    const read = Object.hasOwn(sentenceReadings, type) ? sentenceReadings[type] : undefined;
    if (!read) return;
    this.#counts.set(type, (this.#counts.get(type) ?? 0) + 1);
    read(checked.fields, (field) => this.#epochAt(field, line), this.#epochs.latest);
  }

  #epochAt(time: string | undefined, line: number): Epoch | undefined {
    const timeOfDay = timeOfDayS(time);
    return Number.isNaN(timeOfDay) ? undefined : this.#epochs.at(timeOfDay, line);
  }

  #store(epoch: Epoch): void {
    if (!Number.isNaN(epoch.day)) this.#days.stateDay(epoch.day, epoch.timeOfDayS);
    const timeS = this.#days.timeS(epoch.timeOfDayS);
    if (epoch.void) {
      this.#problems.info('nmea-no-fix', 'Times without a fix were left out.', { line: epoch.line });
      return;
    }
    if (Number.isNaN(epoch.latDeg)) return;
    this.#reportDoubts(epoch);
    const table = this.#table;
    const row = table.add(timeS, epoch.latDeg, epoch.lonDeg);
    if (epoch.positionOnly) this.#positionOnlyRows.push(row);
    if (!epoch.flat) {
      table.set('altitude-msl', row, epoch.altitudeMslM);
      table.set('altitude-ellipsoid', row, epoch.altitudeMslM + epoch.geoidSeparationM);
    }
    table.set('groundSpeedMps', row, epoch.speedKt);
    table.set('trackRad', row, epoch.trackDeg * degreeRad);
    table.set('hdop', row, epoch.hdop);
    table.set('horizontalSigmaM', row, epoch.horizontalSigmaM);
    table.set('verticalSigmaM', row, epoch.verticalSigmaM);
  }

  #reportDoubts(epoch: Epoch): void {
    const at = { line: epoch.line };
    if (epoch.flat) {
      this.#problems.info('fix-2d', 'Two-dimensional fixes have no altitude of their own: it was left out.', at);
    }
    if (epoch.artificial) {
      this.#problems.warning('nmea-not-measured', 'Positions are marked as simulated or entered by hand.', at);
    }
    if (epoch.badDate) {
      this.#problems.warning('nmea-bad-date', 'A date is malformed; it was not used.', at);
    }
  }
}
