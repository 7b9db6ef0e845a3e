import assert from 'node:assert/strict';
import { gzipSync, zipSync } from 'fflate';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../../src/engine/readers/reader.ts';
import { crc32 } from '../../../../../src/engine/readers/wrappers/crc32.ts';
import { zipWrapper } from '../../../../../src/engine/readers/wrappers/zip.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { joined } from '../../../../synth/byte-parts.ts';
import { gpmfRun } from '../../../../synth/camera-walk.ts';
import { writeFit } from '../../../../synth/write-fit.ts';
import { writeGpmfMp4 } from '../../../../synth/write-mp4.ts';
import { assertSurvives } from '../../../../tools/assert-survives.ts';
import { countingSource } from '../../../../tools/counting-source.ts';

const startS = Date.UTC(2026, 2, 31) / 1000;
const fit = writeFit(
  Array.from({ length: 200 }, (_, k) => ({ timeS: startS + k, latDeg: 46.5 + k * 1e-4, lonDeg: -14.75, altitudeM: k })),
);
const kml = new TextEncoder().encode(
  `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Placemark><gx:Track>${[
    0, 1, 2, 3,
  ]
    .map((k) => `<when>2026-03-31T00:00:0${k}Z</when>`)
    .join(
      '',
    )}${[0, 1, 2, 3].map((k) => `<gx:coord>-14.75 ${46.5 + k * 1e-4} ${k}</gx:coord>`).join('')}</gx:Track></Placemark></kml>`,
);

const read = (name: string, bytes: Uint8Array): Promise<ReadResult> => readRecording(bytesInMemory(name, bytes));
const codes = ({ problems }: ReadResult): string[] => problems.map(({ code }) => code);

describe('checksum of gzip and zip', () => {
  // CRC-32 of "123456789" is 0xCBF43926 (the catalogue of parametrised CRC algorithms, CRC-32/ISO-HDLC).
  it('is the published one', () => {
    assert.equal(crc32(Uint8Array.from('123456789', (digit) => digit.charCodeAt(0))), 0xcbf43926);
  });
});

describe('gzip', () => {
  it('is opened and its content read', async () => {
    const result = await read('flight.fit.gz', gzipSync(fit));
    assert.equal(result.format, 'fit');
    assert.equal(result.track?.timeS.length, 200);
    assert.deepEqual(codes(result), []);
    assert.match(result.contents[0], /gzip/);
  });

  it('may have several members', async () => {
    const result = await read('flight.fit.gz', joined(gzipSync(fit.subarray(0, 1000)), gzipSync(fit.subarray(1000))));
    assert.equal(result.track?.timeS.length, 200);
  });

  it('is read as far as it goes when it was cut off', async () => {
    const packed = gzipSync(fit);
    const result = await read('flight.fit.gz', packed.subarray(0, Math.floor(packed.length / 2)));
    assert.deepEqual(codes(result), ['gzip-damaged', 'fit-cut']);
    const left = result.track?.timeS.length ?? 0;
    assert.ok(left > 20 && left < 200, `${left} records`);
    assert.ok(
      result.problems.every(({ at }) => at?.file === 'flight.fit.gz'),
      'the file that the user has',
    );
  });

  it('is warned of when its checksum is wrong', async () => {
    const packed = gzipSync(fit);
    packed[packed.length - 6] ^= 0xff;
    const result = await read('flight.fit.gz', packed);
    assert.deepEqual(codes(result), ['gzip-checksum']);
    assert.equal(result.track?.timeS.length, 200);
  });

  it('that expands without end is not unpacked', async () => {
    const packed = gzipSync(new Uint8Array(24 * 1024 * 1024));
    const started = performance.now();
    const result = await read('flight.gpx.gz', packed);
    assert.deepEqual(codes(result), ['archive-too-large']);
    assert.ok(performance.now() - started < 2000);
  });
});

describe('zip', () => {
  it('is opened and the recording in it read, others named', async () => {
    const result = await read('flight.zip', zipSync({ 'notes.pdf': new Uint8Array(5000), 'logs/flight.fit': fit }));
    assert.equal(result.format, 'fit');
    assert.deepEqual(codes(result), []);
    assert.equal(result.track?.timeS.length, 200);
    assert.equal(result.contents[0], 'In the archive: notes.pdf, logs/flight.fit. Read: logs/flight.fit.');
  });

  it('as KMZ gives the root document', async () => {
    const archive = zipSync({ 'files/big.kml': new Uint8Array(50_000), 'doc.kml': kml });
    const opened = await zipWrapper.open(bytesInMemory('flight.kmz', archive), {});
    assert.equal(opened.source?.name, 'flight.kmz/doc.kml');
    assert.deepEqual(await opened.source?.read(0, 1e6), kml);
    assert.deepEqual(
      opened.problems.map(({ code }) => code),
      ['zip-several'],
    );
  });

  it('says which of several recordings was read', async () => {
    const result = await read('flights.zip', zipSync({ 'a.kml': kml, 'b.fit': fit, '__MACOSX/._b.fit': fit }));
    assert.equal(result.format, 'fit');
    assert.deepEqual(codes(result), ['zip-several']);
    assert.match(result.problems[0].message, /holds 2 files .* the largest, b\.fit/);
  });

  it('does not unpack what was only stored, but reads it in place', async () => {
    const film = writeGpmfMp4(gpmfRun({ startS, seconds: 20, rateHz: 10 }), { pictureBytes: 1_000_000 });
    const archive = zipSync({ 'film.mp4': [film, { level: 0 }] });
    const source = countingSource('film.zip', {
      sizeBytes: archive.length,
      pieces: [{ offsetByte: 0, bytes: archive }],
    });
    const result = await readRecording(source);
    assert.equal(result.track?.timeS.length, 200);
    assert.ok(source.counts.bytes < 1_000_000, `${source.counts.bytes} of ${archive.length} bytes read`);
  });

  it('refuses an archive in an archive', async () => {
    assert.deepEqual(codes(await read('a.zip', zipSync({ 'b.zip': zipSync({ 'c.fit': fit }) }))), ['wrapped-too-deep']);
    assert.deepEqual(codes(await read('a.zip', zipSync({ 'b.fit': gzipSync(fit) }))), ['wrapped-too-deep']);
    assert.deepEqual(codes(await read('a.fit.gz.gz', gzipSync(gzipSync(fit)))), ['wrapped-too-deep']);
  });

  it('says when there is nothing to read in it', async () => {
    const result = await read('a.zip', zipSync({ 'notes.pdf': fit, 'picture.jpg': fit }));
    assert.deepEqual(codes(result), ['zip-no-recording']);
    assert.match(result.problems[0].message, /notes\.pdf, picture\.jpg/);
  });

  it('says when it is cut off, protected or packed in another way', async () => {
    const archive = zipSync({ 'a.fit': fit });
    assert.deepEqual(codes(await read('a.zip', archive.subarray(0, archive.length - 30))), ['zip-damaged']);
    const directory = archive.length - 22 - 46 - 'a.fit'.length;
    const encrypted = archive.slice();
    encrypted[directory + 8] |= 1;
    assert.deepEqual(codes(await read('a.zip', encrypted)), ['zip-encrypted']);
    const other = archive.slice();
    other[directory + 10] = 14;
    assert.deepEqual(codes(await read('a.zip', other)), ['zip-method']);
    const wrong = archive.slice();
    wrong[directory + 16] ^= 0xff;
    assert.deepEqual(codes(await read('a.zip', wrong)), ['zip-checksum']);
  });

  it('does not unpack what expands without end', async () => {
    const archive = zipSync({ 'flight.gpx': new Uint8Array(24 * 1024 * 1024) });
    assert.deepEqual(codes(await read('a.zip', archive)), ['archive-too-large']);
  });
});

describe('damaged archives', () => {
  const short = writeFit(Array.from({ length: 20 }, (_, k) => ({ timeS: startS + k, latDeg: 46.5, lonDeg: k / 100 })));
  // What is unpacked may be larger than the archive: the bounds of rows and reads are those of the content.
  it('gzip', () => assertSurvives('a.fit.gz', gzipSync(short, { level: 0 }), 1500));
  it('zip', () => assertSurvives('a.zip', zipSync({ 'a.fit': [short, { level: 1 }] }), 1500));
});
