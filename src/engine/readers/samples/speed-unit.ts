import type { SampleTable } from './sample-table.ts';

/** Units of speed in use, in m/s. */
export const speedUnits = { 'm/s': 1, 'km/h': 1 / 3.6, kt: 1852 / 3600, mph: 0.44704 } as const;

export type SpeedUnit = keyof typeof speedUnits;

/** Slower movement is too much disturbed by the noise of positions (0.3 m/s for differences over a second). */
const slowestMps = 5;

/** Blocks of about this length are compared: long enough that rounded positions and lags do not matter. */
const blockS = 10;

/** A unit is believed within this; the nearest two units, kt and mph, are 15 % apart. */
const tolerance = 0.06;

const metresPerDegree = 60 * 1852;

/**
 * Median of recorded speed over speed from positions, over blocks of about 10 s in which the recorder moved faster than
 * 5 m/s: 1 where the column is in m/s, 3.6 in km/h, 1.944 in kt, 2.237 in mph. `undefined` with fewer than 3 blocks.
 */
export function speedRatio(table: SampleTable, recorded: { get(row: number): number }): number | undefined {
  const ratios: number[] = [];
  let pathM = 0;
  let spentS = 0;
  let recordedIntegral = 0;
  for (let row = 1; row < table.rows; row++) {
    const stepS = table.timeS.get(row) - table.timeS.get(row - 1);
    const stepM = distanceM(table, row - 1, row);
    const mean = (recorded.get(row) + recorded.get(row - 1)) / 2;
    if (!(stepS > 0 && stepS <= blockS) || Number.isNaN(stepM + mean)) {
      pathM = spentS = recordedIntegral = 0;
      continue;
    }
    pathM += stepM;
    spentS += stepS;
    recordedIntegral += mean * stepS;
    if (spentS < blockS) continue;
    if (pathM / spentS > slowestMps) ratios.push(recordedIntegral / pathM);
    pathM = spentS = recordedIntegral = 0;
  }
  if (ratios.length < 3) return undefined;
  ratios.sort((a, b) => a - b);
  return ratios[ratios.length >> 1];
}

/** The unit that a ratio of {@link speedRatio} reveals, if one fits within 6 %. */
export function unitOfRatio(ratio: number): SpeedUnit | undefined {
  const names = Object.keys(speedUnits) as SpeedUnit[];
  return names.find((name) => Math.abs(ratio * speedUnits[name] - 1) <= tolerance);
}

function distanceM(table: SampleTable, from: number, to: number): number {
  const north = (table.latDeg.get(to) - table.latDeg.get(from)) * metresPerDegree;
  const across = Math.cos((table.latDeg.get(to) * Math.PI) / 180) * metresPerDegree;
  return Math.hypot(north, (table.lonDeg.get(to) - table.lonDeg.get(from)) * across);
}
