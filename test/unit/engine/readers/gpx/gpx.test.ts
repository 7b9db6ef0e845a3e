import assert from 'node:assert/strict';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, codesOf, isoOf, readText, trackOf } from '../../../../tools/read-text.ts';

const head =
  '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1" xmlns:x="urn:invented:track">\n';

interface Point {
  readonly lat?: number;
  readonly lon?: number;
  readonly time?: string;
  readonly inside?: string;
}

const point = ({ lat = 46.5, lon = -14.75, time, inside = '' }: Point): string =>
  `<trkpt lat="${lat}" lon="${lon}">${time === undefined ? '' : `<time>${time}</time>`}${inside}</trkpt>\n`;

/** A flight east at 50 m/s, a point a second. */
const east = (seconds: number, inside: (i: number) => string = () => '', startS = 0): string =>
  Array.from({ length: seconds }, (_, i) =>
    point({
      lon: -14.75 + ((startS + i) * 50) / (111_120 * Math.cos((46.5 * Math.PI) / 180)),
      time: new Date(Date.UTC(2026, 2, 31, 12, 0, startS + i)).toISOString(),
      inside: inside(i),
    }),
  ).join('');

const gpx = (...segments: string[]): string =>
  `${head}<trk><name>invented</name>${segments.map((points) => `<trkseg>${points}</trkseg>`).join('\n')}</trk></gpx>`;

describe('GPX 1.1 example', () => {
  // Two invented points a second apart; geodesic distance 27.94 m (computed independently, WGS 84), extension 27.986 m/s.
  const example = `${head} <trk><name>invented</name><trkseg>
  <trkpt lat="46.5" lon="-14.75"><ele>12.4</ele><time>2026-03-31T23:59:58.800Z</time><fix>3d</fix><hdop>0.8</hdop><extensions><x:speed>27.986</x:speed></extensions></trkpt>
  <trkpt lat="46.5" lon="-14.750364"><ele>12.4</ele><time>2026-03-31T23:59:59.800Z</time></trkpt>
 </trkseg></trk>
</gpx>
`;

  it('gives times, positions, elevation, dilution and the speed of the extension', async () => {
    const result = await readText('flight.gpx', example);
    const track = trackOf(result);
    assert.equal(result.format, 'gpx');
    assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T23:59:58.800Z', '2026-03-31T23:59:59.800Z']);
    assert.deepEqual([...track.latDeg], [46.5, 46.5]);
    assert.deepEqual([...track.lonDeg], [-14.75, -14.750364]);
    assert.deepEqual([...altitudeOf(track, 'unknown')], [12.4, 12.4]);
    assert.deepEqual([...(track.groundSpeedMps ?? [])], [27.986, Number.NaN]);
    assert.deepEqual([...(track.hdop ?? [])], [0.8, Number.NaN]);
    assert.deepEqual(result.problems, []);
    assert.match(track.assumptions.join(), /datum of its elevations/);
  });
});

describe('GPX', () => {
  it('keeps segments apart and never joins them', async () => {
    const track = trackOf(
      await readText(
        'a.gpx',
        gpx(
          east(3),
          '',
          east(3, () => '', 60),
        ),
      ),
    );
    assert.equal(track.timeS.length, 6);
    assert.deepEqual(track.breaks, [3]);
  });

  it('joins tracks that follow each other, and takes the longest of those that overlap', async () => {
    const [first, second] = [gpx(east(5)), gpx(east(20, () => '', 100))].map(
      (text) => /<trk>.*<\/trk>/s.exec(text)?.[0] ?? '',
    );
    const joined = await readText('a.gpx', `${head}${second}${first}</gpx>`);
    assert.equal(trackOf(joined).timeS.length, 25);
    assert.deepEqual(trackOf(joined).breaks, [5]);
    assert.ok(codesOf(joined).includes('tracks-joined'));
    const overlapping = await readText('a.gpx', `${head}${first}${gpx(east(30)).replace(/^.*<trk>/s, '<trk>')}`);
    assert.equal(trackOf(overlapping).timeS.length, 30);
    assert.ok(codesOf(overlapping).includes('tracks-overlap'));
    assert.equal(overlapping.contents.length, 2);
  });

  it('finds the unit of an extension speed by its positions, whatever its namespace', async () => {
    for (const [factor, tag] of [
      [1, 'speed'],
      [3.6, 'a:speed'],
      [3600 / 1852, 'gpxtpx:speed'],
    ] as const) {
      const inside = `<extensions><b:more><${tag}>${(50 * factor).toFixed(3)}</${tag}><course>90</course></b:more></extensions>`;
      const track = trackOf(await readText('a.gpx', gpx(east(60, () => inside))));
      near(track.groundSpeedMps?.[30] ?? 0, 50, 0.001);
      near(track.trackRad?.[30] ?? 0, Math.PI / 2, 1e-9);
    }
    const wrong = await readText('a.gpx', gpx(east(60, () => '<extensions><speed>123</speed></extensions>')));
    assert.equal(trackOf(wrong).groundSpeedMps, undefined);
    assert.ok(codesOf(wrong).includes('speed-doubtful'));
  });

  it('reads speed and course of GPX 1.0', async () => {
    const text = gpx(east(60, () => '<course>90</course><speed>50.00</speed>'))
      .replace('version="1.1"', 'version="1.0"')
      .replace('GPX/1/1', 'GPX/1/0');
    const track = trackOf(await readText('a.gpx', text));
    near(track.groundSpeedMps?.[30] ?? 0, 50, 1e-9);
    near(track.trackRad?.[30] ?? 0, Math.PI / 2, 1e-9);
  });

  it('takes elevations beside a geoid height as above mean sea level, and adds those above the ellipsoid', async () => {
    const track = trackOf(
      await readText('a.gpx', gpx(east(3, () => '<ele>12.4</ele><geoidheight>55.1</geoidheight>'))),
    );
    near(altitudeOf(track, 'msl')[0], 12.4, 1e-9);
    near(altitudeOf(track, 'ellipsoid')[0], 67.5, 1e-9);
    assert.deepEqual(track.assumptions, []);
  });

  it('has no altitude where none was written', async () => {
    const track = trackOf(
      await readText(
        'a.gpx',
        gpx(east(4, (i) => (i === 1 ? '<ele>700.5</ele>' : i === 2 ? '<ele></ele>' : i === 3 ? '<ele/>' : ''))),
      ),
    );
    assert.deepEqual([...altitudeOf(track, 'unknown')], [Number.NaN, 700.5, Number.NaN, Number.NaN]);
    assert.deepEqual(trackOf(await readText('a.gpx', gpx(east(4)))).altitudes, []);
  });

  it('leaves out points without a fix, and the altitude of flat ones', async () => {
    const fixes = ['3d', '2d', 'none', 'dgps'];
    const result = await readText('a.gpx', gpx(east(4, (i) => `<ele>70</ele><fix>${fixes[i]}</fix>`)));
    const track = trackOf(result);
    assert.equal(track.timeS.length, 3);
    assert.deepEqual([...altitudeOf(track, 'unknown')], [70, Number.NaN, 70]);
    assert.deepEqual(codesOf(result), ['fix-2d', 'gpx-no-fix']);
  });

  it('spreads the whole seconds of a faster recorder', async () => {
    const points = Array.from({ length: 50 }, (_, i) =>
      point({ lat: 46.5 + i * 1e-4, time: `2026-03-31T12:00:0${Math.floor(i / 5) % 10}Z` }),
    ).join('');
    const result = await readText('a.gpx', gpx(points));
    const track = trackOf(result);
    assert.equal(track.timeS.length, 50);
    near(track.timeS[7] - track.timeS[0], 1.4, 1e-6);
    assert.deepEqual(codesOf(result), ['time-coarse']);
  });

  it('reads times with an offset or without a zone, and reports those that are none', async () => {
    const points = [
      point({ lat: 46.5, time: '2026-03-31T12:00:00+02:00' }),
      point({ lat: 46.51, time: '2026-03-31T10:00:10' }),
      point({ lat: 46.52, time: '31/03/2026 10:00' }),
      point({ lat: 46.53, time: '2026-02-30T10:00:20Z' }),
      point({ lat: 46.54 }),
      point({ lat: 46.55, time: '2026-03-31T10:00:30Z' }),
    ].join('');
    const result = await readText('a.gpx', gpx(points));
    assert.deepEqual([...trackOf(result).timeS].map(isoOf), [
      '2026-03-31T10:00:00.000Z',
      '2026-03-31T10:00:10.000Z',
      '2026-03-31T10:00:30.000Z',
    ]);
    assert.deepEqual(
      result.problems.map(({ code, at, count }) => [code, at?.line, count ?? 1]),
      [
        ['time-without-zone', 4, 1],
        ['gpx-bad-time', 5, 2],
        ['sample-without-time', undefined, 3],
      ],
    );
    assert.match(result.problems[1].message, /"31\/03\/2026 10:00" is no date and time/);
  });

  it('reports positions that are none', async () => {
    const time = '2026-03-31T12:00:00Z';
    const broken = `<trkpt lat="north" lon="-14.75"><time>${time}</time></trkpt>\n<trkpt><time>${time}</time></trkpt>\n`;
    const result = await readText(
      'a.gpx',
      gpx(`${broken}${east(3)}${point({ lat: 95, time: '2026-03-31T12:01:00Z' })}`),
    );
    assert.equal(trackOf(result).timeS.length, 3);
    assert.deepEqual(codesOf(result).sort(), ['before-first-fix', 'gpx-bad-position', 'position-out-of-range']);
  });

  it('refuses routes and waypoints: they were planned, not flown', async () => {
    const planned = `${head}<wpt lat="1" lon="2"><time>2026-03-31T12:00:00Z</time></wpt><rte><rtept lat="1" lon="2"/><rtept lat="2" lon="2"/></rte></gpx>`;
    const result = await readText('a.gpx', planned);
    assert.equal(result.track, undefined);
    assert.deepEqual(codesOf(result), ['gpx-no-track']);
    assert.deepEqual(result.contents, ['1 waypoint (not used)', '2 points of planned routes (not used)']);
    const untimed = await readText('a.gpx', gpx(point({}) + point({ lat: 46.6 })));
    assert.equal(untimed.track, undefined);
    assert.ok(codesOf(untimed).includes('no-usable-fix'));
  });

  it('reads a file cut anywhere as far as it goes', async () => {
    const whole = gpx(east(40, () => '<ele>100</ele>'));
    const full = trackOf(await readText('a.gpx', whole));
    for (let end = 200; end < whole.length; end += 97) {
      const result = await readText('a.gpx', whole.slice(0, end));
      const complete = whole.slice(0, end).split('</trkpt>').length - 1;
      assert.ok(codesOf(result).includes('file-cut-short'), `cut at ${end}`);
      assert.equal(result.track?.timeS.length ?? 0, complete);
      if (result.track) assert.deepEqual([...result.track.lonDeg], [...full.lonDeg.subarray(0, complete)]);
    }
  });

  it('keeps what it read when the structure around is broken', async () => {
    const broken = await readText('a.gpx', `${head}<trk><__proto__/><trkseg>${east(5)}</trkseg></trk></gpx>`);
    assert.equal(trackOf(broken).timeS.length, 5);
    assert.ok(codesOf(broken).includes('xml-unreadable'));
  });

  it('refuses a document type with its line', async () => {
    const result = await readText('a.gpx', gpx(east(5)).replace('<gpx', '<!DOCTYPE gpx [<!ENTITY a "b">]>\n<gpx'));
    assert.equal(result.track, undefined);
    assert.deepEqual(
      result.problems.map(({ code, severity, at }) => [code, severity, at?.line]),
      [['xml-doctype', 'error', 2]],
    );
  });

  it('is known by its content, also with prefixes, in other encodings and under another name', async () => {
    const prefixed = gpx(east(3))
      .replace(/<(\/?)(gpx|trk|trkseg|trkpt|time|name)\b/g, '<$1g:$2')
      .replace('xmlns=', 'xmlns:g=');
    assert.equal(trackOf(await readText('notes.txt', prefixed)).timeS.length, 3);
    assert.equal((await readText('a.csv', gpx(east(3)))).format, 'gpx');
    const wide = new DataView(new ArrayBuffer(2 * gpx(east(3)).length + 2));
    for (const [i, sign] of Array.from(`\uFEFF${gpx(east(3))}`).entries())
      wide.setUint16(2 * i, sign.charCodeAt(0), true);
    const fromWide = await readRecording(bytesInMemory('a.gpx', new Uint8Array(wide.buffer)));
    assert.equal(trackOf(fromWide).timeS.length, 3);
    assert.deepEqual(fromWide.problems, []);
  });

  it('names its tracks, entities decoded', async () => {
    const { contents } = await readText('a.gpx', gpx(east(3)).replace('>invented<', '>up &amp; away &lt;1&gt;<'));
    assert.deepEqual(contents, ['track "up & away <1>": 3 points in 1 segment']);
  });

  it('says so plainly when a track has no name', async () => {
    const { contents } = await readText(
      'a.gpx',
      gpx(east(3), east(3, undefined, 9)).replace('<name>invented</name>', ''),
    );
    assert.deepEqual(contents, ['track without a name: 6 points in 2 segments']);
  });

  it('notes altitudes that are no numbers, and takes them as missing', async () => {
    const result = await readText('a.gpx', gpx(east(3, (i) => `<ele>${i === 1 ? '12,4' : '12.4'}</ele>`)));
    assert.deepEqual(codesOf(result), ['gpx-bad-altitude']);
    assert.equal(result.problems[0].at?.line, 4);
    assert.deepEqual([...altitudeOf(trackOf(result), 'unknown')], [12.4, Number.NaN, 12.4]);
    assert.deepEqual(
      codesOf(await readText('a.gpx', gpx(east(3, () => '<ele></ele>')))).includes('gpx-bad-altitude'),
      false,
    );
  });

  it('reports progress and can be stopped', async () => {
    const long = gpx(east(20_000));
    const fractions: number[] = [];
    await readText('a.gpx', long, { onProgress: (fraction) => fractions.push(fraction) });
    assert.ok(fractions.length > 1 && fractions.at(-1) === 1);
    const controller = new AbortController();
    const reading = readText('a.gpx', long, { signal: controller.signal, onProgress: () => controller.abort() });
    await assert.rejects(reading, { name: 'AbortError' });
  });
});
