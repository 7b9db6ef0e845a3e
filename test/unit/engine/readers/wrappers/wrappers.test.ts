import assert from 'node:assert/strict';
import { gzipSync, zipSync } from 'fflate';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../../src/engine/readers/reader.ts';
import { crc32 } from '../../../../../src/engine/readers/wrappers/crc32.ts';
import { zipWrapper } from '../../../../../src/engine/readers/wrappers/zip.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { joined } from '../../../../synth/byte-parts.ts';
import { gpmfRun } from '../../../../synth/camera-walk.ts';
import { type FileLayout, filmBytes } from '../../../../synth/film.ts';
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

/**
 * An archive with one stored file whose header lies at `headerByte`: a local header, the data, a directory with the 64-bit
 * extra field (4.5.3), the Zip64 end record (4.3.14), its locator (4.3.15) and the end record (4.3.16).
 */
function zip64(name: string, data: Uint8Array, headerByte: number): { layout: FileLayout; headerByte: number } {
  const encoded = new TextEncoder().encode(name);
  const ones = 0xffffffff;
  const local = new DataView(new ArrayBuffer(30));
  local.setUint32(0, 0x04034b50, true);
  local.setUint32(14, crc32(data), true);
  local.setUint32(18, data.length, true);
  local.setUint32(22, data.length, true);
  local.setUint16(26, encoded.length, true);
  const entry = new DataView(new ArrayBuffer(46));
  entry.setUint32(0, 0x02014b50, true);
  entry.setUint32(16, crc32(data), true);
  for (const field of [20, 24, 42]) entry.setUint32(field, ones, true);
  entry.setUint16(28, encoded.length, true);
  entry.setUint16(30, 28, true);
  const extra = new DataView(new ArrayBuffer(28));
  extra.setUint16(0, 1, true);
  extra.setUint16(2, 24, true);
  [data.length, data.length, headerByte].forEach((value, k) => extra.setBigUint64(4 + 8 * k, BigInt(value), true));
  const directoryByte = headerByte + 30 + encoded.length + data.length;
  const directoryBytes = 46 + encoded.length + 28;
  const end64 = new DataView(new ArrayBuffer(56));
  end64.setUint32(0, 0x06064b50, true);
  end64.setBigUint64(4, 44n, true);
  [1, 1, directoryBytes, directoryByte].forEach((value, k) => end64.setBigUint64(24 + 8 * k, BigInt(value), true));
  const locator = new DataView(new ArrayBuffer(20));
  locator.setUint32(0, 0x07064b50, true);
  locator.setBigUint64(8, BigInt(directoryByte + directoryBytes), true);
  const end = new DataView(new ArrayBuffer(22));
  end.setUint32(0, 0x06054b50, true);
  end.setUint16(8, 0xffff, true);
  end.setUint16(10, 0xffff, true);
  end.setUint32(12, ones, true);
  end.setUint32(16, ones, true);
  const bytesOf = (view: DataView): Uint8Array => new Uint8Array(view.buffer);
  const tail = joined(
    bytesOf(local),
    encoded,
    data,
    bytesOf(entry),
    encoded,
    bytesOf(extra),
    bytesOf(end64),
    bytesOf(locator),
    bytesOf(end),
  );
  const first = Uint8Array.from([0x50, 0x4b, 3, 4]);
  return {
    headerByte,
    layout: {
      sizeBytes: headerByte + tail.length,
      pieces: [
        { offsetByte: 0, bytes: first },
        { offsetByte: headerByte, bytes: tail },
      ],
    },
  };
}

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
    assert.equal(result.contents[0], 'In the archive: notes.pdf, logs/flight.fit.');
  });

  it('as KMZ gives the root document', async () => {
    const archive = zipSync({ 'files/big.kml': new Uint8Array(50_000), 'doc.kml': kml });
    const opened = await zipWrapper.open(bytesInMemory('flight.kmz', archive), {});
    const { source } = await opened.files[0].unpack();
    assert.equal(source?.name, 'flight.kmz/doc.kml');
    assert.deepEqual(await source.read(0, 1e6), kml);
    assert.deepEqual(codes(await read('flight.kmz', archive)), ['zip-several', 'kml-altitude-mode']);
  });

  it('as KMZ whose root document only links to another gives that one', async () => {
    const link = new TextEncoder().encode(
      '<kml xmlns="http://www.opengis.net/kml/2.2"><NetworkLink><Link><href>files/a.kml</href></Link></NetworkLink></kml>',
    );
    const result = await read('flight.kmz', zipSync({ 'doc.kml': link, 'files/a.kml': kml }));
    assert.equal(result.track?.timeS.length, 4);
    assert.deepEqual(codes(result), ['kml-altitude-mode']);
    assert.ok(result.contents.includes('Read from the archive: files/a.kml.'));
  });

  it('passes over notes that are larger than the recording', async () => {
    const notes = new TextEncoder().encode('Took off behind the tug, calm.\n'.repeat(1000));
    const result = await read('a.zip', zipSync({ 'notes.txt': notes, 'a.fit': fit }));
    assert.equal(result.track?.timeS.length, 200);
    assert.deepEqual(codes(result), []);
  });

  it('says so when none of several gives a track, and tries no more than a dozen', async () => {
    const notes = new TextEncoder().encode('nothing\n');
    const many = Object.fromEntries(Array.from({ length: 40 }, (_, k) => [`${k}.txt`, notes]));
    assert.deepEqual(codes(await read('a.zip', zipSync(many))), ['zip-several', 'unknown-format']);
  });

  it('says which of several recordings was read', async () => {
    const result = await read('flights.zip', zipSync({ 'a.kml': kml, 'b.fit': fit, '__MACOSX/._b.fit': fit }));
    assert.equal(result.format, 'fit');
    assert.deepEqual(codes(result), ['zip-several']);
    assert.match(result.problems[0].message, /holds 2 files .*; b\.fit is read/);
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

  it('may hold recordings that are packed once more, not deeper', async () => {
    const deep = await read('season.zip', zipSync({ 'b.fit.gz': gzipSync(fit) }));
    assert.equal(deep.track?.timeS.length, 200);
    assert.ok(deep.problems.every(({ at }) => at?.file === 'season.zip'));
    assert.equal((await read('a.zip', zipSync({ 'b.kmz': zipSync({ 'doc.kml': kml }) }))).track?.timeS.length, 4);
    assert.equal((await read('a.fit.gz.gz', gzipSync(gzipSync(fit)))).track?.timeS.length, 200);
    const deeper = zipSync({ 'b.zip': zipSync({ 'c.fit.gz': gzipSync(fit) }) });
    assert.deepEqual(codes(await read('a.zip', deeper)), ['wrapped-too-deep']);
    assert.deepEqual(codes(await read('a.zip', zipSync({ 'b.7z': fit }))), ['wrapped-too-deep']);
  });

  it('over 4 GB (Zip64) is read in place', async () => {
    const film = writeGpmfMp4(gpmfRun({ startS, seconds: 20, rateHz: 10 }));
    const { layout, headerByte } = zip64('film.mp4', film, 5 * 2 ** 30);
    const source = countingSource('films.zip', layout);
    const result = await readRecording(source);
    assert.equal(result.track?.timeS.length, 200);
    assert.ok(source.counts.bytes < 1_000_000, `${source.counts.bytes} bytes read`);
    // A locator that leads nowhere is damage.
    const [head, { offsetByte, bytes }] = layout.pieces;
    const lost = bytes.slice();
    new DataView(lost.buffer).setBigUint64(lost.length - 22 - 12, 2n ** 60n, true);
    const broken = countingSource('films.zip', { ...layout, pieces: [head, { offsetByte, bytes: lost }] });
    assert.deepEqual(codes(await readRecording(broken)), ['zip-damaged']);
    assert.ok(headerByte > 2 ** 32);
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
  const nested = zipSync({
    'b.fit.gz': [
      gzipSync(
        writeFit([
          { timeS: startS, latDeg: 46.5, lonDeg: 0 },
          { timeS: startS + 1, latDeg: 46.5, lonDeg: 0.001 },
        ]),
        { level: 0 },
      ),
      { level: 0 },
    ],
  });
  it('gzip in zip', () => assertSurvives('a.zip', nested, 1500));
  it('Zip64', () => assertSurvives('a.zip', filmBytes(zip64('a.fit', fit.subarray(0, 1500), 4).layout), 1500));
  const short = writeFit(Array.from({ length: 20 }, (_, k) => ({ timeS: startS + k, latDeg: 46.5, lonDeg: k / 100 })));
  // What is unpacked may be larger than the archive: the bounds of rows and reads are those of the content.
  it('gzip', () => assertSurvives('a.fit.gz', gzipSync(short, { level: 0 }), 1500));
  it('zip', () => assertSurvives('a.zip', zipSync({ 'a.fit': [short, { level: 1 }] }), 1500));
});
