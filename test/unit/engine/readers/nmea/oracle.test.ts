import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { GPS } from 'gps';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { Track } from '../../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, trackOf } from '../../../../tools/read-text.ts';
import { sharedData } from '../../../../tools/shared-data.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

const read = async (path: string, bytes: Uint8Array): Promise<Track> =>
  trackOf(await readRecording(bytesInMemory(path, bytes)));

/** A time-position-velocity report of gpsd. */
interface Report {
  readonly class: string;
  readonly mode?: number;
  readonly time?: string;
  readonly lat?: number;
  readonly lon?: number;
  readonly altMSL?: number;
  readonly altHAE?: number;
  readonly speed?: number;
  readonly track?: number;
}

describe('NMEA against the answers of gpsd', () => {
  for (const name of ['bt451', 'ublox-8', 'gp-320fw-2019-03-28']) {
    const path = `data/conformance/nmea/${name}.log`;
    itWithData(path, path, async (bytes) => {
      const track = await read(path, bytes);
      const rowOf = new Map([...track.timeS].map((timeS, row) => [Math.round(timeS * 1000), row]));
      const answers = readFileSync(sharedData(`${path}.chk`) ?? '', 'latin1')
        .split('\n')
        .filter((line) => line.startsWith('{"class":"TPV"'))
        .map((line) => JSON.parse(line) as Report);
      let compared = 0;
      for (const { time, lat, lon, altMSL, altHAE, speed, track: direction, mode } of answers) {
        const row = time === undefined ? undefined : rowOf.get(Date.parse(time));
        if (row === undefined || lat === undefined || lon === undefined || mode !== 3) continue;
        compared++;
        near(track.latDeg[row], lat, 1e-8);
        near(track.lonDeg[row], lon, 1e-8);
        if (altMSL !== undefined) near(altitudeOf(track, 'msl')[row], altMSL, 1e-6);
        if (altHAE !== undefined) near(altitudeOf(track, 'ellipsoid')[row], altHAE, 1e-6);
        if (speed !== undefined) near(track.groundSpeedMps?.[row] ?? Number.NaN, speed, 0.0006);
        // Where the sentence has no direction gpsd keeps the last one.
        if (direction !== undefined && !Number.isNaN(track.trackRad?.[row])) {
          near(((track.trackRad?.[row] ?? Number.NaN) * 180) / Math.PI, direction, 1e-6);
        }
      }
      assert.ok(compared >= 30, `${compared} answers compared`);
    });
  }
});

describe('NMEA against the package gps', () => {
  // It dates GGA with today and gives km/h, so RMC sentences are compared.
  for (const path of ['flights/engine/tracks/2024-04-17_1806.nmea', 'data/conformance/nmea/ublox-8.log']) {
    itWithData(path, path, async (bytes) => {
      const track = await read(path, bytes);
      const rowOf = new Map([...track.timeS].map((timeS, row) => [Math.round(timeS * 1000), row]));
      let compared = 0;
      for (const line of new TextDecoder('latin1').decode(bytes).split(/\r?\n/)) {
        if (!/^\$G.RMC/.test(line)) continue;
        const parsed = GPS.Parse(line);
        if (parsed === false || parsed.type !== 'RMC' || !parsed.valid || parsed.status !== 'active') continue;
        const { time, lat, lon, speed } = parsed;
        if (time === null) continue;
        const row = rowOf.get(time.getTime());
        // Repeated fixes were dropped.
        if (row === undefined || Number.isNaN(track.latDeg[row])) continue;
        compared++;
        near(track.latDeg[row], Number(lat), 1e-9);
        near(track.lonDeg[row], Number(lon), 1e-9);
        near((track.groundSpeedMps?.[row] ?? Number.NaN) * 3.6, Number(speed), 1e-6);
      }
      assert.ok(compared >= track.timeS.length - 10, `${compared} of ${track.timeS.length}`);
    });
  }
});
