import type { CammSample, GpmfSample } from './write-mp4.ts';

/** What the films of these tests show: a straight run to the north-east that gathers speed, then a climb. */
export interface CameraRun {
  readonly startS: number;
  readonly seconds: number;
  readonly rateHz: number;
}

const metresPerDegree = 111_195;
const latDeg = 46.5;
const lonDeg = -14.75;

/** Speed, metres a second, at a time into the run: standing for 10 s, then 2 m/s2 up to 40 m/s. */
export function speedMpsAt(sinceS: number): number {
  return Math.min(40, Math.max(0, 2 * (sinceS - 10)));
}

/** Distance run, metres. */
export function distanceMAt(sinceS: number): number {
  const rollS = Math.min(20, Math.max(0, sinceS - 10));
  return rollS ** 2 + 40 * Math.max(0, sinceS - 30);
}

/** Height above the start, metres: level until 25 s, then 3 m/s. */
export function heightMAt(sinceS: number): number {
  return 3 * Math.max(0, sinceS - 25);
}

export function positionAt(sinceS: number): { latDeg: number; lonDeg: number } {
  const legM = distanceMAt(sinceS) * Math.SQRT1_2;
  return {
    latDeg: latDeg + legM / metresPerDegree,
    lonDeg: lonDeg + legM / (metresPerDegree * Math.cos((latDeg * Math.PI) / 180)),
  };
}

export function gpmfRun({ startS, seconds, rateHz }: CameraRun): GpmfSample[] {
  return Array.from({ length: Math.floor(seconds * rateHz) }, (_, k) => {
    const sinceS = k / rateHz;
    return {
      timeS: startS + sinceS,
      ...positionAt(sinceS),
      altitudeM: 12.4 + heightMAt(sinceS),
      groundSpeedMps: speedMpsAt(sinceS),
    };
  });
}

export function cammRun({ startS, seconds, rateHz }: CameraRun): CammSample[] {
  return Array.from({ length: Math.floor(seconds * rateHz) }, (_, k) => {
    const sinceS = k / rateHz;
    const legMps = speedMpsAt(sinceS) * Math.SQRT1_2;
    return {
      timeS: startS + sinceS,
      ...positionAt(sinceS),
      altitudeM: 12.4 + heightMAt(sinceS),
      eastMps: legMps,
      northMps: legMps,
      upMps: sinceS > 25 ? 3 : 0,
    };
  });
}
