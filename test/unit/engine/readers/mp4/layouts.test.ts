import assert from 'node:assert/strict';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../../src/engine/readers/reader.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { cammRun, gpmfRun, heightMAt, positionAt, speedMpsAt } from '../../../../synth/camera-walk.ts';
import { filmBytes, layFilm } from '../../../../synth/film.ts';
import type { CammOptions, GpmfOptions } from '../../../../synth/write-mp4.ts';
import { layGpmfFilm, writeCammMp4, writeGpmfMp4 } from '../../../../synth/write-mp4.ts';
import { countingSource } from '../../../../tools/counting-source.ts';
import { near } from '../../../../tools/near.ts';

const startS = Date.UTC(2026, 2, 31, 23, 59, 30) / 1000;
const gpmf = gpmfRun({ startS, seconds: 60, rateHz: 18.169 });
const camm = cammRun({ startS, seconds: 60, rateHz: 1 });

const read = (bytes: Uint8Array): Promise<ReadResult> => readRecording(bytesInMemory('film.mp4', bytes));
const codes = ({ problems }: ReadResult): string[] => problems.map(({ code }) => code);

/** The track is the run that was written, every sample at its own time. */
function assertRun({ track }: ReadResult, samples: number, toleranceS: number): void {
  assert.ok(track);
  assert.equal(track.timeS.length, samples);
  for (let i = 0; i < samples; i++) {
    const sinceS = track.timeS[i] - startS;
    const { latDeg, lonDeg } = positionAt(sinceS);
    const toleranceM = 0.02 + 40 * toleranceS;
    near((track.latDeg[i] - latDeg) * 111_195, 0, toleranceM, `north of sample ${i}`);
    near((track.lonDeg[i] - lonDeg) * 76_541, 0, toleranceM, `east of sample ${i}`);
    near(track.groundSpeedMps?.[i] ?? Number.NaN, speedMpsAt(sinceS), 0.001 + 2 * toleranceS, `speed of sample ${i}`);
    near(track.altitudes[0].valuesM[i] - 12.4, heightMAt(sinceS), 0.001 + 3 * toleranceS, `height of sample ${i}`);
  }
}

describe('films in every layout', () => {
  const layouts: [string, GpmfOptions][] = [
    ['index at the end', {}],
    ['index in front', { index: 'front' }],
    ['64-bit offsets and sizes', { offsets: 64 }],
    ['64-bit offsets, index in front', { offsets: 64, index: 'front' }],
    ['fragments', { fragmented: true }],
    ['a time for each sample', { stream: 'GPS9' }],
    ['fragments with a time for each sample', { fragmented: true, stream: 'GPS9', altitudeSystem: 'MSLV' }],
    ['no running totals', { withoutTotals: true }],
  ];
  for (const [name, options] of layouts) {
    it(`${name}: the run that was written comes back`, async () => {
      const result = await read(writeGpmfMp4(gpmf, options));
      assert.equal(result.format, 'gpmf');
      assert.deepEqual(codes(result), []);
      // Stamps are written to the millisecond.
      assertRun(result, gpmf.length, 0.0015);
      near(result.track?.videoStartS ?? 0, startS, 0.06);
      const own = options.stream === 'GPS9';
      const kind = options.altitudeSystem === 'MSLV' ? 'msl' : own ? 'unknown' : 'ellipsoid';
      assert.equal(result.track?.altitudes[0].kind, kind);
    });
  }

  for (const options of [{}, { index: 'front' }, { offsets: 64 }, { fragmented: true }] satisfies CammOptions[]) {
    it(`camera motion metadata, ${JSON.stringify(options)}`, async () => {
      const result = await read(writeCammMp4(camm, options));
      assert.equal(result.format, 'camm');
      assert.deepEqual(codes(result), []);
      assertRun(result, camm.length, 1e-5);
      near(result.track?.videoStartS ?? 0, startS, 0.001);
      const { track } = result;
      assert.equal(track?.altitudes[0].kind, 'ellipsoid');
      near(track?.trackRad?.[40] ?? Number.NaN, Math.PI / 4, 1e-6);
      assert.ok(Number.isNaN(track?.trackRad?.[0] ?? 0), 'no direction while standing');
      assert.equal(track?.verticalSpeedMps?.[40], 3);
      near(track?.speedSigmaMps?.[0] ?? Number.NaN, 0.2, 1e-6);
      assert.deepEqual([track?.horizontalSigmaM?.[0], track?.verticalSigmaM?.[0]], [3, 5]);
    });
  }

  it('gives the time into the film where the film begins before the first sample', async () => {
    const late = { videoStartS: startS - 5 };
    near((await read(writeGpmfMp4(gpmf, late))).track?.videoStartS ?? 0, startS - 5, 0.06);
    near((await read(writeCammMp4(camm, late))).track?.videoStartS ?? 0, startS - 5, 0.001);
  });

  it('measures the rate of the receiver and not that of the film', async () => {
    // The film's clock gains 50 parts in a million, the tolerance of a crystal in the GPMF introduction.
    assertRun(await read(writeGpmfMp4(gpmf, { filmClockRate: 1.00005 })), gpmf.length, 0.0015);
  });
});

describe('films of receivers in trouble', () => {
  it('leaves out the positions before the first fix, and the seconds in which they settle', async () => {
    const samples = gpmf.map((sample, k) => (k < 410 ? { ...sample, fix: 0 as const, dop: 99.99 } : sample));
    const result = await read(writeGpmfMp4(samples));
    assert.deepEqual(codes(result), ['gpmf-before-fix', 'gpmf-settling']);
    // The fix is stated for a payload: the first one that begins behind sample 410 is at second 23.
    const firstS = 23 + 10;
    near((result.track?.timeS[0] ?? 0) - startS, firstS, 0.06);
    const before = result.problems[0].count ?? 0;
    assert.equal(before, gpmf.filter(({ timeS }) => timeS - startS < 23).length);
  });

  it('marks where the fix was lost in between', async () => {
    const samples = gpmf.map((sample, k) => (k >= 500 && k < 640 ? { ...sample, fix: 0 as const } : sample));
    const { track, problems } = await read(writeGpmfMp4(samples, { stream: 'GPS9' }));
    assert.deepEqual(
      problems.map(({ code, count }) => [code, count]),
      [['gpmf-fix-lost', 140]],
    );
    assert.deepEqual(track?.breaks, [500]);
    assert.equal(track?.timeS.length, gpmf.length - 140);
  });

  it('leaves room for payloads that are missing from the file', async () => {
    const result = await read(writeGpmfMp4(gpmf, { lostPayloads: [20, 21] }));
    assert.deepEqual(codes(result), []);
    assertRun(result, gpmf.length - 36, 0.0015);
  });

  it('takes out a correction of the clock', async () => {
    const long = gpmfRun({ startS, seconds: 120, rateHz: 18.169 });
    for (const stream of ['GPS5', 'GPS9'] as const) {
      const result = await read(writeGpmfMp4(long, { stream, stampErrorS: (payload) => (payload < 40 ? 3 : 0) }));
      assert.deepEqual(codes(result), ['gpmf-clock-step'], stream);
      assertRun(result, long.length, 0.03);
    }
  });

  it('keeps the time of a pause, which is no correction of the clock', async () => {
    // Stopped for 12 s at 30 m/s and more: the film goes on at once, the place is 400 m further.
    const long = gpmfRun({ startS, seconds: 120, rateHz: 18.169 });
    const pauses = [{ fromS: startS + 70, toS: startS + 82 }];
    const kept = long.filter(({ timeS }) => timeS < pauses[0].fromS || timeS >= pauses[0].toS);
    for (const stream of ['GPS5', 'GPS9'] as const) {
      const result = await read(writeGpmfMp4(kept, { stream, pauses }));
      assert.deepEqual(codes(result), stream === 'GPS5' ? ['gpmf-samples-lost'] : [], stream);
      assertRun(result, kept.length, 0.03);
      near(result.track?.videoStartS ?? 0, startS, 0.1);
      assert.match(result.track?.assumptions.join(' ') ?? '', /film was paused/);
    }
    // Within a payload, what follows the pause has no stamp until the next one.
    const within = [{ fromS: startS + 70.5, toS: startS + 82.5 }];
    const rest = long.filter(({ timeS }) => timeS < within[0].fromS || timeS >= within[0].toS);
    const halved = await read(writeGpmfMp4(rest, { pauses: within }));
    assert.deepEqual(codes(halved), ['gpmf-samples-lost', 'sample-without-time']);
    const unplaced = rest.filter(({ timeS }) => timeS >= within[0].toS && timeS < startS + 83).length;
    assertRun(halved, rest.length - unplaced, 0.03);
    const slow = cammRun({ startS, seconds: 120, rateHz: 1 }).filter(
      ({ timeS }) => timeS < startS + 70 || timeS >= startS + 82,
    );
    const camm = await read(writeCammMp4(slow, { pauses }));
    assert.deepEqual(codes(camm), []);
    assertRun(camm, slow.length, 1e-5);
  });

  it('gives no times into a film in fast motion, but all its positions', async () => {
    for (const result of [
      await read(writeCammMp4(camm, { filmClockRate: 0.1 })),
      await read(writeGpmfMp4(gpmf, { filmClockRate: 0.1, stream: 'GPS9' })),
    ]) {
      assert.deepEqual(codes(result), []);
      assert.equal(result.track?.videoStartS, undefined);
      assert.match(result.track?.assumptions.join(' ') ?? '', /a second of it shows 10\.0 s/);
      assertRun(result, result.format === 'camm' ? camm.length : gpmf.length, 0.0015);
    }
  });

  it('reads positions without velocity and time against the creation time of the film', async () => {
    const result = await read(writeCammMp4(camm, { packetType: 5, creationS: startS }));
    assert.deepEqual(codes(result), ['camm-time-from-camera']);
    assert.equal(result.track?.groundSpeedMps, undefined);
    near(result.track?.timeS[30] ?? 0, startS + 30, 1e-3);
    assert.deepEqual(codes(await read(writeCammMp4(camm, { packetType: 5 }))), ['camm-no-time']);
  });

  it('finds what the times of camera motion metadata count from', async () => {
    for (const epoch of ['unix', '1904'] as const) {
      const result = await read(writeCammMp4(camm, { epoch, creationS: startS }));
      assert.deepEqual(codes(result), ['camm-epoch']);
      assertRun(result, camm.length, 1e-5);
    }
    const early = await read(writeCammMp4(camm, { epoch: 'gps-without-leap-seconds', creationS: startS }));
    assert.deepEqual(codes(early), ['camm-leap-seconds']);
  });

  it('does not take velocities of nothing but zeros for measured', async () => {
    const zeros = camm.map((sample) => ({ ...sample, eastMps: 0, northMps: 0, upMps: 0 }));
    const { track } = await read(writeCammMp4(zeros));
    assert.deepEqual(
      [track?.groundSpeedMps, track?.verticalSpeedMps, track?.trackRad],
      [undefined, undefined, undefined],
    );
    const level = await read(writeCammMp4(camm.map((sample) => ({ ...sample, upMps: 0 }))));
    assert.equal(level.track?.verticalSpeedMps, undefined);
    near(level.track?.groundSpeedMps?.[40] ?? 0, 40, 1e-5);
  });

  it('leaves out single fixes with a wrong time or in two dimensions', async () => {
    const samples = camm.map((sample, k) => ({ ...sample, fix: k === 20 ? (2 as const) : (3 as const) }));
    const { track, problems } = await read(writeCammMp4(samples));
    assert.deepEqual(
      problems.map(({ code, count }) => [code, count ?? 1]),
      [['camm-fix-lost', 1]],
    );
    assert.equal(track?.timeS.length, 59);
    const none = await read(writeCammMp4(camm.map((sample) => ({ ...sample, fix: 0 as const }))));
    assert.deepEqual(codes(none), ['camm-no-fix']);
  });
});

describe('films without a usable index or track', () => {
  it('says that a film is unfinished when its index is missing, and finds its telemetry all the same', async () => {
    const whole = writeGpmfMp4(gpmf);
    const nothing = await read(whole.subarray(0, 30));
    assert.deepEqual(codes(nothing), ['mp4-no-index']);
    assert.match(nothing.problems[0].message, /still being written.*Nor is there any telemetry/);
    const { track } = await read(whole);
    for (const length of [5000, whole.length - 3000]) {
      const result = await read(whole.subarray(0, length));
      assert.equal(codes(result)[0], 'mp4-no-index', `${length} bytes`);
      assert.equal(result.problems[0].severity, 'warning');
      assert.match(result.problems[0].message, /still being written|stopped without closing/);
      const n = result.track?.timeS.length ?? 0;
      assert.ok(n > 15, `${n} samples`);
      assert.equal(result.track?.videoStartS, undefined);
      for (let i = 0; i < n; i++) {
        assert.equal(result.track?.latDeg[i], track?.latDeg[i]);
        // The film's own clock is lost: the fit stands on the receiver's stamps alone.
        near(result.track?.timeS[i] ?? 0, track?.timeS[i] ?? 1, 0.06);
      }
    }
  });

  it('reads a film that is still being written, up to where it is', async () => {
    const whole = writeGpmfMp4(gpmf, { fragmented: true });
    const result = await read(whole.subarray(0, Math.floor(whole.length * 0.6)));
    assert.ok(codes(result).every((code) => code === 'mp4-truncated' || code === 'mp4-samples-missing'));
    assert.ok((result.track?.timeS.length ?? 0) > 0.5 * gpmf.length);
  });

  it('reads what is left of a film with its index in front', async () => {
    const whole = writeGpmfMp4(gpmf, { index: 'front' });
    const result = await read(whole.subarray(0, Math.floor(whole.length * 0.6)));
    assert.deepEqual(codes(result), ['mp4-truncated', 'mp4-samples-missing']);
    assert.ok((result.track?.timeS.length ?? 0) > 0.4 * gpmf.length);
  });

  it('reads a film whose last box reaches to the end of the file (size 0)', async () => {
    const whole = writeGpmfMp4(gpmf, { index: 'front' });
    const text = new TextDecoder('latin1').decode(whole);
    whole.set([0, 0, 0, 0], text.indexOf('mdat') - 4);
    const result = await read(whole);
    assert.deepEqual(codes(result), []);
    assertRun(result, gpmf.length, 0.0015);
  });

  it('says what a film without positions holds', async () => {
    const bytes = writeGpmfMp4(gpmf);
    const text = new TextDecoder('latin1').decode(bytes);
    bytes.set([0x74, 0x78, 0x33, 0x67], text.indexOf('gpmd'));
    const { problems, track, format } = await read(bytes);
    assert.equal(track, undefined);
    assert.equal(format, undefined);
    assert.equal(problems[0].code, 'mp4-no-telemetry');
    assert.match(problems[0].message, /video \(avc1\), metadata \(tx3g\)/);
  });

  it('says that telemetry without a GPS stream has none', async () => {
    const bytes = filmBytes(
      layFilm({ sampleEntry: 'gpmd', timescale: 1000, samples: [{ bytes: new Uint8Array(16), durationTicks: 1000 }] }),
    );
    assert.deepEqual(codes(await read(bytes)), ['gpmf-no-gps']);
  });
});

describe('a film of 12 GB', () => {
  const hour = gpmfRun({ startS, seconds: 3600, rateHz: 18.169 });
  for (const options of [{ index: 'end' }, { index: 'front' }, { fragmented: true }] satisfies GpmfOptions[]) {
    it(`costs a few megabytes of reading, ${JSON.stringify(options)}`, async () => {
      const layout = layGpmfFilm(hour, { ...options, offsets: 64, pictureBytes: 3_333_333 });
      assert.ok(layout.sizeBytes > 11.9e9);
      const source = countingSource('film.mp4', layout);
      const started = performance.now();
      const result = await readRecording(source);
      const tookS = (performance.now() - started) / 1000;
      assertRun(result, hour.length, 0.0015);
      // Fragments have an index of their own each second, found by going from one to the next.
      assert.ok(source.counts.bytes < ('fragmented' in options ? 15e6 : 5e6), `${source.counts.bytes} bytes read`);
      assert.ok(source.counts.largest < 2e6, `${source.counts.largest} bytes in one read`);
      assert.ok(tookS < 10, `${tookS} s`);
    });
  }

  it('can be stopped', async () => {
    const stop = new AbortController();
    stop.abort(new Error('enough'));
    const source = countingSource('film.mp4', layGpmfFilm(gpmf));
    await assert.rejects(readRecording(source, { signal: stop.signal }), /enough/);
  });
});
