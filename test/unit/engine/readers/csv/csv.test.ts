import assert from 'node:assert/strict';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, codesOf, isoOf, readText, trackOf } from '../../../../tools/read-text.ts';

const metresPerDegree = 111_120;
const latitude = (second: number): string => (46.5 + (second * 50) / metresPerDegree).toFixed(7);
const clock = (second: number): string => new Date(Date.UTC(2026, 2, 31, 12, 0, second)).toISOString();

/** A flight north at 50 m/s, a row a second, with further cells. */
const flight = (heading: string, cells: (second: number) => string, rows = 60): string =>
  [
    `time,lat,lon,${heading}`,
    ...Array.from({ length: rows }, (_, i) => `${clock(i)},${latitude(i)},-14.75,${cells(i)}`),
    '',
  ].join('\n');

describe('CSV example', () => {
  it('reads semicolons, decimal commas and a row of units', async () => {
    const text = `time_utc;lat;lon;alt_msl;gs;vs
iso8601;deg;deg;ft;kt;ft/min
2026-03-31T23:59:58.8Z;46,5;-14,75;40,7;54,4;0
2026-03-31T23:59:59.8Z;46,5;-14,750364;40,9;54,6;20
`;
    const result = await readText('flight.csv', text);
    const track = trackOf(result);
    assert.equal(result.format, 'csv');
    assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T23:59:58.800Z', '2026-03-31T23:59:59.800Z']);
    assert.deepEqual([...track.lonDeg], [-14.75, -14.750364]);
    near(altitudeOf(track, 'msl')[0], 12.405, 0.0005);
    near(track.groundSpeedMps?.[0] ?? 0, 27.986, 0.0005);
    near(track.verticalSpeedMps?.[1] ?? 0, (20 * 0.3048) / 60, 1e-12);
    assert.deepEqual(result.problems, []);
  });
});

describe('CSV: layout', () => {
  it('finds comma, semicolon, tab and bar, columns in any order, quotes, CR LF and a byte order mark', async () => {
    const rows = [
      'speed_kt|Longitude|"Time"|Latitude',
      '97.19|-14.75|2026-03-31 12:00:00|46.5',
      '"97.19"|-14.75|2026-03-31 12:00:01|46.50045',
    ];
    for (const delimiter of ['|', ',', ';', '\t']) {
      const text = `\uFEFF${rows.map((row) => row.replaceAll('|', delimiter)).join('\r\n')}`;
      const track = trackOf(await readText('a.tsv', text));
      assert.deepEqual([...track.latDeg], [46.5, 46.50045], JSON.stringify(delimiter));
      near(track.groundSpeedMps?.[1] ?? 0, 50, 0.01);
    }
  });

  it('takes units in brackets in a row of units, and the order of day and month from it or from the heading', async () => {
    const rows = (order: string, head = 'Date', units = `(${order}),(hh:mm:ss),(deg),[deg],(ft),{kt}\n`): string =>
      `${head},Time,Lat,Lon,Alt,GS\n${units}05/10/2026,09:00:00,46.5,-14.75,1000,97.19\n05/10/2026,09:00:01,46.50045,-14.75,1000,97.19\n`;
    const monthFirst = await readText('a.csv', rows('mm/dd/yyyy'));
    assert.deepEqual(codesOf(monthFirst), []);
    const track = trackOf(monthFirst);
    assert.equal(isoOf(track.timeS[0]), '2026-05-10T09:00:00.000Z');
    near(altitudeOf(track, 'unknown')[0], 304.8, 1e-9);
    near(track.groundSpeedMps?.[0] ?? 0, 50, 0.01);
    const dayFirst = trackOf(await readText('a.csv', rows('DD/MM/YYYY')));
    assert.equal(isoOf(dayFirst.timeS[0]), '2026-10-05T09:00:00.000Z');
    const inHeading = trackOf(await readText('a.csv', rows('', 'Date (mm/dd/yy)', '')));
    assert.equal(isoOf(inHeading.timeS[0]), '2026-05-10T09:00:00.000Z');
  });

  it('reads times in milliseconds, since 1970 or since a start, and never takes speed_ms for a time', async () => {
    const startMs = Date.UTC(2026, 2, 31, 12, 0, 0);
    const unix = `timestamp_ms,lat,lon,speed_ms\n${startMs},46.5,-14.75,50\n${startMs + 200},46.50009,-14.75,50\n`;
    const track = trackOf(await readText('a.csv', unix));
    assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T12:00:00.000Z', '2026-03-31T12:00:00.200Z']);
    near(track.groundSpeedMps?.[1] ?? 0, 50, 1e-9);
    // 123,456 ms are two minutes, not the time of day 12:34:56.
    const since = 'time (ms),lat,lon\n123456,46.5,-14.75\n124456,46.50045,-14.75\n';
    const counted = trackOf(await readText('a.csv', since, { date: '2026-03-31' }));
    assert.deepEqual([...counted.timeS].map(isoOf), ['2026-03-31T00:02:03.456Z', '2026-03-31T00:02:04.456Z']);
  });

  it('finds the headings behind a preamble, and rows of units on either side', async () => {
    const preamble = '# log of the panel\n#info, version="1.0", tail=X\n';
    const units = '#yyyy-mm-dd hh:mm:ss, degrees, degrees, ft msl, deg F\n';
    const table =
      '  Time,  Latitude, Longitude,   Alt,  OAT\n2026-03-31 12:00:00, 46.5, -14.75, 1000, 59\n2026-03-31 12:00:01, 46.6, -14.75, 1010, 59\n';
    const track = trackOf(await readText('a.csv', preamble + units + table));
    near(altitudeOf(track, 'msl')[0], 304.8, 1e-9);
    near(track.channels.outsideAirTemperatureK?.[0] ?? 0, 288.15, 1e-9);
  });

  it('reads tables whose rows name their kind ($COL, $UNIT, $DATA), with velocity components', async () => {
    const text = [
      '$FLYS,1',
      '$VAR,FIRMWARE_VER,v1',
      '$COL,GNSS,time,lat,lon,hMSL,velN,velE,velD,hAcc,vAcc,sAcc,numSV',
      '$UNIT,GNSS,,deg,deg,m,m/s,m/s,m/s,m,m,m/s,',
      '$COL,IMU,time,wx',
      '$DATA',
      '$GNSS,2026-03-31T12:00:00.1Z,46.5,-14.75,96.7,-30,40,-5,2.5,4,0.5,12',
      '$IMU,1.5,0.3',
      '$GNSS,2026-03-31T12:00:00.2Z,46.49997,-14.75,97.2,-30,40,-5,2.5,4,0.5,12',
    ].join('\n');
    const track = trackOf(await readText('TRACK.CSV', text));
    assert.equal(track.timeS.length, 2);
    near(track.groundSpeedMps?.[0] ?? 0, 50, 1e-9);
    near(track.trackRad?.[0] ?? 0, Math.atan2(40, -30), 1e-9);
    near(track.verticalSpeedMps?.[0] ?? 0, 5, 1e-9);
    near(track.speedSigmaMps?.[0] ?? 0, 0.5, 1e-9);
    near(altitudeOf(track, 'msl')[0], 96.7, 1e-9);
  });

  it('tells every column that it used and that it did not', async () => {
    const { contents } = await readText(
      'a.csv',
      flight('CHT1 (F),Speed (m/s)', () => '300,50'),
    );
    assert.deepEqual(contents, [
      'column "time": time',
      'column "lat": latitude',
      'column "lon": longitude',
      'column "Speed (m/s)": ground speed, m/s',
      'columns not used: CHT1 (F)',
    ]);
  });

  it('says what is missing where no row names a position or a time', async () => {
    const result = await readText('a.csv', 'a,b,c\n1,2,3\n');
    assert.equal(result.track, undefined);
    assert.deepEqual(codesOf(result), ['csv-no-headings']);
    assert.match(
      result.problems[0].message,
      /beside `track:`.*"a": latitude.*Headings not understood: "a", "b", "c"\./,
    );
    const timeless = await readText('a.csv', 'lat,lon,Moment,Foo\n1,2,3,4\n');
    assert.deepEqual(codesOf(timeless), ['csv-no-time']);
    assert.match(timeless.problems[0].message, /"Moment": time.*Headings not understood: "Moment", "Foo"\./);
    assert.deepEqual(codesOf(await readText('a.csv', 'time,lat,lon\n')), ['no-usable-fix']);
    assert.deepEqual(codesOf(await readText('a.txt', 'only some words\nand more\n')), ['unknown-format']);
  });

  it('reads semicolons, decimal commas and German headings, also in UTF-16', async () => {
    const text =
      'Datum;Uhrzeit;Breite;Länge;Höhe (m);Geschwindigkeit (km/h);Kurs (°)\n' +
      '14.05.2024;10:00:00;48,0000000;11,5;500,5;36,0;0\n14.05.2024;10:00:01;48,0000899;11,5;501,0;36,0;0\n';
    const units = Uint16Array.from(`\uFEFF${text}`, (sign) => sign.charCodeAt(0));
    for (const source of [
      bytesInMemory('a.csv', new Uint8Array(units.buffer)),
      bytesInMemory('a.csv', new TextEncoder().encode(text)),
    ]) {
      const track = trackOf(await readRecording(source));
      assert.equal(track.timeS[0], Date.UTC(2024, 4, 14, 10) / 1000);
      near(track.latDeg[1], 48.0000899, 1e-12);
      near(track.altitudes[0].valuesM[0], 500.5, 1e-9);
      near(track.groundSpeedMps?.[0] ?? 0, 10, 1e-9);
    }
  });

  it('leaves out rows that are cut or empty, and starts anew at repeated headings', async () => {
    const lines = flight('Speed (m/s)', () => '50', 6)
      .trimEnd()
      .split('\n');
    const text = [...lines.slice(0, 3), '', lines[3].slice(0, 26), lines[0], ...lines.slice(4)].join('\n');
    const result = await readText('a.csv', text);
    assert.equal(trackOf(result).timeS.length, 5);
    assert.deepEqual(trackOf(result).breaks, [2]);
    assert.deepEqual(
      result.problems.map(({ code, at }) => [code, at?.line]),
      [['csv-short-row', 5]],
    );
  });

  it('takes words and numbers for "no value" as missing, and reports other text', async () => {
    const cells = ['50', 'null', 'NaN', '', '--', '-9999', 'fast', '50'];
    const result = await readText(
      'a.csv',
      flight('RPM', (i) => cells[i] ?? '50', 8),
    );
    assert.deepEqual([...(trackOf(result).channels.engineSpeedRpm ?? [])].map(Number.isNaN), [
      false,
      true,
      true,
      true,
      true,
      true,
      true,
      false,
    ]);
    assert.deepEqual(
      result.problems.map(({ code, at }) => [code, at?.line]),
      [['csv-bad-number', 8]],
    );
  });

  it('does not let an open quotation mark swallow the rest', async () => {
    const text = flight('note', (i) => (i === 2 ? '"open' : 'x'), 40);
    const result = await readText('a.csv', text);
    assert.equal(trackOf(result).timeS.length, 40);
    assert.deepEqual(codesOf(result), ['csv-open-quote']);
  });
});

describe('CSV: times', () => {
  const table = (heading: string, ...cells: string[]): string =>
    [`${heading},lat,lon`, ...cells.map((cell, i) => `${cell},${latitude(i)},-14.75`)].join('\n');

  it('refuses a date that can be read two ways, and says how to state the order', async () => {
    const text = table('Date,Time', '03/04/2026,12:00:00', '03/04/2026,12:00:01');
    const refused = await readText('a.csv', text);
    assert.equal(refused.track, undefined);
    assert.deepEqual(
      refused.problems.map(({ code, severity }) => [code, severity]),
      [['csv-date-ambiguous', 'error']],
    );
    assert.match(refused.problems[0].message, /date-order: day-month/);
    const stated = { csv: { dateOrder: 'month-day' } } as const;
    assert.equal(isoOf(trackOf(await readText('a.csv', text, stated)).timeS[0]), '2026-03-04T12:00:00.000Z');
    assert.equal(
      isoOf(trackOf(await readText('a.csv', text, { csv: { dateOrder: 'day-month' } })).timeS[0]),
      '2026-04-03T12:00:00.000Z',
    );
    const later = table('Date,Time', '03/04/2026,23:59:59', '03/04/2026,0:00:00', '04/13/2026,0:00:00');
    assert.equal(isoOf(trackOf(await readText('a.csv', later)).timeS[0]), '2026-03-04T23:59:59.000Z');
  });

  it('passes midnight where the date stands still, and where it moves on', async () => {
    for (const second of ['31.03.2026', '01.04.2026']) {
      const text = table(
        'Date,Time',
        '31.03.2026,23:59:58',
        '31.03.2026,23:59:59',
        `${second},00:00:00`,
        `${second},00:00:01`,
      );
      const track = trackOf(await readText('a.csv', text));
      assert.deepEqual(
        [...track.timeS].map((timeS) => timeS - track.timeS[0]),
        [0, 1, 2, 3],
      );
    }
  });

  it('takes an offset from a column, from the cell, or from the user', async () => {
    const column = await readText(
      'a.csv',
      table('Lcl Date,Lcl Time,UTCOfst', '2026-03-31,07:00:00,-05:00', '2026-03-31,07:00:01,-05:00'),
    );
    assert.equal(isoOf(trackOf(column).timeS[0]), '2026-03-31T12:00:00.000Z');
    assert.deepEqual([column.problems, trackOf(column).assumptions], [[], []]);
    const cell = await readText(
      'a.csv',
      table('logTime(txt)', '2026-03-31 07:00:00.000 -0500', '2026-03-31 07:00:01.000 -0500'),
    );
    assert.equal(cell.track, undefined, 'a heading that is not understood is not guessed');
    const named = await readText(
      'a.csv',
      table('Time', '2026-03-31 07:00:00.000 -0500', '2026-03-31 07:00:01.000 -0500'),
    );
    assert.equal(isoOf(trackOf(named).timeS[0]), '2026-03-31T12:00:00.000Z');
    const local = table('Local Time', '2026-03-31 07:00:00', '2026-03-31 07:00:01');
    const warned = await readText('a.csv', local);
    assert.deepEqual(codesOf(warned), ['csv-local-time']);
    assert.equal(isoOf(trackOf(warned).timeS[0]), '2026-03-31T07:00:00.000Z');
    const given = await readText('a.csv', local, { csv: { utcOffset: '-05:00' } });
    assert.equal(isoOf(trackOf(given).timeS[0]), '2026-03-31T12:00:00.000Z');
    assert.deepEqual(given.problems, []);
  });

  it('keeps an offset where its cell is blank, also before the first', async () => {
    const text = table(
      'Date,Time,UTCOfst',
      '2026-03-31,07:00:00,',
      '2026-03-31,07:00:01,-05:00',
      '2026-03-31,07:00:02,',
      '2026-03-31,08:00:03,-04:00',
    );
    const result = await readText('a.csv', text);
    assert.deepEqual(
      [...trackOf(result).timeS].map((timeS) => timeS - Date.UTC(2026, 2, 31, 12) / 1000),
      [0, 1, 2, 3],
    );
    assert.deepEqual([result.problems, trackOf(result).assumptions], [[], []]);
  });

  it('leaves out rows without date among dated ones, and plain seconds among times', async () => {
    const undated = await readText(
      'a.csv',
      table('Date,Time', '2026-03-31,12:00:00', ',12:00:01', '2026-03-31,12:00:02'),
    );
    assert.deepEqual(
      [...trackOf(undated).timeS].map((timeS) => timeS % 60),
      [0, 2],
    );
    assert.deepEqual(codesOf(undated), ['sample-without-time']);
    const mixed = await readText('a.csv', table('Time', '2026-03-31T12:00:00Z', '17.5', '2026-03-31T12:00:02Z'));
    assert.deepEqual(
      [...trackOf(mixed).timeS].map((timeS) => timeS % 60),
      [0, 2],
    );
    assert.deepEqual(codesOf(mixed), ['csv-mixed-times', 'sample-without-time']);
  });

  it('notes that times without zone were taken as UTC, unless the heading says so', async () => {
    assert.match(
      trackOf(await readText('a.csv', table('Time', '2026-03-31 07:00:00'))).assumptions.join(),
      /taken as UTC/,
    );
    assert.deepEqual(trackOf(await readText('a.csv', table('Time UTC', '2026-03-31 07:00:00'))).assumptions, []);
  });

  it('asks for the date of times of day and of seconds from a start', async () => {
    for (const cells of [
      ['12:00:00', '12:00:01'],
      ['43200', '43201'],
    ]) {
      const text = table('Time', ...cells);
      assert.deepEqual(codesOf(await readText('a.csv', text)), ['date-missing']);
      const track = trackOf(await readText('a.csv', text, { date: '2026-03-31' }));
      assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T12:00:00.000Z', '2026-03-31T12:00:01.000Z']);
      assert.match(track.assumptions.join(), /2026-03-31 was given/);
    }
  });

  it('takes the time that belongs to the position where there are several', async () => {
    const text =
      'sampleTime,locationTimestamp_since1970(s),locationLatitude,locationLongitude\n2026-03-31T07:00:00Z,1774958400,46.5,-14.75\n2026-03-31T07:00:01Z,1774958400,46.5,-14.75\n2026-03-31T07:00:02Z,1774958402,46.501,-14.75\n';
    const result = await readText('a.csv', text);
    assert.deepEqual([...trackOf(result).timeS].map(isoOf), ['2026-03-31T12:00:00.000Z', '2026-03-31T12:00:02.000Z']);
    assert.deepEqual(codesOf(result), ['repeated-fix']);
  });

  it('reports dates that are none', async () => {
    const result = await readText(
      'a.csv',
      table('Date,Time', '2026-03-31,12:00:00', '2026-02-30,12:00:01', 'soon,12:00:02'),
    );
    assert.equal(trackOf(result).timeS.length, 1);
    assert.ok(codesOf(result).includes('csv-bad-date'));
  });
});

describe('CSV: quantities', () => {
  it('does not use a quantity without a unit, and says how to state it', async () => {
    const text = flight('Alt,IAS (kt)', () => '1000,100');
    const result = await readText('a.csv', text);
    assert.deepEqual(trackOf(result).altitudes, []);
    assert.deepEqual(codesOf(result), ['csv-unit-missing']);
    assert.match(result.problems[0].message, /csv: \{ columns: \{ "Alt": altitude ft \} \}/);
    const stated = await readText('a.csv', text, { csv: { columns: { Alt: 'altitude ft' } } });
    near(altitudeOf(trackOf(stated), 'unknown')[0], 304.8, 1e-9);
    assert.deepEqual(stated.problems, []);
  });

  it('reads columns as the user explains them, and says when it cannot', async () => {
    const text = flight('q1,q2,Speed (m/s)', () => '180,90,1');
    const columns = { q1: 'ground speed km/h', q2: 'pressure altitude m', 'Speed (m/s)': 'ignore' };
    const track = trackOf(await readText('a.csv', text, { csv: { columns } }));
    near(track.groundSpeedMps?.[30] ?? 0, 50, 1e-9);
    near(altitudeOf(track, 'pressure')[0], 90, 1e-9);
    const unclear = await readText('a.csv', text, {
      csv: { columns: { q1: 'tyre pressure bananas', q3: 'altitude m' } },
    });
    assert.equal(unclear.track, undefined);
    assert.deepEqual(codesOf(unclear), ['csv-mapping-unclear', 'csv-mapping-no-column']);
    const headless = 'a;b;c\n2026-03-31T12:00:00Z;46,5;-14,75\n2026-03-31T12:00:01Z;46,6;-14,75\n';
    const named = await readText('a.csv', headless, { csv: { columns: { a: 'time', b: 'latitude', c: 'longitude' } } });
    assert.deepEqual([...trackOf(named).latDeg], [46.5, 46.6]);
  });

  it('finds the unit of a speed by the positions', async () => {
    const track = trackOf(
      await readText(
        'a.csv',
        flight('Speed', () => '97.19'),
      ),
    );
    near(track.groundSpeedMps?.[30] ?? 0, 50, 0.01);
    assert.match(track.assumptions[0], /shows kt/);
  });

  it('drops a speed whose stated unit the positions contradict', async () => {
    const result = await readText(
      'a.csv',
      flight('Speed (kt)', () => '50'),
    );
    assert.equal(trackOf(result).groundSpeedMps, undefined);
    assert.deepEqual(codesOf(result), ['speed-doubtful']);
  });

  it('works out pressure altitude from indicated altitude and altimeter setting', async () => {
    // FAA-H-8083-25C fig. 11-3: a setting of 30.5 inHg is -531 ft, 29.7 inHg is 205 ft.
    for (const [setting, shiftFt] of [
      ['30.5', -531],
      ['29.7', 205],
    ] as const) {
      const track = trackOf(
        await readText(
          'a.csv',
          flight('AltB (ft Baro),BaroA (inHg)', () => `4500,${setting}`, 5),
        ),
      );
      near(altitudeOf(track, 'pressure')[0] / 0.3048, 4500 + shiftFt, 1);
    }
    const alone = await readText(
      'a.csv',
      flight('Baro Alt (ft)', () => '4500', 5),
    );
    assert.deepEqual(trackOf(alone).altitudes, []);
    assert.deepEqual(codesOf(alone), ['csv-altimeter-setting-missing']);
    // FAA-H-8083-25C fig. 11-2: 24.90 inHg is the pressure at 5,000 ft.
    const fromPressure = trackOf(
      await readText(
        'a.csv',
        flight('Static Pressure (inHg)', () => '24.896', 5),
      ),
    );
    near(altitudeOf(fromPressure, 'pressure')[0] / 0.3048, 5000, 1);
  });

  it('does not take the pressure in the cabin for a pressure altitude', async () => {
    const result = await readText(
      'a.csv',
      flight('altimeterPressure(kPa)', () => '99.6', 5),
    );
    assert.deepEqual(trackOf(result).altitudes, []);
    assert.match(result.contents.join(), /not used as a pressure altitude, since vents, doors and speed shift it/);
  });

  it('adds up the tanks and says which gallons', async () => {
    const track = trackOf(
      await readText(
        'a.csv',
        flight('FQtyL (gals),FQtyR (gals),Fuel Flow (gph)', () => '21,25,8.5', 5),
      ),
    );
    near(track.channels.fuelQuantityM3?.[0] ?? 0, 46 * 3.785411784e-3, 1e-12);
    near(track.channels.fuelFlowM3ps?.[0] ?? 0, (8.5 * 3.785411784e-3) / 3600, 1e-15);
    assert.deepEqual(track.assumptions, ['Gallons were taken as US gallons.']);
    assert.deepEqual(
      trackOf(
        await readText(
          'a.csv',
          flight('Fuel Used (US gal)', () => '2', 5),
        ),
      ).assumptions,
      [],
    );
  });

  it('uses a heading only when it is true or can be made true', async () => {
    const plain = trackOf(
      await readText(
        'a.csv',
        flight('HDG (deg)', () => '350', 5),
      ),
    );
    assert.equal(plain.channels.headingRad, undefined);
    assert.match(plain.assumptions[0], /magnetic/);
    const corrected = trackOf(
      await readText(
        'a.csv',
        flight('HDG (deg),MagVar (deg)', () => '350,12', 5),
      ),
    );
    near(corrected.channels.headingRad?.[0] ?? 0, (2 * Math.PI) / 180, 1e-9);
    const stated = trackOf(
      await readText(
        'a.csv',
        flight('True Heading (deg)', () => '350', 5),
      ),
    );
    near(stated.channels.headingRad?.[0] ?? 0, (350 * Math.PI) / 180, 1e-9);
  });

  it('reads positions in radians, scaled, in minutes and with hemispheres', async () => {
    const table = (headings: string, position: (second: number) => string): Promise<Float64Array> =>
      readText(
        'a.csv',
        [`time,${headings}`, ...Array.from({ length: 30 }, (_, i) => `${clock(i)},${position(i)}`)].join('\n'),
      ).then((result) => trackOf(result).latDeg);
    const degrees = (second: number): number => 46.5 + (second * 50) / metresPerDegree;
    const forms: readonly (readonly [string, (second: number) => string])[] = [
      ['lat,lon', (i) => `${(degrees(i) * Math.PI) / 180},-0.257`],
      ['lat_rad,lon_rad', (i) => `${(degrees(i) * Math.PI) / 180},-0.257`],
      ['lat,lon', (i) => `${Math.round(degrees(i) * 1e6)},-14750000`],
      ['lat,lon', (i) => `${Math.round(degrees(i) * 1e7)},-147500000`],
      ['lat,lon', (i) => `46${((degrees(i) - 46) * 60).toFixed(5)},-1445.0`],
      ['lat,N/S,lon,E/W', (i) => `${degrees(i)},N,14.75,W`],
      ['lat,lon', (i) => `N46 ${((degrees(i) - 46) * 60).toFixed(5)},W14 45.0`],
    ];
    for (const [headings, position] of forms) {
      const latDeg = await table(headings, position);
      near(latDeg[20], degrees(20), 2e-6, headings + position(0));
    }
  });

  it('does not take degrees near 0, 0 for radians', async () => {
    const text = [
      'time,lat,lon',
      ...Array.from({ length: 60 }, (_, i) => `${clock(i)},${(0.5 + (i * 50) / metresPerDegree).toFixed(7)},1.25`),
    ].join('\n');
    near(trackOf(await readText('a.csv', text)).latDeg[0], 0.5, 1e-9);
  });

  it('leaves out positions without fix and altitudes of flat ones', async () => {
    const fixes = ['3D', '2D', 'NoSoln', '3DDiff'];
    const result = await readText(
      'a.csv',
      flight('GPSfix,AltMSL (m)', (i) => `${fixes[i]},100`, 4),
    );
    const track = trackOf(result);
    assert.deepEqual([...altitudeOf(track, 'msl')], [100, Number.NaN, 100]);
    assert.deepEqual(codesOf(result), ['csv-no-fix']);
  });
});
