import assert from 'node:assert/strict';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, codesOf, isoOf, readText, trackOf } from '../../../../tools/read-text.ts';

const example = [
  'AXXXABC',
  'HFDTEDATE:310326,01',
  'HFDTM100GPSDATUM:WGS-1984',
  'HFALGALTGPS:ELL',
  'HFALPALTPRESSURE:ISA',
  'I023638FXA3940SIU',
  'B2359584630000N01445000WA-00120006800611',
  'B2359594630000N01445015WA-00120006800611',
  'B0000004630000N01445030WA-00110006900611',
  'B0000014630000N01445030WV-00090000009900',
  'LXXXINVENTED EXAMPLE',
  '',
].join('\r\n');

const header = ['AXXXABC', 'HFDTE310326'];

/** B records a second apart, moving north, from a time of day. */
function fixes(count: number, from = 43_200, extra: (i: number) => string = () => ''): string[] {
  return Array.from({ length: count }, (_, i) => {
    const timeS = (from + i) % 86_400;
    const clock = [Math.floor(timeS / 3600), Math.floor(timeS / 60) % 60, timeS % 60]
      .map((part) => String(part).padStart(2, '0'))
      .join('');
    return `B${clock}4630${String(i * 16).padStart(3, '0')}N01445000WA0050000560${extra(i)}`;
  });
}

const igc = (...lines: readonly string[]): string => `${lines.join('\r\n')}\r\n`;

describe('IGC example', () => {
  it('gives the third fix after midnight, with both altitudes and the accuracy', async () => {
    const result = await readText('flight.igc', example);
    const track = trackOf(result);
    assert.equal(isoOf(track.timeS[2]), '2026-04-01T00:00:00.000Z');
    near(track.latDeg[2], 46.5, 1e-12);
    near(track.lonDeg[2], -14.7505, 1e-12);
    assert.equal(altitudeOf(track, 'pressure')[2], -11);
    assert.equal(altitudeOf(track, 'ellipsoid')[2], 69);
    // FXA is two sigma (FAI/IGC specification): 6 m is a sigma of 3 m.
    assert.equal(track.horizontalSigmaM?.[2], 3);
    assert.deepEqual(result.contents, ['Extensions of the fixes: FXA, SIU']);
    near(track.positionResolutionM ?? 0, 1.852, 1e-9);
    assert.deepEqual(
      track.altitudes.map(({ resolutionM }) => resolutionM),
      [1, 1],
    );
    assert.equal(track.groundSpeedMps, undefined, 'the format has no speed');
  });

  it('takes only the pressure altitude of a fix marked V', async () => {
    // A fix after it, so that it is not trimmed as the end of the recording.
    const track = trackOf(
      await readText('flight.igc', example.replace('LXXX', 'B0000024630000N01445045WA-00100007000611\r\nLXXX')),
    );
    assert.equal(isoOf(track.timeS[3]), '2026-04-01T00:00:01.000Z');
    assert.ok(Number.isNaN(track.latDeg[3]) && Number.isNaN(track.lonDeg[3]));
    assert.ok(Number.isNaN(altitudeOf(track, 'ellipsoid')[3]));
    assert.equal(altitudeOf(track, 'pressure')[3], -9);
    assert.ok(Number.isNaN(track.horizontalSigmaM?.[3]));
    const result = await readText('flight.igc', example);
    assert.deepEqual(
      result.problems.map(({ code, at }) => [code, at?.line]),
      [
        ['igc-no-fix', 10],
        ['before-first-fix', undefined],
      ],
    );
  });
});

describe('IGC', () => {
  it('reads every form of the date, and years of two digits', async () => {
    const forms = {
      HFDTE310326: '2026',
      HFDTEDATE310326: '2026',
      'HFDTEDATE:310326,01': '2026',
      'HFDTEDATE: 31032601': '2026',
      HPDTE310399: '1999',
    };
    for (const [record, year] of Object.entries(forms)) {
      const track = trackOf(await readText('a.igc', igc('AXXXABC', record, ...fixes(3))));
      assert.equal(isoOf(track.timeS[0]), `${year}-03-31T12:00:00.000Z`, record);
    }
  });

  it('asks for the date where none is stated or it does not exist', async () => {
    for (const records of [[], ['HFDTE310226'], ['HFDTExx']]) {
      const text = igc('AXXXABC', ...records, ...fixes(3));
      const result = await readText('a.igc', text);
      assert.equal(result.track, undefined);
      assert.ok(codesOf(result).includes('date-missing'));
      const given = trackOf(await readText('a.igc', text, { date: '2026-03-31' }));
      assert.equal(isoOf(given.timeS[0]), '2026-03-31T12:00:00.000Z');
      assert.match(given.assumptions.join(), /2026-03-31 was given/);
    }
  });

  it('moves fixes that stand before the date', async () => {
    const [first, ...others] = fixes(4, 86_398);
    const track = trackOf(await readText('a.igc', igc('AXXXABC', first, 'HFDTE310326', ...others)));
    assert.deepEqual([track.timeS[0], track.timeS[3]].map(isoOf), [
      '2026-03-31T23:59:58.000Z',
      '2026-04-01T00:00:01.000Z',
    ]);
  });

  it('passes midnight once, also when the header is written again', async () => {
    const all = fixes(20, 86_390);
    const again = igc(...header, ...all.slice(0, 15), ...header, ...all.slice(15));
    const track = trackOf(await readText('a.igc', again));
    assert.equal(track.timeS.length, 20);
    assert.equal(track.timeS[19] - track.timeS[0], 19);
    const nextDay = igc(...header, ...all.slice(0, 10), 'HFDTE010426', ...all.slice(10));
    assert.equal(trackOf(await readText('a.igc', nextDay)).timeS[19] - track.timeS[0], 19);
  });

  it('reads further digits of the minutes (LAD, LOD) and decimal seconds (TDS)', async () => {
    const records = [
      'I033637LAD3839LOD4042TDS',
      ...fixes(6, 43_200, (i) => `${10 + i}${90 - i}${String(i * 100).padStart(3, '0')}`),
    ];
    const track = trackOf(await readText('a.igc', igc(...header, ...records)));
    near(track.latDeg[2], 46 + 30.03212 / 60, 1e-12);
    near(track.lonDeg[2], -(14 + 45.00088 / 60), 1e-12);
    near(track.timeS[5] - track.timeS[0], 5.5, 1e-6);
    near(track.positionResolutionM ?? 0, 0.01852, 1e-9);
  });

  it('reads the extensions in their units, extra digits as decimals', async () => {
    const list = 'I093638TAS3943GSP4446TRT4750OAT5153ENL5456IAS5759WDI6062WSP6366RPM';
    const values = ['144', '11482', '358', '-105', '530', '140', '270', '020', '2450'].join('');
    // 16 thousandths of a minute a second are 29.632 m/s north; the speed written is 114.82 km/h = 31.894 m/s: too far off.
    const wrong = await readText('a.igc', igc(...header, list, ...fixes(60, 43_200, () => values)));
    assert.ok(codesOf(wrong).includes('speed-doubtful'));
    const result = await readText(
      'a.igc',
      igc(...header, list, ...fixes(60, 43_200, () => values.replace('11482', '10668'))),
    );
    const track = trackOf(result);
    assert.deepEqual(result.problems, []);
    near(track.groundSpeedMps?.[5] ?? 0, 106.68 / 3.6, 1e-9);
    near(track.trackRad?.[5] ?? 0, (358 * Math.PI) / 180, 1e-12);
    const { channels } = track;
    near(channels.trueAirspeedMps?.[5] ?? 0, 40, 1e-9);
    near(channels.indicatedAirspeedMps?.[5] ?? 0, 140 / 3.6, 1e-9);
    near(channels.outsideAirTemperatureK?.[5] ?? 0, 273.15 - 10.5, 1e-9);
    near(channels.windFromRad?.[5] ?? 0, (270 * Math.PI) / 180, 1e-12);
    near(channels.windSpeedMps?.[5] ?? 0, 20 / 3.6, 1e-9);
    assert.equal(channels.engineNoise?.[5], 530);
    assert.equal(channels.engineSpeedRpm?.[5], 2450);
  });

  it('takes the datum of the GNSS altitude from the header, or says what it assumes', async () => {
    const kinds = { ELL: 'ellipsoid', 'WGS84 ELLIPSOID': 'ellipsoid', GEO: 'msl', MSL: 'msl', EGM96: 'msl' } as const;
    for (const [datum, kind] of Object.entries(kinds)) {
      for (const record of [`HFALG:${datum}`, `HFALGALTGPS:${datum}`]) {
        const track = trackOf(await readText('a.igc', igc(...header, record, ...fixes(3))));
        assert.equal(altitudeOf(track, kind)[0], 560, record);
        assert.deepEqual(track.assumptions, []);
      }
    }
    assert.match(trackOf(await readText('a.igc', igc(...header, ...fixes(3)))).assumptions[0], /says WGS-84 ellipsoid/);
  });

  it('does not use a pressure altitude that is not one of the standard atmosphere', async () => {
    const result = await readText('a.igc', igc(...header, 'HFALPALTPRESSURE:MSL', ...fixes(3)));
    assert.deepEqual(
      trackOf(result).altitudes.map(({ kind }) => kind),
      ['ellipsoid'],
    );
    assert.deepEqual(codesOf(result), ['igc-pressure-datum']);
    for (const datum of ['ISA', '', 'NIL']) {
      assert.equal(trackOf(await readText('a.igc', igc(...header, `HFALP:${datum}`, ...fixes(3)))).altitudes.length, 2);
    }
  });

  it('takes a GNSS altitude of 0 as missing, but not near the sea', async () => {
    const high = fixes(9).map((record, i) => (i === 4 ? record.replace('00560', '00000') : record));
    const track = trackOf(await readText('a.igc', igc(...header, ...high)));
    assert.ok(Number.isNaN(altitudeOf(track, 'ellipsoid')[4]));
    assert.equal(altitudeOf(track, 'pressure')[4], 500);
    const low = fixes(9).map((record, i) => record.replace('00560', `0000${Math.abs(4 - i)}`));
    assert.equal(altitudeOf(trackOf(await readText('a.igc', igc(...header, ...low))), 'ellipsoid')[4], 0);
  });

  it('counts damaged records with the line of the first, and reads the others', async () => {
    const good = fixes(6);
    const bad = [
      'B12000',
      'B1200004665000N01445000WA0050000560',
      'B1200004630000X01445000WA0050000560',
      'B1200004630000N01445000WA005x000560',
      'B2500004630000N01445000WA0050000560',
      'B1200004630000N01445000WC0050000560',
    ];
    const result = await readText('a.igc', igc(...header, ...good.slice(0, 3), ...bad, ...good.slice(3)));
    assert.equal(trackOf(result).timeS.length, 6);
    assert.deepEqual(
      result.problems.map(({ code, at, count }) => [code, at?.line, count]),
      [['igc-bad-line', 6, 6]],
    );
  });

  it('does not believe altitudes behind a value that is too wide for its field', async () => {
    const records = fixes(8, 43_200, () => '035').map((record, i) =>
      i === 5 ? record.replace('00560035', '-24562035') : record,
    );
    const result = await readText('a.igc', igc(...header, 'I013638FXA', ...records));
    const track = trackOf(result);
    assert.ok(Number.isNaN(altitudeOf(track, 'ellipsoid')[5]));
    assert.ok(!Number.isNaN(track.latDeg[5]));
    assert.deepEqual(codesOf(result), ['igc-bad-length']);
  });

  it('reads a malformed list of extensions as none', async () => {
    for (const list of ['I033638FXA', 'I01FXA3638', 'I013038FXA', 'I013837FXA', 'Inonsense']) {
      const result = await readText('a.igc', igc(...header, list, ...fixes(3, 43_200, () => '035')));
      assert.equal(trackOf(result).horizontalSigmaM, undefined, list);
      assert.deepEqual(codesOf(result), ['igc-bad-extension-list']);
    }
  });

  it('needs neither an A record nor CR LF nor a known name, and minds no byte order mark', async () => {
    const text = `\uFEFF${['HFDTE310326', ...fixes(3)].join('\n')}`;
    const result = await readText('track.log', text);
    assert.equal(result.format, 'igc');
    assert.equal(trackOf(result).timeS.length, 3);
  });

  it('says that a file without fixes holds none', async () => {
    const result = await readText('a.igc', igc(...header, 'LXXXnothing'));
    assert.equal(result.track, undefined);
    assert.deepEqual(codesOf(result), ['no-usable-fix']);
  });
});
