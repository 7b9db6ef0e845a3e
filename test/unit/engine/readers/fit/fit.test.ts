import assert from 'node:assert/strict';
import { fitChecksum } from '../../../../../src/engine/readers/fit/checksum.ts';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../../src/engine/readers/reader.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { fromHex, joined } from '../../../../synth/byte-parts.ts';
import type { FitOptions, FitSample } from '../../../../synth/write-fit.ts';
import { writeFit } from '../../../../synth/write-fit.ts';
import { assertSurvives } from '../../../../tools/assert-survives.ts';
import { near } from '../../../../tools/near.ts';

const read = (bytes: Uint8Array): Promise<ReadResult> => readRecording(bytesInMemory('flight.fit', bytes));
const codes = ({ problems }: ReadResult): string[] => problems.map(({ code }) => code);

const startS = Date.UTC(2026, 2, 31, 23, 59, 30) / 1000;
const samples: FitSample[] = Array.from({ length: 90 }, (_, k) => ({
  timeS: startS + k,
  latDeg: 46.5 + k * 1e-4,
  lonDeg: -14.75,
  altitudeM: 12.4 + 3 * k,
  groundSpeedMps: 11.12 + k / 1000,
  verticalSpeedMps: 3,
}));

function assertWritten({ track }: ReadResult, expected: readonly FitSample[]): void {
  assert.ok(track);
  assert.deepEqual(
    [...track.timeS],
    expected.map(({ timeS }) => timeS),
  );
  for (const [i, sample] of expected.entries()) {
    // One unit of position is 180 / 2^31 degrees, of altitude 0.2 m, of speed 1 mm/s.
    near(track.latDeg[i], sample.latDeg ?? Number.NaN, 4.2e-8);
    near(track.lonDeg[i], sample.lonDeg ?? Number.NaN, 4.2e-8);
    near(track.altitudes[0].valuesM[i], sample.altitudeM ?? Number.NaN, 0.1001);
    near(track.groundSpeedMps?.[i] ?? Number.NaN, sample.groundSpeedMps ?? Number.NaN, 0.0005001);
    near(track.verticalSpeedMps?.[i] ?? Number.NaN, sample.verticalSpeedMps ?? Number.NaN, 1e-9);
  }
}

describe('FIT byte example', () => {
  // Invented file of two records, encoded by hand: old fields (2, 6), little-endian; the second altitude is "not measured".
  const bytes = fromHex(
    '0e209308490000002e464954c96d4000000000020001000404860004fe132f44410000140005fd048600048501048502028406028401fe132f44111111212ed882f5020a526d01ff132f441111112137c782f5ffffce6dab3c',
  );

  it('gives times, positions and speeds, and a missing altitude', async () => {
    // As transmitted this example has 89 bytes, its checksum over everything is 0.
    assert.equal(bytes.length, 89);
    const result = await read(bytes);
    const { track } = result;
    assert.ok(track, JSON.stringify(result.problems));
    assert.equal(new Date(track.timeS[0] * 1000).toISOString(), '2026-03-31T23:59:58.000Z');
    near(track.latDeg[0], 46.5, 1e-7);
    near(track.lonDeg[0], -14.75, 1e-7);
    near(track.altitudes[0].valuesM[0], 12.4, 1e-9);
    near(track.groundSpeedMps?.[0] ?? 0, 27.986, 1e-9);
    assert.equal(new Date(track.timeS[1] * 1000).toISOString(), '2026-03-31T23:59:59.000Z');
    near(track.lonDeg[1], -14.750364, 1e-6);
    assert.ok(Number.isNaN(track.altitudes[0].valuesM[1]), 'not 12607 m');
    near(track.groundSpeedMps?.[1] ?? 0, 28.11, 1e-9);
  });

  it('has the units and the epoch of the format', () => {
    // 46.5 deg = 554766609, -14.75 deg = -175974354 semicircles; 2026-03-31T23:59:58Z = 1143935998.
    near((554_766_609 * 180) / 2 ** 31, 46.5, 5e-8);
    near((-175_974_354 * 180) / 2 ** 31, -14.75, 5e-8);
    assert.equal(1_143_935_998 + 631_065_600, Date.UTC(2026, 2, 31, 23, 59, 58) / 1000);
  });
});

describe('FIT files in every form', () => {
  const forms: [string, FitOptions][] = [
    ['little-endian, wide fields', {}],
    ['big-endian', { byteOrder: 'big' }],
    ['old fields', { enhanced: false }],
    ['old fields, big-endian, short header', { enhanced: false, byteOrder: 'big', headerBytes: 12 }],
    ['developer fields', { developerField: true }],
    ['compressed timestamps', { compressedTimestamps: true }],
    ['compressed timestamps with developer fields', { compressedTimestamps: true, developerField: true }],
  ];
  for (const [name, options] of forms) {
    it(name, async () => {
      const result = await read(writeFit(samples, options));
      assert.equal(result.format, 'fit');
      assert.deepEqual(codes(result), []);
      assertWritten(result, samples);
    });
  }

  it('keeps "not measured" missing', async () => {
    const bare = samples.map(({ timeS, latDeg, lonDeg, altitudeM }, k) =>
      k % 9 === 4 ? { timeS, altitudeM } : { timeS, latDeg, lonDeg },
    );
    const { track } = await read(writeFit(bare));
    assert.ok(track);
    assert.equal(track.groundSpeedMps, undefined);
    const heights = track.altitudes[0].valuesM;
    assert.ok(Number.isNaN(heights[0]) && Number.isNaN(heights[5]), 'not 858,993,459 m');
    const row = track.timeS.indexOf(startS + 13);
    assert.ok(Number.isNaN(track.latDeg[row]) && Number.isNaN(track.lonDeg[row]), 'not 180 degrees');
    near(heights[row], 51.4, 0.1001);
  });

  it('says that there are no positions', async () => {
    const result = await read(writeFit(samples.map(({ timeS }) => ({ timeS }))));
    assert.equal(result.track, undefined);
    assert.deepEqual(codes(result), ['fit-no-positions']);
  });

  it('marks where the timer was stopped', async () => {
    const paused = samples.map((sample, k) => ({ ...sample, afterPause: k === 40 }));
    assert.deepEqual((await read(writeFit(paused))).track?.breaks, [40]);
  });

  it('reads all files of a chain', async () => {
    const chain = joined(writeFit(samples.slice(0, 50)), writeFit(samples.slice(50), { byteOrder: 'big' }));
    const result = await read(chain);
    assert.deepEqual(codes(result), []);
    assertWritten(result, samples);
    assert.deepEqual(result.track?.breaks, [50]);
    assert.match(result.contents[0], /2 FIT files/);
  });

  it('reads what is there of a file that was cut off', async () => {
    const whole = writeFit(samples);
    const result = await read(whole.subarray(0, whole.length - 500));
    assert.deepEqual(codes(result), ['fit-cut']);
    const left = result.track?.timeS.length ?? 0;
    assert.ok(left > 60 && left < 75, `${left} records`);
    assertWritten(result, samples.slice(0, left));
  });

  it('reads a file that its recorder never finished', async () => {
    const result = await read(writeFit(samples, { unfinished: true }));
    assert.deepEqual(codes(result), ['fit-cut']);
    assertWritten(result, samples);
  });

  it('warns of a wrong checksum and reads on', async () => {
    const bytes = writeFit(samples);
    bytes[bytes.length - 1] ^= 0xff;
    const result = await read(bytes);
    assert.deepEqual(codes(result), ['fit-checksum']);
    assertWritten(result, samples);
  });

  it('has a checksum that is 0 over a whole file', () => {
    assert.equal(fitChecksum(writeFit(samples)), 0);
    // CRC-16/ARC of "123456789" is 0xBB3D (the catalogue of parametrised CRC algorithms; same polynomial, start and reflection).
    assert.equal(fitChecksum(Uint8Array.from('123456789', (digit) => digit.charCodeAt(0))), 0xbb3d);
  });

  it('says of bytes behind the end that they were left out', async () => {
    const result = await read(joined(writeFit(samples), [1, 2, 3]));
    assert.deepEqual(codes(result), ['fit-bytes-behind']);
    assertWritten(result, samples);
  });
});

describe('damaged FIT files', () => {
  it('little-endian', () => assertSurvives('a.fit', writeFit(samples.slice(0, 20)), 2000));
  it('developer fields and compressed timestamps', () =>
    assertSurvives(
      'a.fit',
      writeFit(samples.slice(0, 20), { developerField: true, compressedTimestamps: true }),
      2000,
    ));
  it('a chain', () =>
    assertSurvives('a.fit', joined(writeFit(samples.slice(0, 20)), writeFit(samples.slice(20, 40))), 2000));
});
