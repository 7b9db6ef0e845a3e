import { geometricRateFactor } from '../atmosphere/index.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { type HeightError, heightChangeSigmaM } from './height-error.ts';
import { meanOfRows, type Rows, rowsBetween } from './rows.ts';
import { valueAt } from './value-at.ts';

/** Half width of the window in which a height at an instant is read, seconds: long against single errors, short against a level-off. */
const readHalfS = 5;
/** Noise of a pressure altitude, one standard deviation of a reading over the window, m: 1 to 2 ft (from memory), and cabin pressure that changes with speed. */
const pressureSigmaM = 0.8;
/** Standard deviation of a recorded outside air temperature, K: probe and its heating (own judgement). */
const temperatureSigmaK = 2;
/** Where no temperature is recorded: the air may be that far from standard, K (warm and cold days of the temperate zones). */
const unknownTemperatureSigmaK = 12;

/** Geometric height over pressure altitude of one climb, with its standard deviation. */
export interface PressureScale {
  readonly factor: number;
  readonly sigma: number;
  /** 'temperature', 'satellite height', 'both' or 'standard'. */
  readonly from: 'temperature' | 'satellite height' | 'both' | 'standard';
}

export interface HeightChange {
  readonly changeM: number;
  readonly sigmaM: number;
  readonly method: string;
}

/**
 * The factor from pressure altitude to geometric height over a climb: T/T_std where the temperature was recorded, and the ratio of the two
 * changes of height over the whole climb where there is a satellite height; both weighted by their errors. `undefined` without pressure altitude.
 */
export function pressureScale(
  motion: Motion,
  track: Track,
  within: Rows,
  startS: number,
  endS: number,
  error: HeightError,
): PressureScale | undefined {
  const { timeS, pressureAltitudeM } = motion;
  if (pressureAltitudeM === undefined) return undefined;
  const low = valueAt(timeS, pressureAltitudeM, within, startS, readHalfS);
  const high = valueAt(timeS, pressureAltitudeM, within, endS, readHalfS);
  if (!Number.isFinite(high - low)) return undefined;
  const rows = rowsBetween(timeS, startS, endS);
  const temperatureK = meanOfRows(track.channels.outsideAirTemperatureK ?? [], rows);
  const middleM = (low + high) / 2;
  let factor = 1;
  let variance = (unknownTemperatureSigmaK / 288) ** 2;
  let from: PressureScale['from'] = 'standard';
  if (temperatureK > 200 && temperatureK < 330) {
    factor = geometricRateFactor(middleM, temperatureK);
    variance = (temperatureSigmaK / temperatureK) ** 2;
    from = 'temperature';
  }
  if (motion.altitudeKind === 'pressure') return { factor, sigma: Math.sqrt(variance), from };
  const change = satelliteChange(motion, within, startS, endS, error);
  if (change !== undefined && high - low > 50) {
    const ratio = change.changeM / (high - low);
    const ratioVariance = (change.sigmaM / (high - low)) ** 2;
    factor = (factor / variance + ratio / ratioVariance) / (1 / variance + 1 / ratioVariance);
    variance = 1 / (1 / variance + 1 / ratioVariance);
    from = from === 'temperature' ? 'both' : 'satellite height';
  }
  return { factor, sigma: Math.sqrt(variance), from };
}

function satelliteChange(
  motion: Motion,
  within: Rows,
  startS: number,
  endS: number,
  error: HeightError,
): HeightChange | undefined {
  const { timeS, altitudeM } = motion;
  const changeM =
    valueAt(timeS, altitudeM, within, endS, readHalfS) - valueAt(timeS, altitudeM, within, startS, readHalfS);
  if (!Number.isFinite(changeM)) return undefined;
  return { changeM, sigmaM: heightChangeSigmaM(error, endS - startS), method: 'satellite height' };
}

/**
 * Geometric change of height between two instants within one stretch, with its standard deviation. From the satellite height; from the
 * pressure altitude x scale where that is surer (it is smoother: over one band it nearly always is). `undefined` where neither can be read.
 */
export function heightChange(
  motion: Motion,
  within: Rows,
  startS: number,
  endS: number,
  error: HeightError,
  scale: PressureScale | undefined,
): HeightChange | undefined {
  const { timeS, pressureAltitudeM } = motion;
  const satellite =
    motion.altitudeKind === 'pressure' ? undefined : satelliteChange(motion, within, startS, endS, error);
  if (pressureAltitudeM === undefined || scale === undefined) return satellite;
  const pressureChangeM =
    valueAt(timeS, pressureAltitudeM, within, endS, readHalfS) -
    valueAt(timeS, pressureAltitudeM, within, startS, readHalfS);
  if (!Number.isFinite(pressureChangeM)) return satellite;
  const pressure: HeightChange = {
    changeM: scale.factor * pressureChangeM,
    sigmaM: Math.hypot(scale.sigma * pressureChangeM, Math.SQRT2 * pressureSigmaM),
    method: `pressure altitude, scaled by ${scaleWords[scale.from]}`,
  };
  if (satellite === undefined) return pressure;
  // Not averaged: the scale already carries what the satellite height knows of the whole climb.
  return pressure.sigmaM < satellite.sigmaM ? pressure : satellite;
}

const scaleWords: Readonly<Record<PressureScale['from'], string>> = {
  temperature: 'the recorded air temperature',
  'satellite height': 'the satellite height over the whole climb',
  both: 'the air temperature and the satellite height',
  standard: 'the standard temperature (none was recorded)',
};
