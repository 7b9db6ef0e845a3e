import { unixFromGps } from './gps-time.ts';

/** What the times of a camera's fixes count from. */
export type CammEpoch = 'gps' | 'unix' | '1904';

/** 1904-01-01 to 1970-01-01, seconds (the container's own epoch, ISO/IEC 14496-12). */
const unixEpochIn1904S = 2_082_844_800;

/**
 * A time above this is not GPS time when nothing else tells: it would be 2029 or later, while read as Unix time it is
 * from February 2019 on, when cameras of this kind were in use. To be raised before 2029.
 */
const latestGpsTimeS = 1_550_000_000;

/** The clock of a camera is taken to be right within this, for telling epochs that are years apart. */
const closeS = 2 * 86_400;

/** Unix time of a stamp under an epoch. */
export function unixFromCamm(stampS: number, epoch: CammEpoch): number {
  if (epoch === 'gps') return unixFromGps(stampS);
  return epoch === 'unix' ? stampS : stampS - unixEpochIn1904S;
}

/**
 * Which epoch a writer used. The specification says GPS time (from 1980-01-06, no leap seconds); some writers store Unix
 * time or seconds from 1904. The film's creation time decides where it lies within two days of exactly one of them;
 * otherwise the size of the number does.
 */
export function chooseEpoch(stampS: number, creationS: number | undefined): CammEpoch {
  const epochs: readonly CammEpoch[] = ['gps', 'unix', '1904'];
  if (creationS !== undefined) {
    const close = epochs.filter((epoch) => Math.abs(unixFromCamm(stampS, epoch) - creationS) <= closeS);
    if (close.length === 1) return close[0];
  }
  if (stampS > unixEpochIn1904S + 1_000_000_000) return '1904';
  return stampS > latestGpsTimeS ? 'unix' : 'gps';
}
