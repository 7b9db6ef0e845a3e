import { joined, numbers, numbers64 } from './byte-parts.ts';

/** How a film is laid out; everything has a plain default. */
export interface FilmOptions {
  /** Where the index (`moov`) lies. */
  readonly index?: 'end' | 'front';
  /** Chunk offsets with 32 bits (`stco`) or 64 (`co64`), and a 64-bit size of `mdat` with the latter. */
  readonly offsets?: 32 | 64;
  /** A film in fragments (`moof`), one a second. */
  readonly fragmented?: boolean;
  /** Unix time of creation as the camera's clock has it; unset (0) by default. */
  readonly creationS?: number;
  /** Unix time of the first picture; by default that of the first sample. */
  readonly videoStartS?: number;
  /** How fast the film's clock runs against UTC, 1 by default (1.00002 gains 20 ppm; 0.1 shows ten seconds in one). */
  readonly filmClockRate?: number;
  /** Stretches of Unix time in which recording was paused: the film goes on behind them at once. */
  readonly pauses?: readonly { readonly fromS: number; readonly toS: number }[];
  /** Edit lists: how long after the film's time 0 a track begins, and how much of its media is skipped; none by default. */
  readonly edits?: Partial<Record<'vide' | 'meta', { readonly emptyS?: number; readonly skippedS?: number }>>;
  /** Bytes of each second's picture, all zero; 64 by default. */
  readonly pictureBytes?: number;
}

/** One telemetry sample of the container. */
export interface FilmSample {
  readonly bytes: Uint8Array;
  readonly durationTicks: number;
}

export interface TelemetryTrack {
  readonly sampleEntry: 'gpmd' | 'camm';
  readonly timescale: number;
  readonly samples: readonly FilmSample[];
  /** How many samples lie together before the next picture; 1 by default. */
  readonly samplesPerChunk?: number;
}

/** A piece of a file; what no piece covers is zero. */
export interface FilePiece {
  readonly offsetByte: number;
  readonly bytes: Uint8Array;
}

export interface FileLayout {
  readonly sizeBytes: number;
  readonly pieces: readonly FilePiece[];
}

const unixEpochIn1904S = 2_082_844_800;
const pictureTimescale = 30_000;

/** Time into the film, seconds, at an instant (Unix time). */
export function filmClock(startS: number, options: FilmOptions): (timeS: number) => number {
  const rate = options.filmClockRate ?? 1;
  const pausedS = (timeS: number): number =>
    (options.pauses ?? []).reduce((sum, { fromS, toS }) => sum + Math.max(0, Math.min(timeS, toS) - fromS), 0);
  return (timeS) => (timeS - startS - pausedS(timeS)) * rate;
}

export function box(type: string, ...content: readonly Uint8Array[]): Uint8Array {
  const inside = joined(...content);
  return joined(numbers('Uint32', [inside.length + 8]), type, inside);
}

function fullBox(type: string, versionAndFlags: number, ...content: readonly Uint8Array[]): Uint8Array {
  return box(type, numbers('Uint32', [versionAndFlags]), ...content);
}

const words = (...values: readonly number[]): Uint8Array => numbers('Uint32', values);

interface PlacedTrack {
  readonly id: number;
  readonly handler: 'vide' | 'meta';
  readonly timescale: number;
  readonly durationTicks: number;
  readonly sampleEntry: Uint8Array;
  readonly sizes: readonly number[];
  readonly durations: readonly number[];
  readonly chunkBytes: readonly number[];
  readonly samplesPerChunk: number;
}

/**
 * The bytes of a film with an empty picture a second and one telemetry track (ISO/IEC 14496-12), as pieces, so that a
 * film of many gigabytes needs no memory.
 */
export function layFilm(telemetry: TelemetryTrack, options: FilmOptions = {}): FileLayout {
  return options.fragmented ? layFragments(telemetry, options) : layPlain(telemetry, options);
}

/** The whole file in memory. */
export function filmBytes(layout: FileLayout): Uint8Array {
  const out = new Uint8Array(layout.sizeBytes);
  for (const { offsetByte, bytes } of layout.pieces) out.set(bytes, offsetByte);
  return out;
}

const ftyp = box('ftyp', joined('mp41'), words(0), joined('mp41'));

function secondsOf(telemetry: TelemetryTrack): number {
  const ticks = telemetry.samples.reduce((sum, { durationTicks }) => sum + durationTicks, 0);
  return Math.max(1, Math.ceil(ticks / telemetry.timescale));
}

function layPlain(telemetry: TelemetryTrack, options: FilmOptions): FileLayout {
  const picture = options.pictureBytes ?? 64;
  const seconds = secondsOf(telemetry);
  const perChunk = telemetry.samplesPerChunk ?? 1;
  const large = options.offsets === 64;
  const mdatHeader = large ? 16 : 8;
  const front = options.index === 'front';
  const place = (firstByte: number): { pictures: number[]; chunks: number[]; endByte: number; pieces: FilePiece[] } => {
    const pictures: number[] = [];
    const chunks: number[] = [];
    const pieces: FilePiece[] = [];
    let at = firstByte;
    let sample = 0;
    let chunkTicks = 0;
    for (let second = 0; second < seconds; second++) {
      pictures.push(at);
      at += picture;
      while (sample < telemetry.samples.length && chunkTicks < (second + 1) * telemetry.timescale) {
        chunks.push(at);
        const together = telemetry.samples.slice(sample, sample + perChunk);
        const bytes = joined(...together.map((one) => one.bytes));
        pieces.push({ offsetByte: at, bytes });
        at += bytes.length;
        sample += together.length;
        chunkTicks += together.reduce((sum, { durationTicks }) => sum + durationTicks, 0);
      }
    }
    return { pictures, chunks, endByte: at, pieces };
  };
  const indexFor = (placed: { pictures: number[]; chunks: number[] }): Uint8Array =>
    moov(
      [
        videoTrack(placed.pictures, picture),
        {
          id: 2,
          handler: 'meta',
          timescale: telemetry.timescale,
          durationTicks: telemetry.samples.reduce((sum, { durationTicks }) => sum + durationTicks, 0),
          sampleEntry: telemetryEntry(telemetry.sampleEntry),
          sizes: telemetry.samples.map(({ bytes }) => bytes.length),
          durations: telemetry.samples.map(({ durationTicks }) => durationTicks),
          chunkBytes: placed.chunks,
          samplesPerChunk: perChunk,
        },
      ],
      options,
    );
  // The size of the index does not depend on the offsets in it.
  const indexBytes = indexFor(place(0)).length;
  const mdatByte = ftyp.length + (front ? indexBytes : 0);
  const placed = place(mdatByte + mdatHeader);
  const mdatBytes = placed.endByte - mdatByte;
  const mdat = large ? joined(words(1), 'mdat', numbers64([mdatBytes])) : joined(words(mdatBytes), 'mdat');
  return {
    sizeBytes: ftyp.length + indexBytes + mdatBytes,
    pieces: [
      { offsetByte: 0, bytes: ftyp },
      { offsetByte: mdatByte, bytes: mdat },
      ...placed.pieces,
      { offsetByte: front ? ftyp.length : placed.endByte, bytes: indexFor(placed) },
    ],
  };
}

function videoTrack(pictures: readonly number[], pictureBytes: number): PlacedTrack {
  return {
    id: 1,
    handler: 'vide',
    timescale: pictureTimescale,
    durationTicks: pictures.length * pictureTimescale,
    sampleEntry: pictureEntry,
    sizes: pictures.map(() => pictureBytes),
    durations: pictures.map(() => pictureTimescale),
    chunkBytes: pictures,
    samplesPerChunk: 1,
  };
}

const pictureEntry = box(
  'avc1',
  new Uint8Array(6),
  numbers('Uint16', [1]),
  new Uint8Array(16),
  numbers('Uint16', [320, 180]),
  words(0x00480000, 0x00480000, 0),
  numbers('Uint16', [1]),
  new Uint8Array(32),
  numbers('Uint16', [24, 0xffff]),
);

function telemetryEntry(type: 'gpmd' | 'camm'): Uint8Array {
  return box(type, new Uint8Array(6), numbers('Uint16', [1]), type === 'gpmd' ? words(0) : new Uint8Array(0));
}

function moov(tracks: readonly PlacedTrack[], options: FilmOptions, ...more: readonly Uint8Array[]): Uint8Array {
  const creation = options.creationS === undefined ? 0 : options.creationS + unixEpochIn1904S;
  const durationMs = Math.max(...tracks.map(({ durationTicks, timescale }) => (durationTicks / timescale) * 1000));
  const mvhd = fullBox(
    'mvhd',
    0,
    words(creation, creation, 1000, Math.round(durationMs), 0x00010000),
    numbers('Uint16', [0x0100, 0]),
    words(0, 0, 0x00010000, 0, 0, 0, 0x00010000, 0, 0, 0, 0x40000000, 0, 0, 0, 0, 0, 0, tracks.length + 1),
  );
  return box('moov', mvhd, ...tracks.map((track) => trak(track, creation, options)), ...more);
}

function trak(track: PlacedTrack, creation: number, options: FilmOptions): Uint8Array {
  const tkhd = fullBox(
    'tkhd',
    7,
    words(creation, creation, track.id, 0, Math.round((track.durationTicks / track.timescale) * 1000), 0, 0),
    numbers('Uint16', [0, 0, 0, 0]),
    words(0x00010000, 0, 0, 0, 0x00010000, 0, 0, 0, 0x40000000, 0, 0),
  );
  const mdhd = fullBox(
    'mdhd',
    0,
    words(creation, creation, track.timescale, track.durationTicks),
    numbers('Uint16', [0x55c4, 0]),
  );
  const hdlr = fullBox('hdlr', 0, words(0), joined(track.handler), words(0, 0, 0), joined('handler\0'));
  const dinf = box('dinf', fullBox('dref', 0, words(1), fullBox('url ', 1)));
  const header = track.handler === 'vide' ? fullBox('vmhd', 1, words(0, 0)) : fullBox('nmhd', 0);
  const stsd = fullBox('stsd', 0, words(1), track.sampleEntry);
  return box(
    'trak',
    tkhd,
    editList(track, options),
    box('mdia', mdhd, hdlr, box('minf', header, dinf, box('stbl', stsd, ...tables(track, options)))),
  );
}

/** ISO/IEC 14496-12, 8.6.6: durations in the film's timescale (milliseconds here), media times in the track's. */
function editList({ handler, timescale, durationTicks }: PlacedTrack, options: FilmOptions): Uint8Array {
  const edit = options.edits?.[handler];
  if (edit === undefined) return new Uint8Array(0);
  const empty = edit.emptyS === undefined ? [] : [[Math.round(edit.emptyS * 1000), 0xffffffff, 0x10000]];
  const skipped = Math.round((edit.skippedS ?? 0) * timescale);
  const rest = [Math.round(((durationTicks - skipped) / timescale) * 1000), skipped, 0x10000];
  const rows = [...empty, rest];
  return box('edts', fullBox('elst', 0, words(rows.length, ...rows.flat())));
}

function tables(track: PlacedTrack, options: FilmOptions): Uint8Array[] {
  const { chunkBytes, sizes, durations, samplesPerChunk } = track;
  const uniform = sizes.length > 0 && sizes.every((size) => size === sizes[0]) ? sizes[0] : 0;
  const runs: [number, number][] = [];
  for (const duration of durations) {
    const last = runs.at(-1);
    if (last && last[1] === duration) last[0]++;
    else runs.push([1, duration]);
  }
  const rest = sizes.length - samplesPerChunk * (chunkBytes.length - 1);
  const chunkRuns = chunkBytes.length === 0 ? [] : [[1, Math.min(samplesPerChunk, sizes.length), 1]];
  if (chunkBytes.length > 1 && rest !== samplesPerChunk) chunkRuns.push([chunkBytes.length, rest, 1]);
  return [
    fullBox('stts', 0, words(runs.length, ...runs.flat())),
    fullBox('stsc', 0, words(chunkRuns.length, ...chunkRuns.flat())),
    fullBox('stsz', 0, uniform > 0 ? words(uniform, sizes.length) : words(0, sizes.length, ...sizes)),
    options.offsets === 64
      ? fullBox('co64', 0, words(chunkBytes.length), numbers64(chunkBytes))
      : fullBox('stco', 0, words(chunkBytes.length, ...chunkBytes)),
  ];
}

function layFragments(telemetry: TelemetryTrack, options: FilmOptions): FileLayout {
  const picture = options.pictureBytes ?? 64;
  const nothing = { sizes: [], durations: [], chunkBytes: [], samplesPerChunk: 1, durationTicks: 0 } as const;
  const mvex = box(
    'mvex',
    fullBox('trex', 0, words(1, 1, pictureTimescale, picture, 0)),
    fullBox('trex', 0, words(2, 1, telemetry.timescale, 0, 0)),
  );
  const index = moov(
    [
      { ...nothing, id: 1, handler: 'vide', timescale: pictureTimescale, sampleEntry: pictureEntry },
      {
        ...nothing,
        id: 2,
        handler: 'meta',
        timescale: telemetry.timescale,
        sampleEntry: telemetryEntry(telemetry.sampleEntry),
      },
    ],
    options,
    mvex,
  );
  const pieces: FilePiece[] = [{ offsetByte: 0, bytes: joined(ftyp, index) }];
  let at = ftyp.length + index.length;
  let sample = 0;
  let ticks = 0;
  for (let second = 0; second < secondsOf(telemetry); second++) {
    const together: FilmSample[] = [];
    const startTicks = ticks;
    while (sample < telemetry.samples.length && ticks < (second + 1) * telemetry.timescale) {
      together.push(telemetry.samples[sample]);
      ticks += telemetry.samples[sample].durationTicks;
      sample++;
    }
    const moofFor = (dataByte: number): Uint8Array =>
      box(
        'moof',
        fullBox('mfhd', 0, words(second + 1)),
        box(
          'traf',
          fullBox('tfhd', 0x020000, words(1)),
          fullBox('tfdt', 0, words(second * pictureTimescale)),
          fullBox('trun', 0x1, words(1, dataByte)),
        ),
        box(
          'traf',
          fullBox('tfhd', 0x020000, words(2)),
          fullBox('tfdt', 0, words(startTicks)),
          fullBox(
            'trun',
            0x301,
            words(together.length, dataByte + picture),
            words(...together.flatMap(({ durationTicks, bytes }) => [durationTicks, bytes.length])),
          ),
        ),
      );
    const moof = moofFor(moofFor(0).length + 8);
    const data = joined(...together.map(({ bytes }) => bytes));
    pieces.push(
      { offsetByte: at, bytes: joined(moof, words(8 + picture + data.length), 'mdat') },
      { offsetByte: at + moof.length + 8 + picture, bytes: data },
    );
    at += moof.length + 8 + picture + data.length;
  }
  return { sizeBytes: at, pieces };
}
