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
import type { MissingIndex, Movie, MovieTrack } from './movie.ts';
import { readMovie } from './movie.ts';
import { searchPayloads } from './salvage.ts';
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
  if ('missingIndex' in movie) return readWithoutIndex(source, movie, options, problems);
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

/** Without index the payloads of GPMF are looked for; they carry UTC, so that only the time into the film is lost. */
async function readWithoutIndex(
  source: ByteSource,
  { unfinished, byte }: MissingIndex,
  options: ReadOptions,
  problems: ProblemList,
): Promise<ReadResult> {
  const streams = new GpsStreams();
  let payloads = 0;
  let searchedBytes = 0;
  const searched = (bytes: number): void => {
    searchedBytes = bytes;
  };
  for await (const { bytes, offsetByte } of searchPayloads(source, options, searched)) {
    streams.add(bytes, { videoS: Number.NaN, durationS: Number.NaN }, offsetByte);
    payloads++;
  }
  const why = unfinished
    ? 'The film has no index (moov): it is still being written, the camera stopped without closing it, or the copy was cut off'
    : 'The film has no index (moov): it is damaged, or a part of a film only';
  const megabytes = `${(searchedBytes / 1e6).toFixed(searchedBytes < 1e7 ? 1 : 0)} MB`;
  if (payloads === 0) {
    problems.error(
      'mp4-no-index',
      `${why}. Nor is there any telemetry of its own kind (GPMF) in the ${megabytes} that were searched; camera motion metadata cannot be found without the index. Let the camera repair the file, or copy it again.`,
      { byte },
    );
    return { problems: problems.toArray(), contents: [] };
  }
  problems.warning(
    'mp4-no-index',
    `${why}. Its telemetry was searched for and is read as far as it was found; let the camera repair the file to see the film as well.`,
    { byte },
  );
  const contents = [
    `Film without index: ${payloads} seconds of telemetry found in ${megabytes}. There is no time into the video.`,
  ];
  const track = gpsTrack(streams, undefined, problems, contents);
  return { format: 'gpmf', ...(track ? { track } : {}), problems: problems.toArray(), contents };
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

/**
 * Times into a film count from its own time 0, as a player shows them; the telemetry's media time 0 lies where its edit
 * list says. The pictures may begin later (an empty edit), and what a player skips of their media does not count.
 */
function filmTimes(movie: Movie, telemetry: MovieTrack): FilmTimes {
  return {
    ...(movie.creationS === undefined ? {} : { creationS: movie.creationS }),
    firstPictureS: -telemetry.editShiftS,
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
