import assert from 'node:assert/strict';
import { checkSentence, degreesOf, timeOfDayS } from '../../../../../src/engine/readers/nmea/sentence.ts';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, codesOf, isoOf, readText, trackOf } from '../../../../tools/read-text.ts';

const example = [
  '$GPRMC,235958.80,A,4630.0000,N,01445.0000,W,054.40,271.3,310326,,,A*76',
  '$GPGGA,235958.80,4630.0000,N,01445.0000,W,1,11,0.8,12.4,M,55.1,M,,*4D',
  '$GPGGA,000000.00,4630.0000,N,01445.0260,W,1,11,0.8,12.6,M,55.1,M,,*43',
  '$GPRMC,000000.00,A,4630.0000,N,01445.0260,W,055.10,271.2,010426,,,A*7B',
  '$GPRMC,000000.20,V,,,,,,,010426,,,N*7E',
  '',
].join('\r\n');

/** Adds the checksum. */
function sentence(body: string): string {
  let sum = 0;
  for (let at = 0; at < body.length; at++) sum ^= body.charCodeAt(at);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
}

const clock = (timeS: number): string => {
  const whole = Math.floor(timeS);
  const parts = [Math.floor(whole / 3600) % 24, Math.floor(whole / 60) % 60, whole % 60].map((part) =>
    String(part).padStart(2, '0'),
  );
  return `${parts.join('')}.${String(Math.round((timeS - whole) * 100)).padStart(2, '0')}`;
};

/** North at 50 kt. */
const latitude = (timeS: number): string => `46${(30 + (timeS * 50) / 3600).toFixed(5)}`;
const rmc = (timeS: number, date = '310326', from = 43_200): string =>
  sentence(`GNRMC,${clock(from + timeS)},A,${latitude(timeS)},N,01445.00000,W,50.00,0.0,${date},,,A`);
const gga = (timeS: number, from = 43_200, quality = 1): string =>
  sentence(`GNGGA,${clock(from + timeS)},${latitude(timeS)},N,01445.00000,W,${quality},11,0.8,100.0,M,55.1,M,,`);

const log = (...lines: readonly string[]): string => lines.join('\r\n');
const times = (count: number, step = 1): number[] => Array.from({ length: count }, (_, i) => i * step);

describe('NMEA 0183 sentences', () => {
  it('check by the exclusive or of their characters', () => {
    // Sentences with checksums as published in two public descriptions of NMEA 0183.
    for (const text of [
      '$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47',
      '$GPRMC,111309.00,A,5400.6000,N,00247.1000,W,00.00,302.5,140915,,,A*4C',
    ]) {
      const checked = checkSentence(text);
      assert.ok(typeof checked === 'object' && checked.checksum, text);
      assert.equal(checkSentence(text.replace('*4', '*5')), 'broken');
      assert.equal(checkSentence(text.replace('00', '01').replace('545', '546')), 'broken');
    }
    assert.equal(checkSentence('$PUBX,00,1*33'), 'other');
    assert.equal(checkSentence('$GP'), 'broken');
    assert.deepEqual(checkSentence('$GPVTG,1'), { fields: ['GPVTG', '1'], checksum: false });
  });

  it('have positions of degrees and minutes, in which zeros matter', () => {
    near(degreesOf('00247.1', 'W'), -(2 + 47.1 / 60), 1e-12);
    near(degreesOf('4630.0000', 'S'), -46.5, 1e-12);
    near(degreesOf('0000.5', 'N'), 0.5 / 60, 1e-12);
    for (const [field, side] of [
      ['', 'N'],
      ['4630', ''],
      ['4670.0', 'N'],
      ['46x0', 'N'],
      ['4630', 'Q'],
      [undefined, undefined],
    ] as const) {
      assert.ok(Number.isNaN(degreesOf(field, side)), `${field} ${side}`);
    }
    assert.equal(timeOfDayS('235958.80'), 86_398.8);
    for (const field of ['', '2359', '240000', '236000', '235961', 'abcdef'])
      assert.ok(Number.isNaN(timeOfDayS(field)), field);
  });
});

describe('NMEA example', () => {
  it('pairs RMC and GGA of the same time, in either order, and passes midnight', async () => {
    const result = await readText('flight.nmea', example);
    const track = trackOf(result);
    assert.equal(result.format, 'nmea');
    assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T23:59:58.800Z', '2026-04-01T00:00:00.000Z']);
    near(track.latDeg[0], 46.5, 1e-12);
    near(track.lonDeg[0], -14.75, 1e-12);
    near(track.groundSpeedMps?.[0] ?? 0, 27.986, 0.0005);
    near(track.trackRad?.[0] ?? 0, (271.3 * Math.PI) / 180, 1e-12);
    near(altitudeOf(track, 'msl')[0], 12.4, 1e-9);
    near(altitudeOf(track, 'ellipsoid')[0], 67.5, 1e-9);
    assert.deepEqual([...(track.hdop ?? [])], [0.8, 0.8]);
    near(altitudeOf(track, 'msl')[1], 12.6, 1e-9);
    assert.deepEqual(codesOf(result), ['nmea-no-fix']);
  });
});

describe('NMEA', () => {
  it('takes a slow RMC between fast GGA as it comes: speed is missing in between', async () => {
    const lines = times(25, 0.2).flatMap((timeS, i) => (i % 5 === 0 ? [rmc(timeS), gga(timeS)] : [gga(timeS)]));
    const track = trackOf(await readText('a.nmea', log(...lines)));
    assert.equal(track.timeS.length, 25);
    assert.equal([...(track.groundSpeedMps ?? [])].filter((speed) => !Number.isNaN(speed)).length, 5);
    near(track.timeS[24] - track.timeS[0], 4.8, 1e-6);
  });

  it('holds what comes before the first date', async () => {
    const lines = [gga(-2), gga(-1), gga(0), rmc(0), gga(1), rmc(1)];
    const track = trackOf(await readText('a.nmea', log(...lines)));
    assert.deepEqual(
      [...track.timeS].map(isoOf),
      [58, 59, 60, 61].map((second) => isoOf(Date.UTC(2026, 2, 31, 11, 59, second) / 1000)),
    );
    const acrossMidnight = [gga(-1, 0 + 86_400), rmc(0, '010426', 0), gga(0, 0), rmc(1, '010426', 0)];
    const early = trackOf(await readText('a.nmea', log(...acrossMidnight)));
    assert.deepEqual([...early.timeS].map(isoOf), [
      '2026-03-31T23:59:59.000Z',
      '2026-04-01T00:00:00.000Z',
      '2026-04-01T00:00:01.000Z',
    ]);
  });

  it('pairs sentences of neighbouring times that interleave', async () => {
    const lines = times(20).flatMap((timeS) => [gga(timeS + 1), rmc(timeS)]);
    const track = trackOf(await readText('a.nmea', log(...lines)));
    assert.equal(track.timeS.length, 21);
    assert.ok([...altitudeOf(track, 'msl')].slice(1).every((altitude) => altitude === 100));
    assert.ok([...(track.groundSpeedMps ?? [])].slice(0, 20).every((speed) => Math.abs(speed - 25.722) < 0.001));
  });

  it('takes the date from ZDA, or asks for it', async () => {
    const zda = sentence('GPZDA,120000.00,31,03,2026,00,00');
    assert.equal(
      isoOf(trackOf(await readText('a.nmea', log(zda, gga(0), gga(1)))).timeS[0]),
      '2026-03-31T12:00:00.000Z',
    );
    const dateless = log(...times(4).map((timeS) => gga(timeS, 86_398)));
    const refused = await readText('a.nmea', dateless);
    assert.equal(refused.track, undefined);
    assert.deepEqual(
      refused.problems.map(({ code, severity }) => [code, severity]),
      [['date-missing', 'error']],
    );
    const given = trackOf(await readText('a.nmea', dateless, { date: '2026-03-31' }));
    assert.deepEqual([given.timeS[0], given.timeS[3]].map(isoOf), [
      '2026-03-31T23:59:58.000Z',
      '2026-04-01T00:00:01.000Z',
    ]);
  });

  it('takes speed and direction from VTG where RMC is absent, and position from GLL or GNS where nothing else is', async () => {
    const vtg = sentence('GPVTG,90.0,T,,M,54.40,N,100.7,K,A');
    const zda = sentence('GPZDA,120000.00,31,03,2026,00,00');
    const track = trackOf(await readText('a.nmea', log(zda, gga(0), vtg, gga(1), vtg)));
    near(track.groundSpeedMps?.[1] ?? 0, 27.986, 0.0005);
    near(track.trackRad?.[1] ?? 0, Math.PI / 2, 1e-12);
    const gll = (timeS: number): string =>
      sentence(`GPGLL,${latitude(timeS)},N,01445.00000,W,${clock(43_200 + timeS)},A,A`);
    assert.equal(trackOf(await readText('a.nmea', log(zda, gll(0), gll(1)))).timeS.length, 2);
    assert.equal(trackOf(await readText('a.nmea', log(gll(-0.5), rmc(0), gll(0.5), rmc(1)))).timeS.length, 2);
    const gns = sentence('GNGNS,120000.00,4630.0000,N,01445.0000,W,AAN,11,0.8,12.4,55.1,,');
    const one = trackOf(await readText('a.nmea', log(zda, gns)));
    near(altitudeOf(one, 'ellipsoid')[0], 67.5, 1e-9);
    assert.equal((await readText('a.nmea', log(zda, gns.replace(/AAN.*/, 'NNN,00,99.9,,,,')))).track, undefined);
  });

  it('reads the accuracies of GST', async () => {
    const gst = sentence('GPGST,120000.00,3.2,,,,1.2,0.9,2.5');
    const track = trackOf(await readText('a.nmea', log(rmc(0), gga(0), gst)));
    near(track.horizontalSigmaM?.[0] ?? 0, 1.5, 1e-12);
    near(track.verticalSigmaM?.[0] ?? 0, 2.5, 1e-12);
  });

  it('leaves out times without a fix or with a reckoned one, never taking empty for 0', async () => {
    const none = sentence('GPGGA,120002.00,,,,,0,00,99.99,,,,,,');
    const reckoned = sentence('GPRMC,120003.00,A,4630.0000,N,01445.0000,W,50.0,0.0,310326,,,E');
    const result = await readText(
      'a.nmea',
      log(rmc(0), rmc(1), none, sentence('GPRMC,120002.00,V,,,,,,,310326,,,N'), reckoned, gga(3, 43_200, 6), rmc(4)),
    );
    assert.deepEqual(
      [...trackOf(result).timeS].map((timeS) => timeS % 60),
      [0, 1, 4],
    );
    assert.deepEqual(
      result.problems.map(({ code, count }) => [code, count]),
      [['nmea-no-fix', 2]],
    );
  });

  it('has no altitude in two-dimensional fixes', async () => {
    const flat = sentence('GPGSA,A,2,01,02,03,,,,,,,,,,9.9,9.9,1.0');
    const deep = flat.replace('A,2', 'A,3');
    const result = await readText(
      'a.nmea',
      log(rmc(0), gga(0), flat, rmc(1), gga(1), sentence(deep.slice(1, deep.indexOf('*')))),
    );
    assert.deepEqual([...altitudeOf(trackOf(result), 'msl')], [Number.NaN, 100]);
    assert.deepEqual(codesOf(result), ['fix-2d']);
  });

  it('warns of simulated or hand-entered positions', async () => {
    assert.deepEqual(codesOf(await readText('a.nmea', log(rmc(0), gga(0, 43_200, 8)))), ['nmea-not-measured']);
    assert.deepEqual(codesOf(await readText('a.nmea', log(rmc(0), gga(0, 43_200, 7)))), ['nmea-not-measured']);
  });

  it('rejects what fails its checksum, is cut, or lacks one where others have it', async () => {
    const bad = [
      rmc(1).replace('50.00', '90.00'),
      rmc(2).slice(0, 40),
      rmc(3).replace(/\*..$/, ''),
      '$GPRMC',
      'noise $ noise',
    ];
    const result = await readText('a.nmea', log(rmc(0), ...bad, rmc(9)));
    assert.deepEqual(
      [...trackOf(result).timeS].map((timeS) => timeS % 60),
      [0, 9],
    );
    assert.deepEqual(
      result.problems.map(({ code, at, count }) => [code, at?.line, count]),
      [['nmea-bad-sentence', 2, 5]],
    );
  });

  it('accepts a log without any checksums', async () => {
    const result = await readText('a.nmea', log(...times(3).map((timeS) => rmc(timeS).replace(/\*..$/, ''))));
    assert.equal(trackOf(result).timeS.length, 3);
    assert.deepEqual(result.problems, []);
  });

  it('finds sentences behind time stamps and noise', async () => {
    const lines = [
      `12:00:00.123 ${rmc(0)}`,
      `\u00ff\u0000\u0001${rmc(1)}`,
      `$GPGGA,1200${rmc(2)}`,
      '# a comment',
      '$PUBX,00,x*00',
      '!AIVDM,1',
    ];
    assert.equal(trackOf(await readText('a.log', log(...lines))).timeS.length, 3);
  });

  it('reports dates that are none, and dates of an old receiver', async () => {
    const result = await readText('a.nmea', log(rmc(0, '2208-1'), rmc(1, '220899')));
    assert.deepEqual(codesOf(result), ['nmea-bad-date', 'date-week-rollover']);
    assert.equal(isoOf(trackOf(result).timeS[0]), '1999-08-22T12:00:00.000Z');
  });

  it('does not use a speed that its positions contradict', async () => {
    const wrong = times(60).map((timeS) =>
      sentence(rmc(timeS).slice(1).replace('50.00', '93.00').replace(/\*..$/, '')),
    );
    const result = await readText('a.nmea', log(...wrong));
    assert.equal(trackOf(result).groundSpeedMps, undefined);
    assert.deepEqual(codesOf(result), ['speed-doubtful']);
    assert.ok(trackOf(await readText('a.nmea', log(...times(60).map((timeS) => rmc(timeS))))).groundSpeedMps);
  });
});
