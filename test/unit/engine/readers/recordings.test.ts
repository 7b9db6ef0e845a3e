import assert from 'node:assert/strict';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { isoOf } from '../../../tools/read-text.ts';
import { itWithData } from '../../../tools/with-shared-data.ts';

/**
 * Real recordings kept beside the repository. Samples, start and end agree with what was counted when the files were
 * collected (other parsers, before these readers existed) but for these: phone-01 has 2,841 rows of which 967 repeat a fix;
 * helicopter-01 has 953 fixes, the first of them invalid; position-spikes has 891 records, 60 with impossible minutes.
 */
const recordings: readonly (readonly [
  path: string,
  format: string,
  samples: number,
  start: string,
  end: string,
  columns: string,
  problems: string,
])[] = [
  [
    'flights/avionics-01.csv',
    'csv',
    442,
    '2014-03-29T22:50:22Z',
    '2014-03-29T22:57:57Z',
    'msl ellipsoid pressure groundSpeedMps trackRad verticalSpeedMps outsideAirTemperatureK indicatedAirspeedMps fuelQuantityM3 fuelFlowM3ps manifoldPressurePa engineSpeedRpm trueAirspeedMps pitchRad rollRad headingRad windSpeedMps windFromRad',
    '',
  ],
  [
    'flights/phone-01.csv',
    'csv',
    1874,
    '2017-10-29T19:05:56Z',
    '2017-10-29T19:53:42Z',
    'unknown groundSpeedMps trackRad horizontalSigmaM verticalSigmaM headingRad',
    'repeated-fix x967',
  ],
  [
    'flights/skydive-climb-01.csv',
    'csv',
    994,
    '2023-10-08T18:02:27.900Z',
    '2023-10-08T18:04:07.200Z',
    'msl groundSpeedMps trackRad verticalSpeedMps horizontalSigmaM verticalSigmaM speedSigmaMps',
    '',
  ],
  ['flights/avionics-01.gpx', 'gpx', 442, '2014-03-29T22:50:22Z', '2014-03-29T22:57:57Z', 'unknown', ''],
  [
    'flights/glider-01.igc',
    'igc',
    2470,
    '2019-02-17T17:32:57Z',
    '2019-02-17T19:34:25Z',
    'ellipsoid pressure groundSpeedMps trackRad horizontalSigmaM engineNoise trueAirspeedMps outsideAirTemperatureK',
    '',
  ],
  [
    'flights/glider-02.igc',
    'igc',
    8924,
    '2018-05-30T11:09:54Z',
    '2018-05-30T16:16:24Z',
    'ellipsoid pressure horizontalSigmaM engineNoise',
    '',
  ],
  [
    'flights/glider-03-midnight.igc',
    'igc',
    6752,
    '2016-11-08T22:43:17Z',
    '2016-11-09T04:43:01Z',
    'ellipsoid pressure',
    '',
  ],
  [
    'flights/glider-04.igc',
    'igc',
    1070,
    '2022-07-16T19:41:31Z',
    '2022-07-16T21:11:20Z',
    'ellipsoid pressure groundSpeedMps horizontalSigmaM engineNoise',
    '',
  ],
  [
    'flights/helicopter-01.igc',
    'igc',
    952,
    '2014-06-28T15:41:54Z',
    '2014-07-18T09:53:55Z',
    'ellipsoid pressure horizontalSigmaM',
    'igc-no-fix x29, before-first-fix, time-backwards',
  ],
  ['flights/paraglider-01.igc', 'igc', 2008, '2023-04-15T07:39:37Z', '2023-04-15T08:13:04Z', 'ellipsoid pressure', ''],
  [
    'flights/selflaunch-01.igc',
    'igc',
    4643,
    '2018-07-23T09:41:13Z',
    '2018-07-23T14:38:52Z',
    'ellipsoid pressure groundSpeedMps trackRad horizontalSigmaM engineNoise trueAirspeedMps outsideAirTemperatureK',
    '',
  ],
  ['flights/freeflight-01.kml', 'kml', 0, '', '', '', 'kml-no-times'],
  [
    'flights/glider-04.kml',
    'kml',
    1070,
    '2022-07-16T19:41:31Z',
    '2022-07-16T21:11:20Z',
    'unknown pressure',
    'speed-doubtful',
  ],
  [
    'conformance/gpx/gpx1.0_with_all_fields.gpx',
    'gpx',
    1,
    '2013-01-01T12:00:04Z',
    '2013-01-01T12:00:04Z',
    'msl ellipsoid hdop',
    'time-without-zone',
  ],
  [
    'conformance/gpx/gpx1.1_with_all_fields.gpx',
    'gpx',
    1,
    '2013-01-01T12:00:04Z',
    '2013-01-01T12:00:04Z',
    'msl ellipsoid hdop',
    'time-without-zone',
  ],
  ['conformance/kml/KML_Samples.kml', 'kml', 0, '', '', '', 'kml-no-times'],
  [
    'conformance/kml/gx-track-location.kml',
    'kml',
    3,
    '2013-11-13T09:03:34.245Z',
    '2013-11-13T09:05:35.277Z',
    '',
    'kml-altitude-mode',
  ],
  [
    'conformance/igc/lad-lod-extensions.igc',
    'igc',
    424,
    '2023-02-20T16:46:59Z',
    '2023-02-20T16:54:18Z',
    'msl',
    'altitude-all-zero',
  ],
  [
    'conformance/igc/spec-example.igc',
    'igc',
    9,
    '2019-08-16T16:02:40Z',
    '2019-08-16T16:03:20Z',
    'ellipsoid pressure horizontalSigmaM engineNoise',
    '',
  ],
  [
    'conformance/nmea/bt451.log',
    'nmea',
    14,
    '2009-12-09T14:33:06Z',
    '2009-12-09T15:25:08.500Z',
    'msl ellipsoid groundSpeedMps trackRad hdop',
    'time-backwards',
  ],
  [
    'conformance/nmea/gp-320fw-2019-03-28.log',
    'nmea',
    20,
    '2019-03-28T16:45:17.990Z',
    '2019-03-28T16:45:36.990Z',
    'msl ellipsoid groundSpeedMps trackRad hdop',
    '',
  ],
  [
    'conformance/nmea/ublox-8.log',
    'nmea',
    72,
    '2017-01-10T00:09:41Z',
    '2017-01-10T00:10:52Z',
    'msl ellipsoid groundSpeedMps hdop',
    'text-not-utf8, nmea-bad-sentence',
  ],
  [
    'nasty/cerknicko-without-times.gpx',
    'gpx',
    5,
    '2010-08-05T16:22:52Z',
    '2010-08-05T16:23:49Z',
    'unknown',
    'sample-without-time x291',
  ],
  ['nasty/gpx1.1_with_extensions_without_namespaces.gpx', 'gpx', 0, '', '', '', 'gpx-no-track'],
  ['nasty/iso8859-1encoded.gpx', 'gpx', 0, '', '', '', 'gpx-no-track'],
  ['nasty/no-altitude.gpx', 'gpx', 0, '', '', '', 'sample-without-time x1140, no-usable-fix'],
  ['nasty/track-with-empty-segment.gpx', 'gpx', 9, '2013-07-06T17:26:26Z', '2013-07-06T17:27:42Z', 'unknown', ''],
  ['nasty/track-with-extremes.gpx', 'gpx', 0, '', '', '', 'sample-without-time x25, no-usable-fix'],
  ['nasty/track_with_dilution_errors.gpx', 'gpx', 0, '', '', '', 'sample-without-time, no-usable-fix'],
  ['nasty/unicode_with_bom_noencoding.gpx', 'gpx', 0, '', '', '', 'gpx-no-track'],
  [
    'nasty/bad-line.igc',
    'igc',
    9,
    '2022-08-05T10:35:32Z',
    '2022-08-05T13:50:21Z',
    'ellipsoid pressure groundSpeedMps trackRad horizontalSigmaM engineNoise trueAirspeedMps outsideAirTemperatureK',
    'igc-bad-length',
  ],
  [
    'nasty/position-spikes.igc',
    'igc',
    831,
    '2024-08-31T08:56:06Z',
    '2024-08-31T09:10:56Z',
    'ellipsoid pressure',
    'igc-no-fix x164, igc-bad-length x216, igc-bad-line x60',
  ],
  [
    'nasty/bad-checksums.log',
    'nmea',
    2,
    '2019-04-07T00:03:43.030Z',
    '2019-04-07T00:03:45.030Z',
    'msl ellipsoid groundSpeedMps trackRad hdop',
    'nmea-bad-sentence x40, nmea-no-fix x17',
  ],
  [
    'nasty/week-rollover.log',
    'nmea',
    2,
    '1999-08-22T00:02:31.099Z',
    '1999-08-22T00:02:31.420Z',
    'groundSpeedMps trackRad',
    'nmea-bad-date, date-week-rollover',
  ],
  ['nasty/gga-only.nmea', 'nmea', 0, '', '', '', 'date-missing'],
  [
    'nasty/utf16.nmea',
    'nmea',
    154,
    '2004-08-07T03:29:08.379Z',
    '2004-08-07T03:31:41.370Z',
    'msl ellipsoid groundSpeedMps trackRad hdop',
    '',
  ],
];

describe('real recordings of text', () => {
  for (const [path, format, samples, start, end, columns, problems] of recordings) {
    itWithData(`${path}: ${samples} samples`, `data/${path}`, async (bytes) => {
      const result = await readRecording(bytesInMemory(path, bytes));
      const { track } = result;
      assert.equal(result.format, format);
      assert.equal(
        result.problems.map(({ code, count }) => (count === undefined ? code : `${code} x${count}`)).join(', '),
        problems,
      );
      assert.equal(track?.timeS.length ?? 0, samples);
      if (!track) return;
      assert.deepEqual(
        [isoOf(track.timeS[0]), isoOf(track.timeS[samples - 1])],
        [start, end].map((time) => isoOf(Date.parse(time) / 1000)),
      );
      const motion = Object.entries(track).filter(
        ([name, values]) => values instanceof Float64Array && !/^(?:timeS|latDeg|lonDeg)$/.test(name),
      );
      const found = [
        ...track.altitudes.map(({ kind }) => kind),
        ...motion.map(([name]) => name),
        ...Object.keys(track.channels),
      ];
      assert.equal(found.join(' '), columns);
      for (const [, values] of motion) assert.equal((values as Float64Array).length, samples);
    });
  }
});
