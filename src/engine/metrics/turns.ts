import type { Phase } from '../analysis.ts';
import type { Motion } from '../track/motion.ts';
import type { Rows } from './rows.ts';
import { slowFit } from './slow-fit.ts';

/** A continuous turn at a steady height. */
export interface LevelTurn {
  readonly rows: Rows;
  readonly startS: number;
  readonly endS: number;
  readonly altitudeM: number;
  /** Right positive, radians. */
  readonly turnedRad: number;
}

/** 270 degrees: less leaves wind and airspeed too much alike. */
const leastTurnRad = (270 * Math.PI) / 180;
/** A turn is at least so fast (a standard turn is 3 degrees a second) and interrupted for no more than a few seconds. */
const slowestRadps = (1.2 * Math.PI) / 180;
const breakS = 4;
/** Height within 150 ft of the mean, and no lasting climb or descent (300 ft/min). */
const heightM = 45.72;
const steepestMps = 1.5;
const slowestMps = 15;

/** Continuous level turns of 270 degrees or more. A longer turn is given whole. */
export function findLevelTurns(motion: Motion, phases: readonly Phase[] = []): LevelTurn[] {
  const { timeS, turnRateRadps, groundSpeedMps, altitudeM } = motion;
  const climb = slowFit(timeS, altitudeM, motion.stretches, 12).slope;
  const found: LevelTurn[] = [];
  for (const stretch of motion.stretches) {
    let from = -1;
    let last = -1;
    let sign = 0;
    const close = (): void => {
      if (from >= 0) {
        const turn = describe(motion, { from, to: last + 1 }, climb);
        if (turn !== undefined && !isOnGround(phases, turn)) found.push(turn);
      }
      from = -1;
    };
    for (let row = stretch.from; row < stretch.to; row += 1) {
      const rate = turnRateRadps[row];
      const turning = Math.abs(rate) > slowestRadps && groundSpeedMps[row] > slowestMps;
      if (from >= 0 && (timeS[row] - timeS[last] > breakS || (turning && Math.sign(rate) !== sign))) close();
      if (!turning) continue;
      if (from < 0) {
        from = row;
        sign = Math.sign(rate);
      }
      last = row;
    }
    close();
  }
  return found;
}

function describe(motion: Motion, rows: Rows, climb: Float64Array): LevelTurn | undefined {
  const { timeS, altitudeM, trackRad } = motion;
  let turned = 0;
  let before = Number.NaN;
  let height = 0;
  let rate = 0;
  let count = 0;
  for (let row = rows.from; row < rows.to; row += 1) {
    const angle = trackRad[row];
    if (!Number.isNaN(angle)) {
      if (!Number.isNaN(before)) turned += Math.atan2(Math.sin(angle - before), Math.cos(angle - before));
      before = angle;
    }
    if (!Number.isFinite(altitudeM[row] + climb[row])) continue;
    height += altitudeM[row];
    rate += climb[row];
    count += 1;
  }
  if (Math.abs(turned) < leastTurnRad) return undefined;
  height /= count;
  if (count > 0) {
    if (Math.abs(rate / count) > steepestMps) return undefined;
    let outside = 0;
    for (let row = rows.from; row < rows.to; row += 1) if (Math.abs(altitudeM[row] - height) > heightM) outside += 1;
    if (outside > 0.1 * count) return undefined;
  }
  return { rows, startS: timeS[rows.from], endS: timeS[rows.to - 1], altitudeM: height, turnedRad: turned };
}

function isOnGround(phases: readonly Phase[], turn: LevelTurn): boolean {
  const middleS = (turn.startS + turn.endS) / 2;
  const phase = phases.find(({ startS, endS }) => startS <= middleS && middleS < endS);
  return phase !== undefined && (phase.kind === 'standing' || phase.kind === 'taxi');
}
