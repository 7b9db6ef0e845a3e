import assert from 'node:assert/strict';
import { joinRecordings } from '../../../../src/engine/track/join-recordings.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { Random } from '../../../synth/random.ts';
import type { ReceiverName } from '../../../synth/receiver-kinds.ts';
import { receiverKinds } from '../../../synth/receiver-kinds.ts';
import { receive } from '../../../synth/receive.ts';
import type { SimulatedFlight } from '../../../synth/simulated-flights.ts';
import { simulatedFlight } from '../../../synth/simulated-flights.ts';
import { trackInMemory } from '../../../synth/track-in-memory.ts';
import { near } from '../../../tools/near.ts';

/** What another recorder makes of the same flight, its clock late by `lateS`. */
function recorded(flight: SimulatedFlight, receiver: ReceiverName, seed: string, lateS = 0): Track {
  const recording = receive(flight.table, flight.field, receiverKinds[receiver], new Random(seed));
  const track: Track = trackInMemory(recording);
  return { ...track, timeS: track.timeS.map((timeS) => timeS + lateS) };
}

function rows(track: Track, from: number, to: number): Track {
  const cut = (values: Float64Array): Float64Array => values.slice(from, to);
  return {
    ...track,
    timeS: cut(track.timeS),
    latDeg: cut(track.latDeg),
    lonDeg: cut(track.lonDeg),
    altitudes: track.altitudes.map((column) => ({ ...column, valuesM: cut(column.valuesM) })),
    ...(track.groundSpeedMps ? { groundSpeedMps: cut(track.groundSpeedMps) } : {}),
    breaks: [],
    channels: {},
  };
}

describe('two recordings of one flight', () => {
  const flights = ['a', 'b', 'c', 'd', 'e', 'f'].map((seed) =>
    simulatedFlight(`join-${seed}`, { receiver: 'camera10' }),
  );

  it('have the offset of their clocks inside its interval, apart from the lags of the receivers', () => {
    let inside = 0;
    let widest = 0;
    for (const [i, flight] of flights.entries()) {
      const lateS = [0, 7.3, -42.6, 1.1, 95.2, -3.4][i];
      const camera = recorded(flight, 'camera10', `camera ${i}`);
      const panel = recorded(flight, 'panel', `panel ${i}`, lateS);
      const { track, clockOffsetS, remarks } = joinRecordings(camera, panel);
      assert.ok(track && clockOffsetS, remarks.join(' '));
      const lags = [receiverKinds.camera10, receiverKinds.panel].map(({ velocity }) => velocity?.lagS ?? 0);
      const expected = -lateS + lags[0] - lags[1];
      near(clockOffsetS.value, expected, 0.15, `flight ${i}`);
      inside += Number(clockOffsetS.low <= expected && expected <= clockOffsetS.high);
      widest = Math.max(widest, clockOffsetS.high - clockOffsetS.low);
    }
    assert.ok(inside >= 5, `${inside} of 6 intervals hold the true offset`);
    assert.ok(widest < 1, `the widest interval is ${widest} s`);
  });

  it('give one track with the channels of the second at the times of the first', () => {
    const camera = recorded(flights[0], 'camera10', 'camera');
    const panel = recorded(flights[0], 'panel', 'panel', 30);
    const { track, remarks } = joinRecordings(camera, panel);
    assert.ok(track);
    assert.deepEqual(track.timeS, camera.timeS);
    assert.deepEqual(track.latDeg, camera.latDeg);
    assert.equal(track.groundSpeedMps, camera.groundSpeedMps);
    assert.deepEqual(Object.keys(track.channels).sort(), Object.keys(panel.channels).sort());
    assert.deepEqual(
      track.altitudes.map(({ kind }) => kind),
      [...camera.altitudes.map(({ kind }) => kind), 'pressure'],
    );
    const rpm = track.channels.engineSpeedRpm ?? new Float64Array();
    const own = panel.channels.engineSpeedRpm ?? new Float64Array();
    const middle = Math.floor(camera.timeS.length / 2);
    const beside = panel.timeS.findIndex((timeS) => timeS - 30 > camera.timeS[middle]);
    near(rpm[middle], (own[beside] + own[beside - 1]) / 2, 40);
    assert.match(remarks.join(' '), /is (?:30|29)\.\d s ahead/);
  });

  it('are recognised when one keeps local time', () => {
    const { clockOffsetS, remarks } = joinRecordings(
      recorded(flights[1], 'camera10', 'camera'),
      recorded(flights[1], 'panel', 'panel', -5 * 3600),
    );
    near(clockOffsetS?.value ?? 0, 5 * 3600, 1);
    assert.match(remarks.join(' '), /about 5 h behind: it keeps local time/);
  });

  it('are joined when one begins in the middle and writes no speed', () => {
    const whole = recorded(flights[2], 'camera10', 'camera');
    const part = recorded(flights[2], 'handheld-no-speed', 'handheld', 4);
    const { clockOffsetS } = joinRecordings(rows(whole, 3000, whole.timeS.length), part);
    assert.ok(clockOffsetS);
    near(clockOffsetS.value, -4, 1.2);
  });

  it('are refused when they are of different flights', () => {
    const first = recorded(flights[3], 'camera10', 'camera');
    const other = recorded(flights[4], 'panel', 'panel');
    const shifted = { ...other, timeS: other.timeS.map((timeS) => timeS - other.timeS[0] + first.timeS[0]) };
    const { track, remarks } = joinRecordings(first, shifted);
    assert.equal(track, undefined);
    assert.match(remarks.join(' '), /not of one flight|cannot be told/);
  });

  it('are refused when they have no time in common, or do not move', () => {
    const camera = recorded(flights[5], 'camera10', 'camera');
    const panel = recorded(flights[5], 'panel', 'panel', 40 * 3600);
    const apart = joinRecordings(camera, panel);
    assert.equal(apart.track, undefined);
    assert.match(apart.remarks[0], /no common time/);
    const standing = (track: Track): Track => rows(track, 0, 300);
    const still = { ...standing(camera), groundSpeedMps: new Float64Array(300) };
    assert.equal(joinRecordings(still, still).track, undefined);
  });
});
