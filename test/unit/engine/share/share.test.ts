import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import type { Measured } from '../../../../shared/measured.ts';
import { analyse } from '../../../../src/engine/analyse.ts';
import type { Analysis } from '../../../../src/engine/analysis.ts';
import { geodesicBetween } from '../../../../src/engine/geo/geodesic.ts';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../src/engine/readers/reader.ts';
import { shareRecordings, type ShareOptions, smallestRadiusM } from '../../../../src/engine/share/index.ts';
import { hiddenHome } from '../../../../src/engine/track/privacy.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { type FileFormat, type ReceiverName, simulatedFlight, writeRecording } from '../../../synth/index.ts';
import { near } from '../../../tools/near.ts';
import { sharedData } from '../../../tools/shared-data.ts';

const moved: ShareOptions = { places: 'moved', heights: 'kept', dates: 'kept', seed: 7 };
const read = async (name: string, bytes: Uint8Array | string): Promise<ReadResult> =>
  readRecording(bytesInMemory(name, typeof bytes === 'string' ? new TextEncoder().encode(bytes) : bytes));
const trackIn = async (name: string, bytes: Uint8Array | string): Promise<Track> => {
  const { track } = await read(name, bytes);
  assert.ok(track, name);
  return track;
};

/** Words that give a place, a person, an aircraft or a date away, put wherever a format has room for them. */
const secrets = ['Zwergenfeld', 'D-EXYZ', 'Xaverius Pilotus', 'LOGGER4711', '20240413', 'Krautacker'];

function withNames(text: string, extension: string): string {
  switch (extension) {
    case 'gpx':
      return text
        .replace(
          /<trk>/,
          `<trk><name>Zwergenfeld 20240413</name><desc>D-EXYZ, Xaverius Pilotus</desc><src>LOGGER4711</src>`,
        )
        .replace(
          /(<gpx[^>]*>)/,
          `$1<metadata><name>Krautacker</name><author><name>Xaverius Pilotus</name></author></metadata>`,
        )
        .replace(/<\/gpx>\s*$/, '<wpt lat="1" lon="2"><name>Krautacker</name></wpt></gpx>');
    case 'igc':
      return text.replace(
        /^(HFDTE.*)$/m,
        '$1\r\nHFPLTPILOTINCHARGE:Xaverius Pilotus\r\nHFGIDGLIDERID:D-EXYZ\r\nHFFTYFRTYPE:LOGGER4711\r\nHOSITSITE:Zwergenfeld\r\nLXXXKrautacker',
      );
    case 'kml':
      return text.replace(
        /<Placemark>/,
        '<Placemark><name>Zwergenfeld 20240413</name><description>D-EXYZ Xaverius Pilotus</description>',
      );
    case 'csv':
      return `# Zwergenfeld D-EXYZ Xaverius Pilotus LOGGER4711 20240413 Krautacker\n${text}`;
    case 'nmea':
      return text;
    default:
      return text;
  }
}

const kinds: readonly (readonly [ReceiverName, FileFormat])[] = [
  ['handheld', 'gpx-speed'],
  ['handheld-no-speed', 'gpx'],
  ['phone', 'kml-speed'],
  ['good5', 'nmea'],
  ['logger', 'igc'],
  ['panel', 'csv-aviation'],
  ['good10', 'csv-metric'],
  ['camera18', 'gpmf-gps5'],
  ['camera10', 'gpmf-gps9'],
  ['film-vertical', 'camm'],
  ['handheld', 'fit'],
];

/** A circuit of every kind, read back from its own format. */
async function recorded(receiver: ReceiverName, format: FileFormat): Promise<{ name: string; track: Track }> {
  const { bytes, extension } = writeRecording(simulatedFlight(`share-${format}`, { receiver }).recording, format);
  const text = /gpx|igc|kml|csv|nmea/.test(extension)
    ? withNames(new TextDecoder().decode(bytes), extension)
    : undefined;
  const name = `Zwergenfeld/20240413 D-EXYZ.${extension}`;
  return { name, track: await trackIn(name, text ?? bytes) };
}

function assertNothingLeft(text: string, original: Track, what: string): void {
  for (const secret of secrets) assert.ok(!text.includes(secret), `${what}: ${secret}`);
  // Every number of the copy with as many decimals as a position has: none lies within 0.01 degrees of a real one.
  const [lats, lons] = [original.latDeg, original.lonDeg].map((values) => {
    const known = values.filter((value) => Number.isFinite(value));
    return [Math.min(...known) - 0.01, Math.max(...known) + 0.01];
  });
  for (const [number] of text.matchAll(/(?<![\d.:T-])-?\d+\.\d{5,}/g)) {
    const value = Number(number);
    assert.ok(!(value > lats[0] && value < lats[1]), `${what}: ${number} is a real latitude`);
    assert.ok(!(value > lons[0] && value < lons[1]), `${what}: ${number} is a real longitude`);
  }
}

const measures = (analysis: Analysis): Record<string, Measured | undefined> => ({
  ...Object.fromEntries(
    analysis.takeoffs.flatMap(({ groundRollM, liftoffSpeedMps, screens }, i) => [
      [`ground roll ${i}`, groundRollM],
      [`lift-off speed ${i}`, liftoffSpeedMps],
      ...screens.map(({ heightM, distanceM }) => [`over ${heightM} ${i}`, distanceM]),
    ]),
  ),
  ...Object.fromEntries(analysis.landings.map(({ groundRollM }, i) => [`landing roll ${i}`, groundRollM])),
  ...Object.fromEntries(
    analysis.climbs.flatMap(({ rateOfClimbMps, energyRateMps }, i) => [
      [`rate of climb ${i}`, rateOfClimbMps],
      [`energy rate ${i}`, energyRateMps],
    ]),
  ),
  ...Object.fromEntries(
    analysis.levelRuns.flatMap(({ groundSpeedMps, trueAirspeedMps, fuelFlowM3ps }, i) => [
      [`level speed ${i}`, groundSpeedMps],
      [`level airspeed ${i}`, trueAirspeedMps],
      [`fuel flow ${i}`, fuelFlowM3ps],
    ]),
  ),
});

describe('recordings shared without their places', function () {
  this.timeout(60_000);
  /** One of each sort of content; the analysis takes most of the time. */
  const measured = new Set<FileFormat>(['gpx-speed', 'csv-aviation', 'igc', 'gpmf-gps9']);
  for (const [receiver, format] of kinds) {
    it(`${format} of ${receiver}: nothing of place or name is left${measured.has(format) ? ', and the copy measures the same' : ''}`, async () => {
      const { name, track } = await recorded(receiver, format);
      const { copies, refused } = shareRecordings([{ file: name, track }], moved);
      assert.deepEqual(refused, []);
      const [copy] = copies;
      assertNothingLeft(copy.text, track, format);
      for (const secret of secrets) assert.ok(!`${copy.name} ${copy.remarks.join(' ')}`.includes(secret));
      const back = await read(copy.name, copy.text);
      assert.ok(back.track);
      assert.equal(back.problems.filter(({ severity }) => severity === 'error').length, 0);
      near(back.track.timeS.length, track.timeS.length, 0.001 * track.timeS.length, 'rows');
      if (!measured.has(format)) return;
      const [before, after] = [measures(analyse(track)), measures(analyse(back.track))];
      assert.deepEqual(Object.keys(after), Object.keys(before), 'the same events');
      // Where the recorder wrote its positions in steps that are felt, the copy is noisier, which its remark says.
      const coarse = /may differ by some per cent/.test(copy.remarks.join(' '));
      const lacks = /Not in the copy: (?!times into the film)/.test(copy.remarks.join(' '));
      let compared = 0;
      for (const [what, was] of Object.entries(before)) {
        const is = after[what];
        assert.equal(is === undefined, was === undefined, what);
        if (is === undefined || was === undefined) continue;
        const half = (was.high - was.low) / 2;
        // Within rounding: a fiftieth of the interval; a coarse or poorer copy stays within half of it.
        near(
          is.value,
          was.value,
          (coarse || lacks ? 0.5 : 0.02) * half + 2e-4 * Math.abs(was.value),
          `${format} ${what}`,
        );
        compared++;
      }
      assert.ok(compared >= 3, `${compared} values compared`);
    });
  }

  it('lays recordings from one field onto each other as they lay, and those of other fields on none', async () => {
    const [a, b] = await Promise.all([recorded('good10', 'csv-metric'), recorded('handheld', 'gpx-speed')]);
    const far: Track = { ...b.track, latDeg: b.track.latDeg.map((lat) => lat - 8) };
    const near1: Track = {
      ...a.track,
      latDeg: a.track.latDeg.map((lat) => lat + 0.02),
      timeS: a.track.timeS.map((t) => t + 1e6),
    };
    const { copies } = shareRecordings(
      [
        { file: 'a', track: a.track },
        { file: 'b', track: near1 },
        { file: 'c', track: far },
      ],
      moved,
    );
    const tracks = new Map<string, Track>();
    for (const { of, name, text } of copies) tracks.set(of, await trackIn(name, text));
    const [first, second] = ['a', 'b'].map((of) => tracks.get(of));
    assert.ok(first && second);
    const distance = (x: Track, y: Track): number =>
      geodesicBetween(x.latDeg[0], x.lonDeg[0], y.latDeg[0], y.lonDeg[0]).distanceM;
    near(distance(first, second), distance(a.track, near1), 1);
    const other = tracks.get('c');
    assert.ok(other);
    near(other.latDeg[0], hiddenHome.latDeg, 1e-5, 'a field far away comes to the same point');
    near(other.lonDeg[0], hiddenHome.lonDeg, 1e-5);
  });

  it('does not tell the latitude by the steps of its positions', async () => {
    // Positions to a millionth of a degree: in metres the steps to the east are shorter by the cosine of the latitude.
    const { track } = await recorded('handheld', 'gpx-speed');
    const stepDeg = 1e-6;
    const stepped: Track = {
      ...track,
      latDeg: track.latDeg.map((value) => Math.round(value / stepDeg) * stepDeg),
      lonDeg: track.lonDeg.map((value) => Math.round(value / stepDeg) * stepDeg),
      positionResolutionM: 111_320 * stepDeg,
    };
    /** How well values lie on a grid of the step: 1 for a grid, about 1 / sqrt(n) for none. */
    const gridness = (values: readonly number[], step: number): number => {
      const [re, im] = values.reduce(
        ([x, y], value) => [x + Math.cos((2 * Math.PI * value) / step), y + Math.sin((2 * Math.PI * value) / step)],
        [0, 0],
      );
      return Math.hypot(re, im) / values.length;
    };
    const cosine = Math.cos((stepped.latDeg[0] * Math.PI) / 180);
    const { copies } = shareRecordings([{ file: 'a', track: stepped }], moved);
    const copy = await trackIn(copies[0].name, copies[0].text);
    const east = [...new Set(copy.lonDeg)].map((lonDeg) => (lonDeg - hiddenHome.lonDeg) * 111_320);
    const home = stepped.lonDeg[0];
    const bare = [...new Set(stepped.lonDeg)].map((lonDeg) => (lonDeg - home) * 111_320 * cosine);
    const step = 111_320 * stepDeg * cosine;
    assert.ok(gridness(bare, step) > 0.99, 'the check sees the grid where it is');
    assert.ok(gridness(east, step) < 4 / Math.sqrt(east.length), `${gridness(east, step)} of ${east.length}`);
  });

  it('keeps one height only: two would tell the height of the geoid', async () => {
    const { track } = await recorded('good5', 'nmea');
    assert.ok(track.altitudes.length > 1);
    const { copies } = shareRecordings([{ file: 'a', track }], moved);
    const copy = await trackIn(copies[0].name, copies[0].text);
    assert.deepEqual(
      copy.altitudes.map(({ kind }) => kind),
      ['msl'],
    );
  });

  it('counts heights from where the recording begins, when asked', async () => {
    const { track } = await recorded('logger', 'igc');
    const { copies } = shareRecordings([{ file: 'a', track }], { ...moved, heights: 'relative' });
    const copy = await trackIn(copies[0].name, copies[0].text);
    assert.deepEqual(
      copy.altitudes.map(({ kind }) => kind),
      ['unknown'],
      'a pressure altitude would no longer be one',
    );
    assert.match(copies[0].remarks.join(' '), /Not in the copy: .*pressure altitude/);
    near(copy.altitudes[0].valuesM[0], 0, 3);
    const rise = (values: Float64Array): number => Math.max(...values) - values[0];
    near(rise(copy.altitudes[0].valuesM), rise(track.altitudes[0].valuesM), 3);
    assert.match(copies[0].text, /Heights are above the place where the recording begins/);
  });

  it('moves dates by whole days and keeps days apart and times of day', async () => {
    const { track } = await recorded('handheld', 'gpx-speed');
    const later: Track = { ...track, timeS: track.timeS.map((t) => t + 5 * 86_400 + 3600) };
    const { copies } = shareRecordings(
      [
        { file: 'later', track: later },
        { file: 'first', track },
      ],
      { ...moved, dates: 'moved' },
    );
    assert.deepEqual(
      copies.map(({ of, name }) => [of, name]),
      [
        ['first', 'flight-1.gpx'],
        ['later', 'flight-2.gpx'],
      ],
      'numbered by time, not by name or order',
    );
    const [first, second] = await Promise.all(copies.map(({ name, text }) => trackIn(name, text)));
    assert.equal(new Date(first.timeS[0] * 1000).toISOString().slice(0, 10), '2010-01-01');
    near(second.timeS[0] - first.timeS[0], 5 * 86_400 + 3600, 0.002);
    near((first.timeS[0] - track.timeS[0]) % 86_400, 0, 0.002);
    assert.ok(!copies[0].text.includes(new Date(track.timeS[0] * 1000).toISOString().slice(0, 10)));
  });

  it('is the same bytes for the same recordings and secret, others for another', async () => {
    const { track } = await recorded('handheld', 'gpx-speed');
    const text = (options: ShareOptions): string => shareRecordings([{ file: 'a', track }], options).copies[0].text;
    assert.equal(text(moved), text(moved));
    assert.notEqual(text(moved), text({ ...moved, seed: 8 }));
  });
});

describe('recordings shared with the fields cut out', function () {
  this.timeout(60_000);
  const radiusM = 3000;
  const cut = (seed: number): ShareOptions => ({ ...moved, places: 'cut', radiusM, seed });

  for (const [receiver, format] of [
    ['good10', 'csv-metric'],
    ['handheld', 'gpx-speed'],
    ['logger', 'igc'],
  ] as const) {
    it(`${format}: nothing within the circle, seams that are gaps, and nothing measured across them`, async () => {
      const { name, track } = await recorded(receiver, format);
      const home = { latDeg: track.latDeg[0], lonDeg: track.lonDeg[0] };
      for (const [seed, written] of [
        [1, 'gpx'],
        [2, 'csv'],
      ] as const) {
        const { copies } = shareRecordings([{ file: name, track }], { ...cut(seed), format: written });
        if (copies.length === 0) continue;
        const copy = await trackIn(copies[0].name, copies[0].text);
        let nearest = Number.POSITIVE_INFINITY;
        copy.latDeg.forEach((latDeg, row) => {
          const { distanceM } = geodesicBetween(home.latDeg, home.lonDeg, latDeg, copy.lonDeg[row]);
          nearest = Math.min(nearest, distanceM);
        });
        assert.ok(nearest > radiusM / 2 - 1, `${nearest} m from home`);
        for (const secret of secrets) assert.ok(!copies[0].text.includes(secret));
        const analysis = analyse(copy);
        assert.deepEqual([analysis.takeoffs.length, analysis.landings.length], [0, 0]);
        const { gaps } = analysis.recording;
        // Each step of the copy that is longer than any of the recording is a gap.
        const longest = Math.max(...track.timeS.slice(1).map((t, row) => t - track.timeS[row]));
        for (let row = 1; row < copy.timeS.length; row++) {
          const [from, to] = [copy.timeS[row - 1], copy.timeS[row]];
          if (to - from <= longest + 0.01) continue;
          assert.ok(
            gaps.some(({ startS, endS }) => startS <= from + 0.01 && endS >= to - 0.01),
            `the seam of ${(to - from).toFixed(1)} s is a gap`,
          );
          for (const { startS, endS } of [...analysis.climbs, ...analysis.levelRuns, ...analysis.winds]) {
            assert.ok(!(startS < from - 0.01 && endS > to + 0.01), 'nothing is measured across a seam');
          }
        }
      }
    });
  }

  it('puts the centre off the field by chance, the same for the same secret, and covers the field with a margin', async () => {
    const { track } = await recorded('good10', 'csv-metric');
    // A ring of points far around, so that what is left tells the circle.
    const n = 240;
    const home = { latDeg: track.latDeg[0], lonDeg: track.lonDeg[0] };
    const star: Track = {
      ...track,
      timeS: Float64Array.from({ length: n * 60 }, (_, i) => 1.6e9 + i),
      latDeg: Float64Array.from(
        { length: n * 60 },
        (_, i) => home.latDeg + ((0.05 * (i % 60)) / 60) * Math.sin(Math.floor(i / 60)),
      ),
      lonDeg: Float64Array.from(
        { length: n * 60 },
        (_, i) => home.lonDeg + ((0.05 * (i % 60)) / 60) * Math.cos(Math.floor(i / 60)),
      ),
      altitudes: [],
      groundSpeedMps: undefined,
      trackRad: undefined,
      hdop: undefined,
      verticalSpeedMps: undefined,
      horizontalSigmaM: undefined,
      verticalSigmaM: undefined,
      speedSigmaMps: undefined,
      channels: {},
      breaks: [],
    };
    const nearestOf = (seed: number): number => {
      const [copy] = shareRecordings([{ file: 'a', track: star }], {
        ...cut(seed),
        around: [home],
        format: 'csv',
      }).copies;
      const distances = copy.text
        .split('\r\n')
        .slice(2, -1)
        .map((line) => line.split(',').slice(1, 3).map(Number))
        .map(([lat, lon]) => geodesicBetween(home.latDeg, home.lonDeg, lat, lon).distanceM);
      return Math.min(...distances);
    };
    const nearest = Array.from({ length: 8 }, (_, seed) => nearestOf(seed));
    assert.ok(
      nearest.every((distanceM) => distanceM > radiusM / 2 - 1),
      nearest.join(', '),
    );
    assert.ok(
      nearest.some((distanceM) => distanceM < 0.8 * radiusM),
      'the field is not in the middle',
    );
    assert.ok(new Set(nearest.map(Math.round)).size > 4);
    assert.equal(nearestOf(3), nearest[3]);
  });

  it('says what a copy still shows', async () => {
    const { track } = await recorded('good10', 'csv-metric');
    const elsewhere = { latDeg: track.latDeg[0] + 1, lonDeg: track.lonDeg[0] };
    const { copies } = shareRecordings([{ file: 'a', track }], { ...cut(1), around: [elsewhere] });
    const told = copies[0].remarks.join(' ');
    assert.match(told, /It begins outside what is cut/);
    assert.match(told, /moves slowly or stands somewhere/);
  });

  it('refuses a circle that hides nothing, and says when nothing is left', async () => {
    const { track } = await recorded('handheld', 'gpx-speed');
    const one = [{ file: 'a', track }];
    assert.throws(() => shareRecordings(one, { ...moved, places: 'cut' }), RangeError);
    assert.throws(() => shareRecordings(one, { ...moved, places: 'cut', radiusM: smallestRadiusM - 1 }), RangeError);
    const { copies, refused } = shareRecordings(one, { ...cut(1), radiusM: 150_000 });
    assert.deepEqual(copies, []);
    assert.match(refused[0].reason, /all of it lies in what is cut/);
  });
});

describe('real recordings shared', function () {
  this.timeout(60_000);
  it('lose pilot, registration and serial number of an IGC header', async function () {
    const path = sharedData('flights/engine/tracks/2024-04-18_2218.igc');
    if (path === undefined) {
      console.warn('      skipped: flights/engine is not beside the repository');
      this.skip();
    }
    const text = readFileSync(path, 'latin1');
    const headers = [...text.matchAll(/^H[FO][A-Z]{3}[^:\r\n]*:\s*([^\r\n]{4,})$/gm)].map(([, value]) => value.trim());
    const track = await trackIn('a.igc', new TextEncoder().encode(text));
    const { copies } = shareRecordings([{ file: 'a.igc', track }], moved);
    for (const header of headers) assert.ok(!copies[0].text.includes(header), header);
    assert.ok(!copies[0].text.includes(text.slice(1, 7)), 'the serial number of the A record');
  });
});
