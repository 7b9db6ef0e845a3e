import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import type { Motion } from '../../../../src/engine/track/motion.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { trackOf } from '../track/track-of.ts';

/** A piece of a flight: so long, turning at a rate, climbing at a rate, at a true airspeed. */
export interface Piece {
  readonly seconds: number;
  /** Degrees a second, right positive. */
  readonly turn?: number;
  readonly climbMps?: number;
  readonly airspeedMps?: number;
}

export interface Flown {
  readonly track: Track;
  readonly motion: Motion;
  /** Start of each piece, Unix seconds, and the end of the last. */
  readonly times: readonly number[];
}

/**
 * An exact recording, 1 Hz, of a flight in pieces in one wind: for tests of what finders do, without a simulator. It stands for half a minute, is in the
 * air at once, and flies the pieces.
 */
export function flown(
  pieces: readonly Piece[],
  options: {
    readonly wind?: { readonly eastMps: number; readonly northMps: number };
    readonly more?: (
      rows: readonly { readonly t: number; readonly up: number; readonly airspeedMps: number }[],
    ) => Partial<Track>;
    readonly gaps?: readonly (readonly [number, number])[];
  } = {},
): Flown {
  const { eastMps, northMps } = options.wind ?? { eastMps: 0, northMps: 0 };
  const rows: { t: number; east: number; north: number; up: number; speed: number; airspeedMps: number }[] = [];
  const times: number[] = [];
  let east = 0;
  let north = 0;
  let up = 100;
  let heading = 0.3;
  let airspeedMps = 40;
  let t = 0;
  for (; t < 30; t += 1) rows.push({ t, east, north, up, speed: 0, airspeedMps: 0 });
  const step = 0.1;
  for (const piece of pieces) {
    times.push(1_700_000_000 + t);
    airspeedMps = piece.airspeedMps ?? airspeedMps;
    for (let second = 0; second < piece.seconds; second += 1, t += 1) {
      const speed = Math.hypot(airspeedMps * Math.sin(heading) + eastMps, airspeedMps * Math.cos(heading) + northMps);
      rows.push({ t, east, north, up, speed, airspeedMps });
      for (let i = 0; i < 10; i += 1) {
        heading += ((piece.turn ?? 0) * step * Math.PI) / 180 / 2;
        east += step * (airspeedMps * Math.sin(heading) + eastMps);
        north += step * (airspeedMps * Math.cos(heading) + northMps);
        heading += ((piece.turn ?? 0) * step * Math.PI) / 180 / 2;
        up += step * (piece.climbMps ?? 0);
      }
    }
  }
  times.push(1_700_000_000 + t);
  const kept = rows.filter((row) => !(options.gaps ?? []).some(([from, to]) => row.t > from && row.t < to));
  const track = trackOf(kept, options.more?.(kept) ?? {});
  return { track, motion: deriveMotion(track).motion, times };
}
