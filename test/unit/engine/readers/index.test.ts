import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { readers, readRecording } from '../../../../src/engine/readers/index.ts';
import { bytesInMemory, type ByteSource } from '../../../../src/engine/world.ts';
import { codesOf, readText } from '../../../tools/read-text.ts';

const gpx =
  '<gpx version="1.1"><trk><trkseg><trkpt lat="46.5" lon="-14.75"><time>2026-03-31T12:00:00Z</time></trkpt></trkseg></trk></gpx>';
const examples: Readonly<Record<string, string>> = {
  gpx,
  kml: '<kml><Placemark><gx:Track><when>2026-03-31T12:00:00Z</when><gx:coord>-14.75 46.5 1</gx:coord></gx:Track></Placemark></kml>',
  igc: 'AXXXABC\r\nHFDTE310326\r\nB1200004630000N01445000WA0010000150\r\n',
  nmea: '$GPRMC,120000.00,A,4630.0000,N,01445.0000,W,21.6,0.0,310326,,,A\r\n',
  csv: 'time,lat,lon\n2026-03-31T12:00:00Z,46.5,-14.75\n',
};

describe('readRecording', () => {
  for (const [format, text] of Object.entries(examples)) {
    it(`knows ${format} by its content, whatever the name says`, async () => {
      for (const name of [
        'flight',
        'flight.gpx',
        'flight.igc',
        'flight.csv',
        'flight.mp4',
        'flight.fit',
        'flight.txt',
      ]) {
        const result = await readText(name, text);
        assert.equal(result.format, format, name);
        assert.equal(result.track?.timeS.length, 1, name);
      }
    });

    it(`${format} is claimed by one reader alone, but for the tables that take what is left`, () => {
      const claims = readers.filter((reader) => reader.recognises(new TextEncoder().encode(text), 'flight'));
      assert.deepEqual(
        claims.map((reader) => reader.format),
        [format],
      );
    });
  }

  it('puts the name of the file into every problem', async () => {
    for (const text of [
      '<gpx></gpx>',
      'AXXXABC\r\nHFDTE310226\r\n',
      '$GPRMC,x*00\n$GPGGA,1,2*00',
      'time,lat,lon\nx,y,z\n',
    ]) {
      const { problems } = await readText('my flight.log', text);
      assert.ok(problems.length > 0);
      for (const problem of problems) assert.equal(problem.at?.file, 'my flight.log');
    }
  });

  it('says what an empty, a binary and an unknown file is', async () => {
    assert.deepEqual(codesOf(await readText('a.gpx', '')), ['empty-file']);
    assert.deepEqual(codesOf(await readText('a.gpx', '\n\n  \n')), ['unknown-format']);
    assert.deepEqual(codesOf(await readText('a.txt', 'Dear diary, today we flew.\n')), ['unknown-format']);
    const picture = Uint8Array.from([
      0x89,
      0x50,
      0x4e,
      0x47,
      0x0d,
      0x0a,
      0x1a,
      0x0a,
      0,
      0,
      0,
      13,
      ...Array.from({ length: 500 }, (_, i) => (i * 37) % 256),
    ]);
    for (const name of ['a.png', 'a.gpx', 'a.csv']) {
      const result = await readRecording(bytesInMemory(name, picture));
      assert.equal(result.track, undefined);
      assert.deepEqual(codesOf(result), ['unknown-format'], name);
    }
  });

  it('passes on what the source cannot do, and an abort', async () => {
    const broken: ByteSource = {
      name: 'a.gpx',
      sizeBytes: 100,
      read: () => Promise.reject(new Error('card pulled out')),
    };
    await assert.rejects(readRecording(broken), /card pulled out/);
    await assert.rejects(readText('a.gpx', gpx, { signal: AbortSignal.abort() }), { name: 'AbortError' });
  });

  it('reads any bytes under any name without throwing', async () => {
    const names = fc.constantFrom('a', 'a.gpx', 'a.csv', 'a.igc', 'a.kml', 'a.nmea', 'a.zip');
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 300 }),
      fc.string({ maxLength: 300, unit: 'binary' }).map((text) => new TextEncoder().encode(text)),
      fc
        .array(
          fc.constantFrom(
            '<',
            '>',
            '/',
            'gpx',
            'kml',
            'trkpt',
            ' lat="1"',
            '$GPRMC,',
            'B1200004630000N01445000WA0010000150',
            '\n',
            ',',
            ';',
            '"',
            'lat',
            'lon',
            'time',
            '1',
            '\u0000',
            '<!--',
            ']]>',
            '<?',
          ),
          { maxLength: 60 },
        )
        .map((parts) => new TextEncoder().encode(parts.join(''))),
    );
    await fc.assert(
      fc.asyncProperty(names, bytes, async (name, content) => {
        const { problems, track } = await readRecording(bytesInMemory(name, content));
        assert.ok(problems.length > 0 || track, 'something is always said');
      }),
      { seed: 20_260_331, numRuns: 600 },
    );
  });
});
