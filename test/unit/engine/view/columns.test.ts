import assert from 'node:assert/strict';
import { landingCurve, takeoffCurve } from '../../../../shared/run-curve.ts';
import { analyse } from '../../../../src/engine/analyse.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { analysisPending, columnsOf, eventMarks, metricRows } from '../../../../src/engine/view/index.ts';
import { simulatedFlight } from '../../../synth/index.ts';

const simulated = simulatedFlight('view-columns', {
  receiver: 'good5',
  aeroplane: 'trainer',
  weather: 'fair',
  length: 'short',
});
const { track, truth } = simulated;
const { motion } = deriveMotion(track);
const columns = columnsOf(motion, track);
assert.ok(columns);
const analysis = analyse(track);

describe('columns for the page', () => {
  it('have one length, begin at the first fix and count the distance along the ground', () => {
    const { timeS } = columns;
    for (const column of [
      columns.distanceM,
      columns.heightM,
      columns.groundSpeedMps,
      columns.eastM,
      columns.trackRad,
    ]) {
      assert.equal(column.length, timeS.length);
    }
    assert.equal(timeS[0], 0);
    for (let row = 1; row < timeS.length; row++) assert.ok(columns.distanceM[row] >= columns.distanceM[row - 1]);
  });

  it('measure the true roll within a few metres (truth of the simulation)', () => {
    const [takeoff] = truth.takeoffs;
    const row = (t: number): number => columns.timeS.findIndex((s) => s + columns.startS >= t);
    const rolled = columns.distanceM[row(takeoff.liftoffS ?? 0)] - columns.distanceM[row(takeoff.rollStartS)];
    assert.ok(Math.abs(rolled - (takeoff.groundRollM ?? 0)) < 12, `${rolled} for ${takeoff.groundRollM}`);
  });

  it('are nothing where there is no fix', () => {
    const empty: Track = {
      ...track,
      latDeg: track.latDeg.map(() => Number.NaN),
      lonDeg: track.lonDeg.map(() => Number.NaN),
    };
    assert.equal(columnsOf(deriveMotion(empty).motion, empty), undefined);
  });

  it('go straight across a gap and mark it', () => {
    const keep = [...track.timeS.keys()].filter((row) => row < 2000 || row > 2400);
    const cut = (column: Float64Array): Float64Array => Float64Array.from(keep, (row) => column[row]);
    const gapped: Track = {
      timeS: cut(track.timeS),
      latDeg: cut(track.latDeg),
      lonDeg: cut(track.lonDeg),
      altitudes: track.altitudes.map((one) => ({ ...one, valuesM: cut(one.valuesM) })),
      ...(track.groundSpeedMps ? { groundSpeedMps: cut(track.groundSpeedMps) } : {}),
      breaks: [],
      channels: {},
      assumptions: [],
    };
    const found = deriveMotion(gapped).motion;
    const made = columnsOf(found, gapped);
    assert.ok(made);
    assert.equal(made.gapsBefore.length, 1);
    const [row] = made.gapsBefore;
    const straight = Math.hypot(made.eastM[row] - made.eastM[row - 1], made.northM[row] - made.northM[row - 1]);
    assert.ok(Math.abs(made.distanceM[row] - made.distanceM[row - 1] - straight) < 0.5);
  });
});

describe('events, curves and metrics for the page', () => {
  it('mark every event once, in order of time', () => {
    const marks = eventMarks(analysis, []);
    assert.equal(new Set(marks.map(({ id }) => id)).size, marks.length);
    for (let at = 1; at < marks.length; at++) assert.ok(marks[at].timeS >= marks[at - 1].timeS);
    assert.ok(marks.some(({ kind }) => kind === 'liftoff') && marks.some(({ kind }) => kind === 'touchdown'));
  });

  it('cut a take-off so that its points lie on its curve', () => {
    const takeoff = analysis.takeoffs.find(({ outcome }) => outcome === 'flown');
    assert.ok(takeoff?.liftoff && takeoff.groundRollM);
    const curve = takeoffCurve(columns, takeoff);
    const liftoff = curve.points.find(({ kind }) => kind === 'liftoff');
    assert.ok(liftoff);
    assert.equal(liftoff.distanceM, takeoff.groundRollM.value);
    const row = curve.timeS.findIndex((t) => t + curve.originS >= liftoff.timeS);
    assert.ok(Math.abs(curve.distanceM[row] - liftoff.distanceM) < 15, 'the curve and the measured roll agree');
    assert.ok(Math.abs(curve.heightM[row]) < 5);
    assert.ok(curve.distanceM[0] <= 1 && curve.timeS[0] < 0);
    const [landing] = analysis.landings;
    assert.equal(landingCurve(columns, landing).points[0].label, 'Touchdown');
  });

  it('have a row for each metric, with an id that is its own', () => {
    const rows = metricRows(analysis);
    assert.equal(new Set(rows.map(({ id }) => id)).size, rows.length);
    assert.ok(rows.some(({ id }) => id === 'take-off-1/ground-roll'));
    for (const { measured, startS, endS } of rows) {
      assert.ok(measured.low <= measured.value && measured.value <= measured.high);
      assert.ok(endS > startS && measured.method !== '');
    }
  });

  it('say of a recording alone when it began and how fast it was written', () => {
    const { recording, phases } = analysisPending(track, motion);
    assert.equal(recording.samples, track.timeS.length);
    assert.equal(recording.rateHz, motion.rateHz);
    assert.deepEqual(phases, []);
  });
});
