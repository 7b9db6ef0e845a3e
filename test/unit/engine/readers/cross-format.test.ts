import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { near } from '../../../tools/near.ts';
import { altitudeOf, trackOf } from '../../../tools/read-text.ts';
import { sharedData } from '../../../tools/shared-data.ts';
import { itWithData } from '../../../tools/with-shared-data.ts';

async function read(path: string): Promise<Track> {
  const found = sharedData(path);
  assert.ok(found, path);
  return trackOf(await readRecording(bytesInMemory(path, readFileSync(found))));
}

describe('the same flight in two formats', () => {
  itWithData('avionics-01: table and GPX have the same fixes', 'data/flights/avionics-01.gpx', async () => {
    const [table, gpx] = [await read('data/flights/avionics-01.csv'), await read('data/flights/avionics-01.gpx')];
    assert.deepEqual([...table.timeS], [...gpx.timeS]);
    gpx.latDeg.forEach((lat, i) => {
      near(table.latDeg[i], lat, 1e-9);
      near(table.lonDeg[i], gpx.lonDeg[i], 1e-9);
    });
  });

  itWithData(
    'glider-04: IGC and KML have the same fixes and both altitudes',
    'data/flights/glider-04.kml',
    async () => {
      const [igc, kml] = [await read('data/flights/glider-04.igc'), await read('data/flights/glider-04.kml')];
      assert.deepEqual([...igc.timeS], [...kml.timeS]);
      igc.latDeg.forEach((lat, i) => {
        // The KML writes 6 decimals of a degree.
        near(kml.latDeg[i], lat, 5.1e-7);
        near(kml.lonDeg[i], igc.lonDeg[i], 5.1e-7);
      });
      assert.deepEqual([...altitudeOf(igc, 'pressure')], [...altitudeOf(kml, 'pressure')]);
      assert.deepEqual([...altitudeOf(igc, 'ellipsoid')], [...altitudeOf(kml, 'unknown')]);
    },
  );
});

describe('facts of real recordings', () => {
  itWithData(
    'avionics-01: field elevation, setting and run-up as described',
    'data/flights/avionics-01.csv',
    async () => {
      const track = await read('data/flights/avionics-01.csv');
      // The first row of the file: AltMSL 4503.9 ft, AltGPS 4448.0 ft, AltB 4517.8 ft with 29.96 inHg, 3.50 kt, 18.5 degC.
      near(altitudeOf(track, 'msl')[0], 4503.9 * 0.3048, 1e-9);
      near(altitudeOf(track, 'ellipsoid')[0], 4448 * 0.3048, 1e-9);
      // 29.96 inHg is 1.31 hPa above standard: 36 ft (27.3 ft a hectopascal) below the indicated altitude.
      near(altitudeOf(track, 'pressure')[0] / 0.3048, 4517.8 - 36, 0.5);
      near(track.groundSpeedMps?.[0] ?? 0, (3.5 * 1852) / 3600, 1e-9);
      near(track.channels.outsideAirTemperatureK?.[0] ?? 0, 291.65, 1e-9);
      near(track.channels.fuelQuantityM3?.[0] ?? 0, (21.27 + 25.19) * 3.785411784e-3, 1e-9);
      // Manifold pressure and engine speed of the last row, in the climb with full power.
      near(track.channels.engineSpeedRpm?.[441] ?? 0, 2500, 250);
      // Directions in the file are magnetic, the variation 11.7 degrees: found by comparing with the positions.
      assert.match(track.assumptions.join(), /directions of motion are magnetic/);
    },
  );

  itWithData('skydive-climb-01: velocity components and accuracies', 'data/flights/skydive-climb-01.csv', async () => {
    const track = await read('data/flights/skydive-climb-01.csv');
    near(track.groundSpeedMps?.[0] ?? 0, Math.hypot(64.13, 1.74), 1e-9);
    near(track.verticalSpeedMps?.[0] ?? 0, 16.92, 1e-9);
    near(track.horizontalSigmaM?.[0] ?? 0, 163.641, 1e-9);
    near(altitudeOf(track, 'msl')[0], 96.706, 1e-9);
  });

  itWithData('selflaunch-01: extensions in their units', 'data/flights/selflaunch-01.igc', async () => {
    const track = await read('data/flights/selflaunch-01.igc');
    // Fifth fix: FXA 008, ENL 506, TAS 00924 (9.24 km/h), GSP 00019, TRT 100, OAT 0285.
    assert.equal(track.horizontalSigmaM?.[4], 4);
    assert.equal(track.channels.engineNoise?.[4], 506);
    near(track.channels.trueAirspeedMps?.[4] ?? 0, 9.24 / 3.6, 1e-9);
    near(track.groundSpeedMps?.[4] ?? 0, 0.19 / 3.6, 1e-9);
    near(track.trackRad?.[4] ?? 0, (100 * Math.PI) / 180, 1e-9);
    near(track.channels.outsideAirTemperatureK?.[4] ?? 0, 273.15 + 28.5, 1e-9);
  });

  itWithData('gga-only: the given date passes midnight', 'data/nasty/gga-only.nmea', async (bytes) => {
    const track = trackOf(await readRecording(bytesInMemory('x.nmea', bytes), { date: '2026-03-31' }));
    assert.equal(track.timeS.length, 500);
    assert.equal(track.timeS[0], Date.UTC(2026, 2, 31, 23, 56) / 1000);
    assert.ok(track.timeS[499] > Date.UTC(2026, 3, 1) / 1000);
  });
});
