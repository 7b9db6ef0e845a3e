import assert from 'node:assert/strict';
import { XMLValidator } from 'fast-xml-parser';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { writeGpx } from '../../../../src/engine/track/write-gpx.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { simulatedFlight } from '../../../synth/simulated-flights.ts';
import { near } from '../../../tools/near.ts';
import { trackOf } from './track-of.ts';

const roundTrip = async (track: Track) =>
  readRecording(bytesInMemory('a.gpx', new TextEncoder().encode(writeGpx(track))));

describe('a track as GPX', () => {
  it('comes back as it was', async () => {
    const flight = simulatedFlight('gpx', { receiver: 'good10' });
    const given: Track = { ...flight.track, breaks: [100, 2000] };
    const { track, format } = await roundTrip(given);
    assert.equal(format, 'gpx');
    assert.ok(track);
    assert.equal(track.timeS.length, given.timeS.length);
    assert.deepEqual(track.breaks, given.breaks);
    for (let i = 0; i < given.timeS.length; i += 7) {
      near(track.timeS[i], given.timeS[i], 0.0005001);
      near(track.latDeg[i], given.latDeg[i], 6e-10);
      near(track.lonDeg[i], given.lonDeg[i], 6e-10);
      near(track.altitudes[0].valuesM[i], given.altitudes[0].valuesM[i], 0.00051);
      near(track.groundSpeedMps?.[i] ?? Number.NaN, given.groundSpeedMps?.[i] ?? Number.NaN, 0.000051);
    }
  });

  it('keeps heights above sea level and the ellipsoid apart', async () => {
    const plain = trackOf([0, 1, 2, 3].map((t) => ({ t, east: 30 * t, up: 100 + t })));
    const ellipsoid = {
      kind: 'ellipsoid' as const,
      valuesM: plain.altitudes[0].valuesM.map((heightM) => heightM + 47.5),
    };
    const { track } = await roundTrip({ ...plain, altitudes: [...plain.altitudes, ellipsoid] });
    assert.deepEqual(
      track?.altitudes.map(({ kind, valuesM }) => [kind, valuesM[1]]),
      [
        ['msl', 101],
        ['ellipsoid', 148.5],
      ],
    );
  });

  it('is well formed whatever the name, with the elements in the order of the schema', () => {
    const track = trackOf([{ t: 0, east: 0, up: 1, speed: 2 }], {
      hdop: Float64Array.of(1.2),
      trackRad: Float64Array.of(1),
    });
    const text = writeGpx(track, { name: 'a < b & "c" > \u0007d' });
    assert.equal(XMLValidator.validate(text), true);
    assert.match(text, /<name>a &lt; b &amp; "c" &gt; d<\/name>/);
    // GPX 1.1 schema, wptType: ele, time, magvar, geoidheight, ..., hdop, ..., extensions.
    assert.match(text, /<trkpt[^>]*><ele>1<\/ele><time>[^<]*Z<\/time><hdop>1\.2<\/hdop><extensions>/);
  });
});
