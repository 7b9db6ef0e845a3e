import type { Track } from '../../track/track.ts';
import type { ByteSource } from '../../world.ts';
import type { BinnedForce } from '../acceleration/binned-force.ts';
import { withAcceleration } from '../acceleration/with-acceleration.ts';
import { CammSamples, cammTrack } from '../camm/camm-track.ts';
import { GpsStreams } from '../gpmf/gps-stream.ts';
import type { FilmTimes } from '../gpmf/row-times.ts';
import { gpsTrack } from '../gpmf/gps-track.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { WindowedReader } from './boxes.ts';
import type { Movie, MovieTrack } from './movie.ts';
import { readMovie } from './movie.ts';
import type { SampleTable } from './sample-table.ts';
import { telemetrySamples } from './telemetry-samples.ts';

/** Boxes with which a film of this container begins (ISO/IEC 14496-12, and the older forms without `ftyp`). */
const firstBoxes = new Set(['ftyp', 'moov', 'mdat', 'free', 'skip', 'wide', 'pnot', 'styp', 'moof']);

/** Reads the position track inside an MP4 or MOV film: GPMF (`gpmd`) or camera motion metadata (`camm`). */
export const mp4Reader: Reader = {
  format: 'gpmf',
  recognises: (head) => head.length >= 8 && firstBoxes.has(String.fromCharCode(head[4], head[5], head[6], head[7])),
  read: readFilm,
};

async function readFilm(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  const contents: string[] = [];
  const movie = await readMovie(new WindowedReader(source), problems, options.signal);
  if (!movie) return { problems: problems.toArray(), contents };
  contents.push(describeMovie(movie));
  const results: { format: 'gpmf' | 'camm'; track?: Track }[] = [];
  for (const track of movie.tracks) {
    if (!track.samples) continue;
    results.push(await readTelemetry(source, movie, track, track.samples, options, problems, contents));
    if (results.at(-1)?.track) break;
  }
  if (results.length === 0) {
    problems.error(
      'mp4-no-telemetry',
      `The film has no position track (GPMF or camera motion metadata). It holds ${listTracks(movie)}. The receiver may have been off, or an editing program dropped the track: use the camera's original file.`,
    );
  }
  const best = results.find(({ track }) => track) ?? results[0];
  return { ...best, problems: problems.toArray(), contents };
}

async function readTelemetry(
  source: ByteSource,
  movie: Movie,
  telemetry: MovieTrack,
  samples: SampleTable,
  options: ReadOptions,
  problems: ProblemList,
  contents: string[],
): Promise<{ format: 'gpmf' | 'camm'; track?: Track }> {
  const film = filmTimes(movie, telemetry);
  if (telemetry.sampleEntry === 'gpmd') {
    const streams = new GpsStreams();
    for await (const { bytes, timeS, durationS, offsetByte } of telemetrySamples(source, samples, problems, options)) {
      streams.add(bytes, { videoS: timeS, durationS }, offsetByte);
    }
    const track = gpsTrack(streams, film, problems, contents);
    return { format: 'gpmf', ...withForce(track, streams.force, film, contents) };
  }
  const gathered = new CammSamples();
  for await (const { bytes, timeS, offsetByte } of telemetrySamples(source, samples, problems, options)) {
    gathered.add(bytes, timeS, offsetByte);
  }
  const track = cammTrack(gathered, film, problems, contents);
  return { format: 'camm', ...withForce(track, gathered.force, film, contents) };
}

function withForce(
  track: Track | undefined,
  force: BinnedForce,
  film: FilmTimes,
  contents: string[],
): { track?: Track } {
  if (track?.videoStartS === undefined) return track ? { track } : {};
  return { track: withAcceleration(track, force, track.videoStartS - film.firstPictureS, contents) };
}

/** The first picture is shown when the video track begins; the telemetry's media time 0 when its own edit list says. */
function filmTimes(movie: Movie, telemetry: MovieTrack): FilmTimes {
  const video = movie.tracks.find(({ handler }) => handler === 'vide');
  const pictureS = Math.max(0, video?.editShiftS ?? 0);
  return {
    ...(movie.creationS === undefined ? {} : { creationS: movie.creationS }),
    firstPictureS: pictureS - telemetry.editShiftS,
  };
}

const trackNames: Readonly<Record<string, string>> = {
  vide: 'video',
  soun: 'sound',
  tmcd: 'time code',
  meta: 'metadata',
};

function listTracks(movie: Movie): string {
  if (movie.tracks.length === 0) return 'no tracks';
  return movie.tracks
    .map(
      ({ handler, sampleEntry }) =>
        `${trackNames[handler] ?? `"${handler}"`} (${sampleEntry === '' ? '?' : sampleEntry})`,
    )
    .join(', ');
}

function describeMovie(movie: Movie): string {
  const durations = movie.tracks.map(({ durationS }) => durationS).filter((durationS) => durationS > 0);
  const longest = durations.length > 0 ? `, ${Math.max(...durations).toFixed(1)} s` : '';
  return `Film${movie.fragmented ? ' in fragments' : ''}${longest}, tracks: ${listTracks(movie)}.`;
}
