import assert from 'node:assert/strict';
import FitParser from 'fit-file-parser';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { writeFit } from '../../../../synth/write-fit.ts';
import { near } from '../../../../tools/near.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

interface ReferenceRecord {
  readonly timestamp: Date | string;
  readonly position_lat?: number;
  readonly position_long?: number;
  readonly altitude?: number;
  readonly enhanced_altitude?: number;
  readonly speed?: number;
  readonly enhanced_speed?: number;
}

/** The records by the library fit-file-parser (MIT), an independent decoder. */
async function referenceRecords(bytes: Uint8Array): Promise<ReferenceRecord[]> {
  const parser = new FitParser({ force: false, speedUnit: 'm/s', lengthUnit: 'm', mode: 'list' });
  const parsed = (await parser.parseAsync(bytes.slice().buffer)) as { records?: ReferenceRecord[] };
  return parsed.records ?? [];
}

describe('recorded FIT files against the library fit-file-parser', () => {
  const files: [string, number][] = [
    ['bike-one-minute-a.fit', 19],
    ['bike-one-minute-b.fit', 15],
    ['null_compressed_speed_dist.fit', 1808],
    ['developer-types-sample.fit', 3424],
  ];
  for (const [name, records] of files) {
    itWithData(name, `data/conformance/fit/${name}`, async (bytes) => {
      const { track, problems } = await readRecording(bytesInMemory(name, bytes));
      assert.deepEqual(problems, []);
      assert.ok(track);
      const reference = await referenceRecords(bytes);
      assert.equal(reference.length, records);
      assert.equal(track.timeS.length, records);
      let speeds = 0;
      for (const [i, record] of reference.entries()) {
        assert.equal(track.timeS[i], new Date(record.timestamp).getTime() / 1000);
        near(track.latDeg[i], record.position_lat ?? Number.NaN, 1e-9);
        near(track.lonDeg[i], record.position_long ?? Number.NaN, 1e-9);
        const altitudeM = record.enhanced_altitude ?? record.altitude;
        if (altitudeM !== undefined) near(track.altitudes[0].valuesM[i], altitudeM, 1e-6);
        const speedMps = record.enhanced_speed ?? record.speed;
        if (speedMps === undefined) continue;
        near(track.groundSpeedMps?.[i] ?? Number.NaN, speedMps, 1e-9);
        speeds++;
      }
      assert.ok(speeds > records / 2, `${speeds} speeds were compared`);
    });
  }

  // Facts as described in data/SOURCES.md: 755 records, none with a position, the clock never set (1990).
  itWithData('a recording without positions', 'data/conformance/fit/compressed-speed-distance.fit', async (bytes) => {
    const { track, problems } = await readRecording(bytesInMemory('a.fit', bytes));
    assert.equal(track, undefined);
    assert.deepEqual(
      problems.map(({ code }) => code),
      ['fit-no-positions'],
    );
    assert.match(problems[0].message, /None of the 755 records/);
  });

  itWithData('texts without terminator', 'data/nasty/unterminated-strings.fit', async (bytes) => {
    const { problems, contents } = await readRecording(bytesInMemory('a.fit', bytes));
    assert.match(contents.join(' '), /33 records/);
    assert.deepEqual(
      problems.map(({ code }) => code),
      ['fit-no-positions'],
    );
  });
});

describe('written FIT files against the library fit-file-parser', () => {
  for (const options of [{}, { byteOrder: 'big' }, { enhanced: false, headerBytes: 12 }] as const) {
    it(JSON.stringify(options), async () => {
      const startS = Date.UTC(2026, 2, 31) / 1000;
      const samples = Array.from({ length: 30 }, (_, k) => ({
        timeS: startS + k,
        latDeg: 46.5 + k * 1e-4,
        lonDeg: -14.75,
        altitudeM: 12.4 + k,
        groundSpeedMps: 27.986,
      }));
      const reference = await referenceRecords(writeFit(samples, options));
      assert.equal(reference.length, samples.length);
      for (const [i, record] of reference.entries()) {
        assert.equal(new Date(record.timestamp).getTime() / 1000, samples[i].timeS);
        near(record.position_lat ?? Number.NaN, samples[i].latDeg, 5e-8);
        near(record.position_long ?? Number.NaN, samples[i].lonDeg, 5e-8);
        near(record.enhanced_altitude ?? record.altitude ?? Number.NaN, samples[i].altitudeM, 0.1001);
        near(record.enhanced_speed ?? record.speed ?? Number.NaN, 27.986, 1e-9);
      }
    });
  }
});
