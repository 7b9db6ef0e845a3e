import assert from 'node:assert/strict';
import { WindowedReader } from '../../../../../src/engine/readers/mp4/boxes.ts';
import type { Movie } from '../../../../../src/engine/readers/mp4/movie.ts';
import { readMovie } from '../../../../../src/engine/readers/mp4/movie.ts';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { joined, numbers, numbers64 } from '../../../../synth/byte-parts.ts';
import { box } from '../../../../synth/film.ts';

const words = (...values: number[]): Uint8Array => numbers('Uint32', values);
const unixEpochIn1904S = 2_082_844_800;

async function movieOf(bytes: Uint8Array): Promise<{ movie: Movie | undefined; codes: string[] }> {
  const problems = new ProblemList('film.mp4');
  const movie = await readMovie(new WindowedReader(bytesInMemory('film.mp4', bytes)), problems);
  return { movie: 'tracks' in movie ? movie : undefined, codes: problems.toArray().map(({ code }) => code) };
}

interface TrackParts {
  readonly mdhd?: Uint8Array;
  readonly edts?: Uint8Array;
  readonly stbl?: readonly Uint8Array[];
}

const telemetryEntry = box('stsd', words(0, 1), box('gpmd', new Uint8Array(6), numbers('Uint16', [1]), words(0)));

function track(parts: TrackParts): Uint8Array {
  const tkhd = box('tkhd', words(7, 0, 0, 2, 0, 0), new Uint8Array(60));
  const hdlr = box('hdlr', words(0, 0), joined('meta'), words(0, 0, 0));
  const mdhd = parts.mdhd ?? box('mdhd', words(0, 0, 0, 1000, 5000), words(0));
  const stbl = box('stbl', telemetryEntry, ...(parts.stbl ?? []));
  return box('trak', tkhd, parts.edts ?? new Uint8Array(0), box('mdia', mdhd, hdlr, box('minf', stbl)));
}

const header = box('mvhd', words(0, 0, 0, 600, 3000), new Uint8Array(80));

describe('the index of a film', () => {
  it('gives times of version 0 and version 1 headers', async () => {
    const createdS = Date.UTC(2026, 2, 31, 12) / 1000;
    const long = box(
      'mdhd',
      words(0x01000000),
      numbers64([createdS + unixEpochIn1904S, 0]),
      words(90_000),
      numbers64([900_000]),
      words(0),
    );
    const first = box('mvhd', words(0, createdS + unixEpochIn1904S, 0, 600, 3000), new Uint8Array(80));
    const { movie } = await movieOf(box('moov', first, track({ mdhd: long })));
    assert.equal(movie?.creationS, createdS);
    assert.equal(movie?.tracks[0].timescale, 90_000);
    assert.equal(movie?.tracks[0].durationS, 10);
    const unset = await movieOf(box('moov', header, track({})));
    assert.equal(unset.movie?.creationS, undefined, 'a creation time of 0 is unset');
    assert.equal(unset.movie?.tracks[0].durationS, 5);
  });

  // Edit lists: ISO/IEC 14496-12, 8.6.6. An empty edit (media time -1) delays in the movie's timescale.
  it('gives the shift of an edit list', async () => {
    const empty = box('edts', box('elst', words(0, 2, 1200, 0xffffffff, 0x10000, 3000, 500, 0x10000)));
    assert.equal((await movieOf(box('moov', header, track({ edts: empty })))).movie?.tracks[0].editShiftS, 2 - 0.5);
    const long = box('edts', box('elst', words(0x01000000, 1), numbers64([3000, 250]), words(0x10000)));
    assert.equal((await movieOf(box('moov', header, track({ edts: long })))).movie?.tracks[0].editShiftS, -0.25);
    assert.equal((await movieOf(box('moov', header, track({})))).movie?.tracks[0].editShiftS, 0);
  });

  it('leaves out a track that has no header, and says so', async () => {
    const { movie, codes } = await movieOf(box('moov', header, box('trak', new Uint8Array(8)), track({})));
    assert.equal(movie?.tracks.length, 1);
    assert.deepEqual(codes, ['mp4-bad-track']);
  });

  it('does not believe counts that the bytes do not carry', async () => {
    const huge = [
      box('stts', words(0, 0xffffffff, 0xffffffff, 1000)),
      box('stsc', words(0, 1, 1, 0xffffffff, 1)),
      box('stsz', words(0, 1, 0xffffffff)),
      box('stco', words(0, 0xffffffff, 8)),
    ];
    const bytes = box('moov', header, track({ stbl: huge }));
    const { movie } = await movieOf(bytes);
    const samples = movie?.tracks[0].samples;
    // A uniform size of 1 byte: not more samples than the file has bytes.
    assert.ok(samples && samples.sizeBytes.length > 0 && samples.sizeBytes.length <= bytes.length);
  });
});

// Movie fragments: ISO/IEC 14496-12, 8.8. Defaults, bases and the order in which they hold.
describe('fragments', () => {
  const trex = (duration: number, size: number): Uint8Array =>
    box('mvex', box('trex', words(0, 2, 1, duration, size, 0)));
  const emptyTables = [
    box('stts', words(0, 0)),
    box('stsc', words(0, 0)),
    box('stsz', words(0, 0, 0)),
    box('stco', words(0, 0)),
  ];
  const front = (duration: number, size: number): Uint8Array =>
    box('moov', header, track({ stbl: emptyTables }), trex(duration, size));

  async function samplesOf(bytes: Uint8Array): Promise<[number, number, number, number][]> {
    const { movie } = await movieOf(bytes);
    const samples = movie?.tracks[0].samples;
    assert.ok(samples);
    assert.equal(movie?.fragmented, true);
    return [...samples.timeS].map((timeS, i) => [
      samples.offsetBytes[i],
      samples.sizeBytes[i],
      timeS,
      samples.durationS[i],
    ]);
  }

  it('take size and duration from the track where a fragment does not state them', async () => {
    const moov = front(1000, 40);
    const traf = box('traf', box('tfhd', words(0x020000, 2)), box('trun', words(0x1, 3, 100)));
    const at = moov.length;
    assert.deepEqual(await samplesOf(joined(moov, box('moof', traf), new Uint8Array(400))), [
      [at + 100, 40, 0, 1],
      [at + 140, 40, 1, 1],
      [at + 180, 40, 2, 1],
    ]);
  });

  it('take them from the fragment, the base from it, and the start from tfdt', async () => {
    const moov = front(1000, 40);
    const tfhd = box('tfhd', words(0x000019, 2), numbers64([77]), words(500, 20));
    const traf = box('traf', tfhd, box('tfdt', words(0x01000000), numbers64([9000])), box('trun', words(0x0, 2)));
    assert.deepEqual(await samplesOf(joined(moov, box('moof', traf), new Uint8Array(400))), [
      [77, 20, 9, 0.5],
      [97, 20, 9.5, 0.5],
    ]);
  });

  it('follow the run before where no base is stated, and go on in time', async () => {
    const moov = front(1000, 40);
    const at = moov.length;
    const other = box('traf', box('tfhd', words(0x10, 9, 30)), box('trun', words(0x0, 4)));
    const own = box(
      'traf',
      box('tfhd', words(0, 2)),
      box('trun', words(0x200, 2, 11, 12)),
      box('trun', words(0x100, 1, 250)),
    );
    const bytes = joined(moov, box('moof', other, own), new Uint8Array(400));
    assert.deepEqual(await samplesOf(bytes), [
      [at + 120, 11, 0, 1],
      [at + 131, 12, 1, 1],
      [at + 143, 40, 2, 0.25],
    ]);
  });
});

describe('compact sample sizes', () => {
  // ISO/IEC 14496-12, 8.7.3.3: 24 bits reserved, the size of a field, the count, then the fields, the first of a pair in the high half.
  const sizes = [1, 15, 7, 12, 3];
  const fields: Readonly<Record<number, Uint8Array>> = {
    4: Uint8Array.from([0x1f, 0x7c, 0x30]),
    8: Uint8Array.from(sizes),
    16: numbers('Uint16', sizes),
  };
  const rest = [box('stts', words(0, 1, 5, 1000)), box('stsc', words(0, 1, 1, 5, 1)), box('stco', words(0, 1, 8))];
  for (const bits of [4, 8, 16]) {
    it(`of ${bits} bits`, async () => {
      const stz2 = box('stz2', words(0, bits, sizes.length), fields[bits]);
      const { movie } = await movieOf(box('moov', header, track({ stbl: [stz2, ...rest] })));
      assert.deepEqual([...(movie?.tracks[0].samples?.sizeBytes ?? [])], sizes);
      assert.deepEqual([...(movie?.tracks[0].samples?.offsetBytes ?? [])], [8, 9, 24, 31, 43]);
    });
  }

  it('of a width that there is not give no samples', async () => {
    const stz2 = box('stz2', words(0, 5, 5), Uint8Array.from(sizes));
    const { movie } = await movieOf(box('moov', header, track({ stbl: [stz2, ...rest] })));
    assert.equal(movie?.tracks[0].samples?.sizeBytes.length, 0);
  });
});
