import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { DayCounter } from '../samples/day-counter.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { daysSince1970, fullYear, isoDateDays } from '../text/date-time.ts';
import { eachLine } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { type Epoch, EpochWindow } from './epochs.ts';
import { checkSentence, degreesOf, numberOf, type Sentence, timeOfDayS } from './sentence.ts';

const knotMps = 1852 / 3600;
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
  #seenChecksum = false;
  #seenFix = false;

  constructor(source: ByteSource, options: ReadOptions) {
    this.#source = source;
    this.#options = options;
    this.#problems = new ProblemList(source.name);
  }

  async read(): Promise<ReadResult> {
    await eachLine(this.#source, this.#options, this.#problems, (line, number) => this.#line(line, number));
    this.#epochs.flush();
    this.#table.writtenUnits.set('latitude', 1 / 60);
    this.#table.writtenUnits.set('groundSpeedMps', knotMps);
    const assumptions: string[] = [];
    const dated = this.#table.rows === 0 || this.#settleDate(assumptions);
    const track = dated ? buildTrack(this.#table, { assumptions }, this.#problems) : undefined;
    if (track) warnOfRollover(track.timeS[0], this.#problems);
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
    if (!Object.hasOwn(readings, type)) return;
    this.#counts.set(type, (this.#counts.get(type) ?? 0) + 1);
    readings[type](checked.fields, (field) => this.#epochAt(field, line), this.#epochs.latest);
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
    if (Number.isNaN(epoch.latDeg) || (epoch.positionOnly && this.#seenFix)) return;
    this.#seenFix ||= !epoch.positionOnly;
    const table = this.#table;
    const row = table.add(timeS, epoch.latDeg, epoch.lonDeg);
    table.set('altitude-msl', row, epoch.altitudeMslM);
    table.set('altitude-ellipsoid', row, epoch.altitudeMslM + epoch.geoidSeparationM);
    table.set('groundSpeedMps', row, epoch.speedKt * knotMps);
    table.set('trackRad', row, epoch.trackDeg * degreeRad);
    table.set('hdop', row, epoch.hdop);
    table.set('horizontalSigmaM', row, epoch.horizontalSigmaM);
    table.set('verticalSigmaM', row, epoch.verticalSigmaM);
  }

  #settleDate(assumptions: string[]): boolean {
    if (this.#days.dated) return true;
    const day = isoDateDays(this.#options.date ?? '');
    if (Number.isNaN(day)) {
      this.#problems.error(
        'date-missing',
        'The sentences state times of day but no date (no RMC or ZDA with one): write the UTC date of the first fix, as `date: YYYY-MM-DD`.',
      );
      return false;
    }
    const times = this.#table.timeS.view(this.#table.rows);
    for (let row = 0; row < times.length; row++) times[row] += day * 86_400;
    assumptions.push(`The recording states no date; ${this.#options.date} was given for its first fix.`);
    return true;
  }
}

type Reading = (
  fields: Sentence,
  at: (time: string | undefined) => Epoch | undefined,
  latest: Epoch | undefined,
) => void;

const readings: Readonly<Record<string, Reading>> = {
  RMC: (fields, at) => {
    const epoch = at(fields[1]);
    if (!epoch) return;
    const mode = fields[12];
    if (fields[2] !== 'A' || mode === 'N' || mode === 'E') {
      epoch.void = true;
      return;
    }
    position(epoch, fields, 3);
    epoch.speedKt = numberOf(fields[7]);
    epoch.trackDeg = numberOf(fields[8]);
    const date = /^(\d\d)(\d\d)(\d\d)$/.exec(fields[9] ?? '');
    if (date) epoch.day = daysSince1970(fullYear(Number(date[3])), Number(date[2]), Number(date[1]));
  },
  GGA: (fields, at) => {
    const epoch = at(fields[1]);
    if (!epoch) return;
    const quality = Number(fields[6]);
    if (quality === 0 || quality === 6) {
      epoch.void = true;
      return;
    }
    position(epoch, fields, 2);
    epoch.hdop = numberOf(fields[8]);
    if (fields[10] === 'M') epoch.altitudeMslM = numberOf(fields[9]);
    if (fields[12] === 'M') epoch.geoidSeparationM = numberOf(fields[11]);
  },
  GNS: (fields, at) => {
    const epoch = at(fields[1]);
    if (!epoch) return;
    if (!/[^NE]/.test(fields[6] ?? '')) {
      epoch.void = true;
      return;
    }
    position(epoch, fields, 2);
    epoch.hdop = numberOf(fields[8]);
    epoch.altitudeMslM = numberOf(fields[9]);
    epoch.geoidSeparationM = numberOf(fields[10]);
  },
  GLL: (fields, at) => {
    const epoch = at(fields[5]);
    if (!epoch || fields[6] !== 'A' || fields[7] === 'N' || fields[7] === 'E' || !epoch.positionOnly) return;
    epoch.latDeg = degreesOf(fields[1], fields[2]);
    epoch.lonDeg = degreesOf(fields[3], fields[4]);
  },
  GST: (fields, at) => {
    const epoch = at(fields[1]);
    if (!epoch) return;
    epoch.horizontalSigmaM = Math.hypot(numberOf(fields[6]), numberOf(fields[7]));
    epoch.verticalSigmaM = numberOf(fields[8]);
  },
  ZDA: (fields, at) => {
    const epoch = at(fields[1]);
    if (epoch) epoch.day = daysSince1970(numberOf(fields[4]), numberOf(fields[3]), numberOf(fields[2]));
  },
  VTG: (fields, _at, latest) => {
    if (!latest || !Number.isNaN(latest.speedKt)) return;
    latest.speedKt = numberOf(fields[5]);
    latest.trackDeg = numberOf(fields[1]);
  },
};

function position(epoch: Epoch, fields: Sentence, from: number): void {
  const latDeg = degreesOf(fields[from], fields[from + 1]);
  const lonDeg = degreesOf(fields[from + 2], fields[from + 3]);
  if (Number.isNaN(latDeg) || Number.isNaN(lonDeg)) return;
  epoch.latDeg = latDeg;
  epoch.lonDeg = lonDeg;
  epoch.positionOnly = false;
}

/** 2004-01-01 (own choice): recordings of light aeroplanes before are rare, dates 1024 weeks early are not. */
const rolloverSuspectS = 1_072_915_200;

function warnOfRollover(startS: number, problems: ProblemList): void {
  if (startS >= rolloverSuspectS) return;
  problems.warning(
    'date-week-rollover',
    `The recording begins ${new Date(startS * 1000).toISOString().slice(0, 10)}. Old receivers write dates 1024 weeks (19.6 years) early: check the date.`,
  );
}
