import type { Track } from './track.ts';

/**
 * Seconds into the film at an instant (Unix time). `undefined` for a recording that is no film, and before its first
 * picture. A camera's positions come 0.2 to 1 s late and its payloads jitter, so the picture may be off by that much.
 */
export function videoTimeS(track: Track, unixS: number): number | undefined {
  if (track.videoStartS === undefined) return undefined;
  const intoFilmS = unixS - track.videoStartS;
  return intoFilmS >= 0 ? intoFilmS : undefined;
}

/** The instant (Unix time) that a film shows so many seconds after its first picture; `undefined` for no film. */
export function unixFromVideoS(track: Track, intoFilmS: number): number | undefined {
  return track.videoStartS === undefined ? undefined : track.videoStartS + intoFilmS;
}
