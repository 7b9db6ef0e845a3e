import assert from 'node:assert/strict';
import FitParser from 'fit-file-parser';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../../src/engine/readers/reader.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { type FitMetadata, type FitSample, writeFit } from '../../../../synth/write-fit.ts';
import { assertSurvives } from '../../../../tools/assert-survives.ts';
import { near } from '../../../../tools/near.ts';

const read = (bytes: Uint8Array): Promise<ReadResult> => readRecording(bytesInMemory('flight.fit', bytes));
const startS = Date.UTC(2026, 2, 31, 23, 59, 30) / 1000;
/** The device was started this long before. */
const upS = 418.37;
const speedMps = 40;
const metresPerDegree = 111_195;

const metadata: FitMetadata[] = Array.from({ length: 300 }, (_, k) => ({
  deviceS: upS + k / 10,
  utcS: startS + k / 10,
  latDeg: 46.5 + ((k / 10) * speedMps) / metresPerDegree,
  lonDeg: -14.75,
  altitudeM: 300 + k / 10,
  groundSpeedMps: speedMps,
  headingDeg: 0,
}));
const records: FitSample[] = Array.from({ length: 30 }, (_, k) => ({
  timeS: startS + k,
  latDeg: metadata[10 * k].latDeg,
  lonDeg: -14.75,
}));

describe('FIT with GPS metadata', () => {
  it('takes the finer positions, in UTC although the device counts from its start', async () => {
    const { track, problems, contents } = await read(writeFit(records, { metadata }));
    assert.deepEqual(problems, []);
    assert.ok(track);
    assert.equal(track.timeS.length, 300);
    assert.ok(contents.some((text) => text.includes('300 positions of the receiver itself')));
    for (const [i, one] of metadata.entries()) {
      // Whole seconds of UTC, ten samples in each: known to a tenth of a second.
      near(track.timeS[i], one.utcS ?? 0, 0.1001);
      near(track.latDeg[i], one.latDeg, 4.2e-8);
      near(track.altitudes[0].valuesM[i], one.altitudeM, 0.1001);
    }
    near(track.groundSpeedMps?.[100] ?? 0, speedMps, 1e-9);
    assert.match(track.assumptions?.join(' ') ?? '', /up to a second/);
  });

  it('has the values of the library fit-file-parser', async () => {
    const bytes = writeFit(records, { metadata, byteOrder: 'big' });
    const { track } = await read(bytes);
    const parser = new FitParser({ force: false, speedUnit: 'm/s', lengthUnit: 'm', mode: 'list' });
    const parsed = (await parser.parseAsync(bytes.slice().buffer)) as unknown as {
      readonly messages: { readonly gps_metadata?: readonly Readonly<Record<string, number>>[] };
    };
    const reference = parsed.messages.gps_metadata ?? [];
    assert.equal(reference.length, 300);
    for (const [i, one] of reference.entries()) {
      near(track?.latDeg[i] ?? Number.NaN, one.position_lat, 1e-9);
      near(track?.altitudes[0].valuesM[i] ?? Number.NaN, one.enhanced_altitude, 1e-6);
      near(track?.groundSpeedMps?.[i] ?? Number.NaN, one.enhanced_speed, 1e-9);
    }
  });

  it('stays with the records where they hold more, and has no time where the clock was never set', async () => {
    const few = await read(writeFit(records, { metadata: metadata.slice(0, 10) }));
    assert.equal(few.track?.timeS.length, 30);
    const unset = await read(writeFit([], { metadata: metadata.map((one) => ({ ...one, utcS: undefined })) }));
    assert.equal(unset.track, undefined);
    assert.ok(unset.problems.some(({ code }) => code === 'sample-without-time'));
  });
});

describe('damaged FIT files with GPS metadata', () => {
  it('are read or refused', () =>
    assertSurvives('a.fit', writeFit(records.slice(0, 2), { metadata: metadata.slice(0, 40) }), 2000));
});
