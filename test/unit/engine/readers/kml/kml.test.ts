import assert from 'node:assert/strict';
import { near } from '../../../../tools/near.ts';
import { altitudeOf, codesOf, isoOf, readText, trackOf } from '../../../../tools/read-text.ts';

const kml = (...placemarks: string[]): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document>${placemarks.join('\n')}</Document></kml>`;

const seconds = (count: number): number[] => Array.from({ length: count }, (_, i) => i);
const when = (second: number): string => `<when>${new Date(Date.UTC(2026, 2, 31, 12, 0, second)).toISOString()}</when>`;
const coord = (second: number, altitude: number | string = 100): string =>
  `<gx:coord>-14.75 ${(46.5 + (second * 50) / 111_120).toFixed(7)} ${altitude}</gx:coord>`;
const mode = '<altitudeMode>absolute</altitudeMode>';

const trackElement = (count: number, inside = '', altitude: number | string = 100, from = 0): string =>
  `<gx:Track>${mode}${seconds(count)
    .map((i) => when(from + i))
    .join('')}${seconds(count)
    .map((i) => coord(from + i, altitude))
    .join('\n')}${inside}</gx:Track>`;
const placemark = (inside: string, name = 'invented'): string => `<Placemark><name>${name}</name>${inside}</Placemark>`;
const array = (name: string, values: readonly (number | string)[]): string =>
  `<ExtendedData><SchemaData schemaUrl="#s"><gx:SimpleArrayData name="${name}">${values.map((value) => `<gx:value>${value}</gx:value>`).join('')}</gx:SimpleArrayData></SchemaData></ExtendedData>`;

describe('KML example', () => {
  it('gives the times and positions of a gx:Track', async () => {
    const text = `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document><Placemark>
 <gx:Track><altitudeMode>absolute</altitudeMode>
  <when>2026-03-31T23:59:58Z</when><when>2026-03-31T23:59:59Z</when>
  <gx:coord>-14.75 46.5 12.4</gx:coord><gx:coord>-14.750364 46.5 12.4</gx:coord>
 </gx:Track></Placemark></Document></kml>
`;
    const result = await readText('flight.kml', text);
    const track = trackOf(result);
    assert.equal(result.format, 'kml');
    assert.deepEqual([...track.timeS].map(isoOf), ['2026-03-31T23:59:58.000Z', '2026-03-31T23:59:59.000Z']);
    assert.deepEqual([...track.latDeg], [46.5, 46.5]);
    assert.deepEqual([...track.lonDeg], [-14.75, -14.750364]);
    assert.deepEqual([...altitudeOf(track, 'unknown')], [12.4, 12.4]);
    assert.deepEqual(result.problems, []);
    assert.match(track.assumptions[0], /mean sea level, but many recorders/);
  });
});

describe('KML', () => {
  it('pairs times and positions in either order of writing', async () => {
    const mixed = `<gx:Track>${mode}${seconds(5)
      .map((i) => when(i) + coord(i))
      .join('\n')}</gx:Track>`;
    const a = trackOf(await readText('a.kml', kml(placemark(trackElement(5)))));
    const b = trackOf(await readText('a.kml', kml(placemark(mixed))));
    assert.deepEqual([...a.timeS], [...b.timeS]);
    assert.deepEqual([...a.latDeg], [...b.latDeg]);
  });

  it('takes an empty position as missing, and reports counts that differ', async () => {
    const holes = trackElement(5).replace(coord(2), '<gx:coord/>');
    assert.deepEqual(
      [...trackOf(await readText('a.kml', kml(placemark(holes)))).timeS].map((timeS) => timeS % 60),
      [0, 1, 3, 4],
    );
    const result = await readText('a.kml', kml(placemark(trackElement(5).replace(coord(4), ''))));
    assert.equal(trackOf(result).timeS.length, 4);
    assert.deepEqual(codesOf(result), ['kml-counts-differ']);
  });

  it('reads arrays by their titles and names', async () => {
    const schema = (title: string): string =>
      `<Schema id="s"><gx:SimpleArrayField name="speed" type="float"><displayName>${title}</displayName></gx:SimpleArrayField></Schema>`;
    const stated = kml(
      schema('Speed (km/h)'),
      placemark(
        trackElement(
          60,
          array(
            'speed',
            seconds(60).map(() => 180),
          ),
        ),
      ),
    );
    near(trackOf(await readText('a.kml', stated)).groundSpeedMps?.[30] ?? 0, 50, 1e-9);
    const unstated = kml(
      placemark(
        trackElement(
          60,
          array(
            'speed',
            seconds(60).map(() => 97.19),
          ),
        ),
      ),
    );
    const track = trackOf(await readText('a.kml', unstated));
    near(track.groundSpeedMps?.[30] ?? 0, 50, 0.01);
    assert.match(track.assumptions.join(), /shows kt/);
    const others = kml(
      placemark(trackElement(3, array('oat_c', [10, 'x', 12]) + array('battery', [1, 2, 3]) + array('rpm', [1, 2]))),
    );
    const result = await readText('a.kml', others);
    assert.deepEqual([...(trackOf(result).channels.outsideAirTemperatureK ?? [])], [283.15, Number.NaN, 285.15]);
    assert.equal(trackOf(result).channels.engineSpeedRpm, undefined, 'not as many values as positions');
    assert.ok(
      result.contents.includes('values "battery": not used') && result.contents.includes('values "rpm": not used'),
    );
  });

  it('merges the same fixes written twice with pressure and satellite altitude', async () => {
    const result = await readText(
      'a.kml',
      kml(placemark(trackElement(5, '', 480), 'PRESALTTRK'), placemark(trackElement(5, '', 520), 'GNSSALTTRK')),
    );
    const track = trackOf(result);
    assert.equal(track.timeS.length, 5);
    assert.equal(altitudeOf(track, 'pressure')[2], 480);
    assert.equal(altitudeOf(track, 'unknown')[2], 520);
    assert.deepEqual(result.problems, []);
    const twice = await readText('a.kml', kml(placemark(trackElement(5), 'one'), placemark(trackElement(5), 'two')));
    assert.equal(trackOf(twice).timeS.length, 5);
    assert.deepEqual(codesOf(twice), ['kml-track-repeated']);
  });

  it('merges them segment by segment', async () => {
    const twice = ([480, 520] as const).map((altitude, i) =>
      placemark(
        `<gx:MultiTrack>${trackElement(3, '', altitude)}${trackElement(4, '', altitude, 30)}</gx:MultiTrack>`,
        i === 0 ? 'baro' : 'gps',
      ),
    );
    const result = await readText('a.kml', kml(...twice));
    const track = trackOf(result);
    assert.deepEqual([track.timeS.length, track.breaks], [7, [3]]);
    assert.deepEqual(
      [...altitudeOf(track, 'pressure')],
      Array.from({ length: 7 }, () => 480),
    );
    assert.deepEqual(
      [...altitudeOf(track, 'unknown')],
      Array.from({ length: 7 }, () => 520),
    );
    assert.deepEqual(result.problems, []);
  });

  it('keeps the segments of a MultiTrack apart, and joins other tracks in the order of time', async () => {
    const multi = placemark(
      `<gx:MultiTrack><gx:interpolate>1</gx:interpolate>${trackElement(3)}${trackElement(3, '', 100, 30)}</gx:MultiTrack>`,
    );
    const result = await readText('a.kml', kml(multi));
    assert.deepEqual([trackOf(result).timeS.length, trackOf(result).breaks], [6, [3]]);
    assert.deepEqual(result.problems, []);
    const two = await readText('a.kml', kml(placemark(trackElement(3, '', 100, 30)), placemark(trackElement(3))));
    assert.deepEqual(trackOf(two).breaks, [3]);
    assert.ok(codesOf(two).includes('tracks-joined'));
  });

  it('uses altitudes only as the file says what they refer to', async () => {
    const read = (text: string): Promise<Awaited<ReturnType<typeof readText>>> =>
      readText('a.kml', kml(placemark(trackElement(3).replace(mode, text))));
    const unstated = await read('');
    assert.equal(altitudeOf(trackOf(unstated), 'unknown')[0], 100);
    assert.deepEqual(codesOf(unstated), ['kml-altitude-mode']);
    for (const other of ['clampToGround', 'relativeToGround']) {
      const result = await read(`<altitudeMode>${other}</altitudeMode>`);
      assert.deepEqual(trackOf(result).altitudes, []);
      assert.match(result.problems[0].message, new RegExp(other));
    }
    assert.equal(altitudeOf(trackOf(await read('<gx:altitudeMode>absolute</gx:altitudeMode>')), 'unknown')[0], 100);
  });

  it('refuses paths without times, also with comments among their coordinates', async () => {
    const path = placemark(
      '<LineString><coordinates>\n+008.5,+48.2,768\n<!-- bat: 89% -->\n+008.6,+48.3,767\n</coordinates></LineString>',
    );
    const result = await readText('a.kml', kml(path));
    assert.equal(result.track, undefined);
    assert.deepEqual(
      result.problems.map(({ code, severity }) => [code, severity]),
      [['kml-no-times', 'error']],
    );
    assert.deepEqual(
      codesOf(await readText('a.kml', kml(placemark('<Point><coordinates>8.5,48.2</coordinates></Point>')))),
      ['kml-no-track'],
    );
  });

  it('reads placemarks that have a point and a time each', async () => {
    const points = seconds(4).map((i) =>
      placemark(
        `<TimeStamp>${when(i)}</TimeStamp><Point>${mode}<coordinates>-14.75,${46.5 + i / 1000},${200 + i}</coordinates></Point>`,
      ),
    );
    const track = trackOf(await readText('a.kml', kml(...points)));
    assert.deepEqual(
      [...track.timeS].map((timeS) => timeS % 60),
      [0, 1, 2, 3],
    );
    assert.deepEqual([...altitudeOf(track, 'unknown')], [200, 201, 202, 203]);
  });

  it('reports times that are none or only dates', async () => {
    const result = await readText(
      'a.kml',
      kml(
        placemark(
          trackElement(4)
            .replace(when(1), '<when>2026-03-31</when>')
            .replace(when(2), '<when>2026-03-31T12:00:02</when>'),
        ),
      ),
    );
    assert.equal(trackOf(result).timeS.length, 3);
    assert.deepEqual(
      result.problems.map(({ code, at }) => [code, at?.line]),
      [
        ['kml-bad-time', 2],
        ['time-without-zone', 2],
        ['sample-without-time', undefined],
      ],
    );
  });

  it('reads a cut file as far as times and positions go together', async () => {
    const mixed = kml(
      placemark(
        `<gx:Track>${mode}${seconds(50)
          .map((i) => when(i) + coord(i))
          .join('\n')}</gx:Track>`,
      ),
    );
    const result = await readText('a.kml', mixed.slice(0, mixed.indexOf(coord(20))));
    assert.equal(trackOf(result).timeS.length, 20);
    assert.deepEqual(codesOf(result), ['file-cut-short', 'kml-counts-differ']);
  });
});
