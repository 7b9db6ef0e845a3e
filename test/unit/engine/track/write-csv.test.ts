import assert from 'node:assert/strict';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { ChannelName, Track } from '../../../../src/engine/track/track.ts';
import { channelsNotInCsv, writeCsv } from '../../../../src/engine/track/write-csv.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { near } from '../../../tools/near.ts';
import { trackOf } from './track-of.ts';

const rows = 60;
const column = (of: (row: number) => number): Float64Array => Float64Array.from({ length: rows }, (_, row) => of(row));
const plain = trackOf(
  Array.from({ length: rows }, (_, t) => ({ t: t * 0.2, east: 6 * t, north: 8 * t, up: 100 + t, speed: 50 + t / 8 })),
);
const channels: Partial<Record<ChannelName, Float64Array>> = {
  indicatedAirspeedMps: column((row) => 48 + row / 16),
  trueAirspeedMps: column((row) => 51 + row / 16),
  outsideAirTemperatureK: column((row) => 280 - row / 32),
  engineSpeedRpm: column((row) => 2300 + row),
  manifoldPressurePa: column((row) => 80_000 + 10 * row),
  fuelFlowM3ps: column((row) => (30 + row / 8) / 3.6e6),
  fuelQuantityM3: column((row) => 0.08 - row * 1e-5),
  fuelUsedM3: column((row) => row * 1e-5),
  pitchRad: column((row) => 0.05 + row / 1000),
  rollRad: column((row) => -0.02 + row / 1000),
  headingRad: column((row) => 0.6 + row / 1000),
  windSpeedMps: column((row) => 5 + row / 64),
  windFromRad: column((row) => 3 + row / 1000),
};
const given: Track = {
  ...plain,
  altitudes: [...plain.altitudes, { kind: 'pressure', valuesM: column((row) => 150 + row) }],
  trackRad: column(() => Math.atan2(6, 8)),
  verticalSpeedMps: column((row) => 5 - row / 100),
  horizontalSigmaM: column((row) => 2 + row / 100),
  verticalSigmaM: column((row) => 4 + row / 100),
  speedSigmaMps: column(() => 0.25),
  hdop: column(() => 1.2),
  channels,
};

describe('a track as a table', () => {
  it('comes back as it was, with every column in its unit', async () => {
    const { track, problems, format } = await readRecording(
      bytesInMemory('a.csv', new TextEncoder().encode(writeCsv(given, { remark: 'Moved, to hide "it".\nTwice.' }))),
    );
    assert.equal(format, 'csv');
    assert.deepEqual(
      problems.map(({ code }) => code),
      [],
    );
    assert.ok(track);
    assert.deepEqual(
      track.altitudes.map(({ kind }) => kind),
      ['msl', 'pressure'],
    );
    assert.deepEqual(Object.keys(track.channels).sort(), Object.keys(channels).sort());
    const same = (
      is: Float64Array | undefined,
      was: Float64Array | undefined,
      tolerance: number,
      what: string,
    ): void => {
      assert.equal(is?.length, rows, what);
      for (let row = 0; row < rows; row++) near(is?.[row] ?? Number.NaN, was?.[row] ?? Number.NaN, tolerance, what);
    };
    same(track.timeS, given.timeS, 0.0006, 'time');
    same(track.latDeg, given.latDeg, 6e-10, 'latitude');
    same(track.lonDeg, given.lonDeg, 6e-10, 'longitude');
    given.altitudes.forEach(({ valuesM, kind }, index) => same(track.altitudes[index].valuesM, valuesM, 0.0006, kind));
    same(track.groundSpeedMps, given.groundSpeedMps, 6e-5, 'ground speed');
    same(track.trackRad, given.trackRad, 1e-6, 'track');
    same(track.verticalSpeedMps, given.verticalSpeedMps, 6e-5, 'vertical speed');
    same(track.horizontalSigmaM, given.horizontalSigmaM, 6e-4, 'horizontal accuracy');
    same(track.verticalSigmaM, given.verticalSigmaM, 6e-4, 'vertical accuracy');
    same(track.speedSigmaMps, given.speedSigmaMps, 6e-5, 'speed accuracy');
    same(track.hdop, given.hdop, 6e-3, 'hdop');
    for (const [name, values] of Object.entries(channels)) {
      const scale = Math.max(...values.map(Math.abs));
      same(track.channels[name as ChannelName], values, 2e-5 * scale, name);
    }
  });

  it('leaves cells empty where nothing was recorded, and rows out that have no position', async () => {
    const holes: Track = {
      ...given,
      latDeg: Float64Array.from(given.latDeg),
      hdop: column((row) => (row % 2 ? Number.NaN : 1)),
    };
    holes.latDeg[5] = Number.NaN;
    const lines = writeCsv(holes).trimEnd().split('\r\n');
    assert.equal(lines.length, rows);
    assert.ok(!/NaN|Infinity|e-/.test(lines.slice(1).join('')));
    const { track } = await readRecording(
      bytesInMemory('a.csv', new TextEncoder().encode(`${lines.join('\r\n')}\r\n`)),
    );
    assert.ok(track?.hdop?.some(Number.isNaN));
  });

  it('names what it cannot carry', () => {
    assert.deepEqual(channelsNotInCsv({ ...given, channels: { ...channels, engineNoise: column(() => 1) } }), [
      'engineNoise',
    ]);
  });
});
