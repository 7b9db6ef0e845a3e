import { daysSince1970, fullYear } from '../text/date-time.ts';
import type { Epoch } from './epochs.ts';
import { degreesOf, numberOf, type Sentence } from './sentence.ts';

/** What a sentence adds to the epoch of its time, or, where it has no time, to the latest. */
export type Reading = (
  fields: Sentence,
  at: (time: string | undefined) => Epoch | undefined,
  latest: Epoch | undefined,
) => void;

/** Sentences that are used, by the last three letters of their address (any talker). Fields as listed in README.md. */
export const sentenceReadings: Readonly<Record<string, Reading>> = {
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
    epoch.artificial ||= mode === 'M' || mode === 'S';
    const day = dayOf(fields[9] ?? '');
    if (day !== undefined) epoch.day = day;
    epoch.badDate ||= Number.isNaN(day);
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
    epoch.artificial ||= quality === 7 || quality === 8;
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
    const day = daysSince1970(numberOf(fields[4]), numberOf(fields[3]), numberOf(fields[2]));
    if (epoch && !Number.isNaN(day)) epoch.day = day;
  },
  VTG: (fields, _at, latest) => {
    if (!latest || !Number.isNaN(latest.speedKt)) return;
    latest.speedKt = numberOf(fields[5]);
    latest.trackDeg = numberOf(fields[1]);
  },
  GSA: (fields, _at, latest) => {
    if (latest && fields[2] === '2') latest.flat = true;
  },
};

/** `ddmmyy` to days since 1970; `undefined` for an empty field, `NaN` for a malformed or impossible date. */
function dayOf(field: string): number | undefined {
  if (field.trim() === '') return undefined;
  const date = /^(\d\d)(\d\d)(\d\d)$/.exec(field);
  return date ? daysSince1970(fullYear(Number(date[3])), Number(date[2]), Number(date[1])) : Number.NaN;
}

function position(epoch: Epoch, fields: Sentence, from: number): void {
  const latDeg = degreesOf(fields[from], fields[from + 1]);
  const lonDeg = degreesOf(fields[from + 2], fields[from + 3]);
  if (Number.isNaN(latDeg) || Number.isNaN(lonDeg)) return;
  epoch.latDeg = latDeg;
  epoch.lonDeg = lonDeg;
  epoch.positionOnly = false;
}
