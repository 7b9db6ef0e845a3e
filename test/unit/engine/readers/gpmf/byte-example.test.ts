import assert from 'node:assert/strict';
import { GpsStreams } from '../../../../../src/engine/readers/gpmf/gps-stream.ts';
import { gpmfReader } from '../../../../../src/engine/readers/gpmf/read.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { fromHex } from '../../../../synth/byte-parts.ts';
import { near } from '../../../../tools/near.ts';

// An invented payload, encoded by hand from the layout in the GPMF introduction (README of the format's parser
// repository): fix 3, dilution of precision 1.42, two GPS5 positions.
const payload = fromHex(`
  44455643000100c4445649444c040001000000015354524d000100b053544e4d
  6301002c47505320284c61742e2c204c6f6e672e2c20416c742e2c2032442073
  706565642c2033442073706565642900475053464c0400010000000347505355
  551000013236303333313233353935382e3830304750535053020001008e0000
  5343414c6c0400050098968000989680000003e8000003e80000006447505335
  6c1400021bb75640f73554200000307000006d5200000aef1bb75640f7355358
  0000308400006dce00000afb`);

describe('GPMF byte example', () => {
  it('gives the positions, speeds, fix and time that were encoded', () => {
    const streams = new GpsStreams();
    streams.add(payload, { videoS: 0, durationS: 1 }, 0);
    const [stream] = streams.all;
    assert.equal(streams.all.length, 1);
    assert.equal(stream.key, 'GPS5');
    assert.deepEqual(stream.latDeg, [46.5, 46.5]);
    assert.deepEqual(stream.lonDeg, [-14.75, -14.75002]);
    assert.deepEqual(stream.altitudeM, [12.4, 12.42]);
    assert.deepEqual(stream.groundSpeedMps, [27.986, 28.11]);
    assert.deepEqual(stream.fix, [3, 3]);
    assert.deepEqual(stream.dop, [1.42, 1.42]);
    near(stream.payloads[0].utcS, Date.UTC(2026, 2, 31, 23, 59, 58, 800) / 1000, 1e-6);
    assert.equal(streams.damaged, 0);
  });

  it('is a track of two samples, spread over the second of the payload', async () => {
    const { track, problems } = await gpmfReader.read(bytesInMemory('example.raw', payload), {});
    assert.deepEqual(problems, []);
    assert.ok(track);
    assert.deepEqual(
      [...track.timeS].map((timeS) => timeS - track.timeS[0]),
      [0, 0.5],
    );
    assert.equal(track.altitudes[0].kind, 'ellipsoid');
    assert.deepEqual([...(track.hdop ?? [])], [1.42, 1.42]);
    assert.equal(track.videoStartS, undefined);
  });
});
