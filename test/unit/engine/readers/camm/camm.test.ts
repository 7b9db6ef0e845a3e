import assert from 'node:assert/strict';
import { chooseEpoch, unixFromCamm } from '../../../../../src/engine/readers/camm/epoch.ts';
import { unixFromGps } from '../../../../../src/engine/readers/camm/gps-time.ts';
import type { CammPacket } from '../../../../../src/engine/readers/camm/packets.ts';
import { readPackets } from '../../../../../src/engine/readers/camm/packets.ts';
import { fromHex, joined } from '../../../../synth/byte-parts.ts';
import { near } from '../../../../tools/near.ts';

// Invented packets, encoded by hand from the Camera Motion Metadata specification ("Data format").
const fixPacket = fromHex(
  '00000600333333a4c8bdd5410300000000000000004047400000000000802dc000008742000040400000a040fed4dfc15c8f223f00000000cdcc4c3e',
);
const positionPacket = fromHex('0000050000000000004047400000000000802dc00000000000e05040');

function packets(bytes: Uint8Array): { whole: boolean; packets: CammPacket[] } {
  const found: CammPacket[] = [];
  return { whole: readPackets(bytes, (packet) => found.push(packet)), packets: found };
}

describe('camera motion metadata byte examples', () => {
  it('reads a fix with velocity and accuracies', () => {
    const { whole, packets: found } = packets(fixPacket);
    assert.equal(whole, true);
    const [fix] = found;
    assert.ok(fix?.kind === 'fix');
    assert.equal(fix.fixType, 3);
    near(fix.gpsEpochS, 1_459_036_816.8, 1e-6);
    near(unixFromGps(fix.gpsEpochS), Date.UTC(2026, 2, 31, 23, 59, 58, 800) / 1000, 1e-6);
    assert.deepEqual([fix.latDeg, fix.lonDeg, fix.altitudeM], [46.5, -14.75, 67.5]);
    assert.deepEqual([fix.horizontalSigmaM, fix.verticalSigmaM], [3, 5]);
    near(fix.eastMps, -27.979, 1e-3);
    near(fix.northMps, 0.635, 1e-3);
    assert.equal(fix.upMps, 0);
    near(fix.speedSigmaMps, 0.2, 1e-6);
    near(Math.hypot(fix.eastMps, fix.northMps), 27.986, 1e-3);
    near((Math.atan2(fix.eastMps, fix.northMps) * 180) / Math.PI + 360, 271.3, 0.05);
  });

  it('reads a bare position', () => {
    const { whole, packets: found } = packets(positionPacket);
    assert.equal(whole, true);
    assert.deepEqual(found, [{ kind: 'position', latDeg: 46.5, lonDeg: -14.75, altitudeM: 67.5 }]);
  });

  it('reads packets behind each other and stops at what it does not know', () => {
    assert.equal(packets(joined(positionPacket, fixPacket)).packets.length, 2);
    const broken = packets(joined(positionPacket, fixPacket.subarray(0, 40)));
    assert.equal(broken.whole, false);
    assert.equal(broken.packets.length, 1);
    assert.equal(packets(fromHex('00002a0001020304')).whole, false);
  });
});

describe('GPS time', () => {
  // Leap seconds by IERS Bulletins C: 2017-01-01 made GPS - UTC 18 s, 2015-07-01 17 s, 2012-07-01 16 s.
  it('takes out the leap seconds of the date', () => {
    assert.equal(unixFromGps(1_167_264_017), Date.UTC(2016, 11, 31, 23, 59, 60) / 1000);
    assert.equal(unixFromGps(1_167_264_018), Date.UTC(2017, 0, 1) / 1000);
    assert.equal(unixFromGps(1_119_744_016 + 1), Date.UTC(2015, 6, 1) / 1000);
    assert.equal(unixFromGps(1_025_136_016), Date.UTC(2012, 6, 1) / 1000);
    assert.equal(unixFromGps(1_025_136_016 + 365 * 86_400), Date.UTC(2013, 6, 1) / 1000);
  });
});

describe('epoch of camera times', () => {
  const unixS = Date.UTC(2026, 2, 31) / 1000;
  const gpsS = unixS - 315_964_800 + 18;

  it('is GPS time by the specification, Unix time or 1904 by size', () => {
    assert.equal(chooseEpoch(gpsS, undefined), 'gps');
    assert.equal(chooseEpoch(unixS, undefined), 'unix');
    assert.equal(chooseEpoch(unixS + 2_082_844_800, undefined), '1904');
  });

  it('follows the creation time where it fits exactly one', () => {
    // Read as GPS time this is in 2027, as Unix time in 2017, where the film says it was made.
    const early = Date.UTC(2017, 5, 1) / 1000;
    assert.equal(chooseEpoch(early, early + 3600), 'unix');
    assert.equal(chooseEpoch(early, undefined), 'gps');
    assert.equal(chooseEpoch(gpsS, unixS - 7200), 'gps');
    assert.equal(chooseEpoch(gpsS, 12_345), 'gps', 'a clock that was never set decides nothing');
    assert.equal(unixFromCamm(gpsS, 'gps'), unixS);
    assert.equal(unixFromCamm(unixS, 'unix'), unixS);
    assert.equal(unixFromCamm(unixS + 2_082_844_800, '1904'), unixS);
  });
});
