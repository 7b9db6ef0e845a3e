import assert from 'node:assert/strict';
import { GPS } from 'gps';
import IGCParser from 'igc-parser';
import { simulatedFlight } from '../../synth/index.ts';
import type { Recording } from '../../synth/receive.ts';
import { civilTime, isoTime } from '../../synth/write/civil-time.ts';
import { writeText } from '../../synth/write/text-formats.ts';
import { near } from '../../tools/near.ts';

/** Every `stride`-th valid fix with its place among the valid ones. */
function sampled(recording: Recording, stride: number): [number, Recording['fixes'][number]][] {
  return recording.fixes
    .filter((fix) => fix.valid)
    .map((fix, i): [number, Recording['fixes'][number]] => [i, fix])
    .filter(([i]) => i % stride === 0);
}

describe('synth/write', () => {
  const short = { length: 'circuits', circuits: [], weather: 'fair', rejectFirst: false } as const;

  it('civil time agrees with the platform over centuries', () => {
    for (let s = -2e9; s < 5e9; s += 123_456_789.5) {
      const t = civilTime(s, 1);
      assert.equal(isoTime(s, 3), new Date(s * 1000).toISOString());
      assert.equal(t.year, new Date(s * 1000).getUTCFullYear());
    }
    assert.equal(isoTime(1_700_000_059.9996, 3), '2023-11-14T22:14:20.000Z');
  });

  it('NMEA: an independent parser reads the positions, speeds and valid checksums', () => {
    const { recording } = simulatedFlight('nmea', { ...short, receiver: 'good5' });
    const lines = writeText(recording, 'nmea').trim().split('\r\n');
    const rmc = lines.filter((line) => line.startsWith('$GPRMC'));
    for (const [i, fix] of sampled(recording, 400)) {
      const parsed = GPS.Parse(rmc[i]) as unknown as {
        valid: boolean;
        lat: number;
        lon: number;
        speed: number;
        time: Date;
      };
      assert.ok(parsed.valid);
      near(parsed.lat, fix.latDeg, 1e-7);
      near(parsed.lon, fix.lonDeg, 1e-7);
      near(parsed.speed / 3.6, fix.groundSpeedMps, 0.003);
      near(parsed.time.getTime() / 1000, fix.timeS, 0.011);
    }
    const gga = GPS.Parse(lines.find((line) => line.startsWith('$GPGGA')) ?? '') as unknown as { alt: number };
    near(gga.alt, recording.fixes[0].heightM, 0.06);
  });

  it('IGC: an independent parser reads date, positions and both altitudes', () => {
    const { recording } = simulatedFlight('igc', { ...short, receiver: 'logger', field: 'gullRock' });
    const parsed = IGCParser.parse(writeText(recording, 'igc'));
    assert.equal(parsed.date, isoTime(recording.fixes[0].timeS, 0).slice(0, 10));
    for (const [i, fix] of sampled(recording, 90)) {
      const read = parsed.fixes[i];
      near(read.latitude, fix.latDeg, 1e-6);
      near(read.longitude, fix.lonDeg, 1e-6);
      near(read.gpsAltitude ?? Number.NaN, fix.heightM, 0.51);
      near(read.pressureAltitude ?? Number.NaN, fix.pressureAltitudeM, 0.51);
      near(read.timestamp / 1000, fix.timeS, 0.51);
    }
  });

  it('GPX, KML and CSV hold every fix in their own words', () => {
    const { recording } = simulatedFlight('words', { ...short, receiver: 'phone' });
    const valid = recording.fixes.filter((fix) => fix.valid);
    const gpx = writeText(recording, 'gpx-speed');
    assert.equal(gpx.match(/<trkpt /g)?.length, valid.length);
    assert.ok(gpx.includes(`<ele>${valid[5].heightM.toFixed(1)}</ele><time>${isoTime(valid[5].timeS, 0)}</time>`));
    const kml = writeText(recording, 'kml-speed');
    assert.equal(kml.match(/<when>/g)?.length, valid.length);
    assert.equal(kml.match(/<gx:value>/g)?.length, valid.length);
    const row = writeText(recording, 'csv-aviation').split('\n')[6].split(',');
    near(Number(row[2]), valid[5].latDeg, 1e-6);
    near(Number(row[5]) * (1852 / 3600), valid[5].groundSpeedMps, 0.03);
    const comma = writeText(recording, 'csv-semicolon').split('\n')[6].split(';');
    near(Number(comma[5].replace(',', '.')) / 3.6, valid[5].groundSpeedMps, 0.02);
  });
});
