import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import type { EvaluatedFlight } from '../../../../src/engine/evaluate/index.ts';
import { answerTable, flightFindings, flightLine, headline, leftOutOf } from '../../../../src/engine/report/index.ts';
import { inventedEvaluation } from './invented-evaluation.ts';

const { icao } = displayUnitSets;

describe('an evaluation in short', () => {
  const evaluation = inventedEvaluation();
  const flights = evaluation.flights;

  it('says the primary answer in one line', () => {
    assert.match(headline(evaluation, icao) ?? '', /^Ground roll \d+(?:\.\d)? % shorter$/);
    assert.equal(headline({ ...evaluation, result: undefined }, icao), undefined);
  });

  it('lists every answer in a table', () => {
    const table = answerTable(evaluation, icao);
    assert.match(table, /Ground roll, at equal weight/);
    assert.match(table, /no difference shown/);
    assert.match(
      answerTable({ ...evaluation, result: evaluation.result && { ...evaluation.result, metrics: [] } }, icao),
      /No question/,
    );
  });

  it('says of each flight what was found, or why it is left out', () => {
    const read = flights.find(
      ({ analysis }) => analysis !== undefined && analysis.takeoffs.length > 0,
    ) as EvaluatedFlight;
    const line = flightLine(read, evaluation, icao);
    assert.match(line, /take-off/);
    const unread: EvaluatedFlight = {
      ...read,
      file: 'gone.gpx',
      analysis: undefined,
      problems: [{ code: 'track-not-found', severity: 'error', message: '"gone.gpx" cannot be opened.' }],
    };
    assert.equal(flightLine(unread, evaluation, icao), 'Left out: "gone.gpx" cannot be opened.');
    const whole = evaluation.result && {
      ...evaluation.result,
      leftOut: [{ file: read.file, reason: 'dragging brakes', by: 'pilot' as const }],
    };
    assert.equal(flightLine(read, { ...evaluation, result: whole }, icao), 'Left out: dragging brakes');
  });

  it('shows the findings of a flight with what was left out of it', () => {
    const read = flights.find(
      ({ analysis }) => analysis !== undefined && analysis.takeoffs.length > 0,
    ) as EvaluatedFlight;
    const text = flightFindings(read, evaluation, icao);
    assert.match(text, /Ground roll/);
    for (const { reason } of leftOutOf(read.file, evaluation)) assert.ok(text.includes(reason));
  });
});
