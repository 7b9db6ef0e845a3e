/** 1980-01-06T00:00:00Z, from which GPS time counts, in Unix time. */
export const gpsEpochS = 315_964_800;

/** First Unix second at which GPS time was ahead of UTC by so many seconds (IERS Bulletin C announcements). */
const leapSeconds: readonly (readonly [number, number])[] = [
  [1_483_228_800, 18],
  [1_435_708_800, 17],
  [1_341_100_800, 16],
  [1_230_768_000, 15],
  [1_136_073_600, 14],
  [915_148_800, 13],
];

/** Unix time of a GPS time (seconds since 1980-01-06, without leap seconds). Right from 1999; no leap second since 2017. */
export function unixFromGps(gpsS: number): number {
  const unleaped = gpsS + gpsEpochS;
  for (const [fromUnixS, ahead] of leapSeconds) if (unleaped - ahead >= fromUnixS) return unleaped - ahead;
  return unleaped - 13;
}
