import assert from 'node:assert/strict';
import {
  insertBetweenMarkers,
  madeFrom,
  outOfDate,
  reportAsFile,
  writeReport,
} from '../../../../src/engine/report/index.ts';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import type { Evaluation } from '../../../../src/engine/evaluate/index.ts';
import { inventedEvaluation } from './invented-evaluation.ts';

function withCorrections(): Evaluation {
  const evaluation = inventedEvaluation();
  const [first, ...rest] = evaluation.provenance.recordings;
  const recordings = [{ ...first, correctionsSha256: 'c'.repeat(64) }, ...rest];
  return { ...evaluation, provenance: { ...evaluation.provenance, recordings } };
}

describe('what a report was made from', () => {
  it('is read back from the report, by itself and inside notes', async () => {
    const evaluation = withCorrections();
    const { provenance } = evaluation;
    const file = await reportAsFile('report.md', evaluation, displayUnitSets.icao);
    const expected = {
      engineVersion: provenance.engineVersion,
      specSha256: provenance.specSha256,
      recordings: provenance.recordings.map(({ sha256, correctionsSha256 }) => ({
        sha256,
        ...(correctionsSha256 === undefined ? {} : { correctionsSha256 }),
      })),
    };
    assert.ok(expected.recordings.length > 2);
    assert.deepEqual(madeFrom(file.markdown), expected);
    const notes = '# Mine\r\n<!-- modproof:begin -->\r\n<!-- modproof:end -->\r\nmy words\r\n';
    const { markdown } = writeReport(evaluation, { figureFolder: 'x', topLevel: 2 });
    assert.deepEqual(madeFrom(insertBetweenMarkers(notes, markdown)), expected);
    assert.equal(madeFrom('# Mine\n'), undefined);
  });

  it('tells why a report is out of date', () => {
    const made = { engineVersion: '1', specSha256: 'a', recordings: [{ sha256: 'x' }, { sha256: 'y' }] };
    assert.equal(outOfDate(made, { ...made, recordings: [{ sha256: 'y' }, { sha256: 'x' }] }), undefined);
    assert.match(outOfDate(made, { ...made, specSha256: 'b' }) ?? '', /comparison/);
    assert.match(outOfDate(made, { ...made, recordings: [{ sha256: 'x' }] }) ?? '', /recording/);
    const corrected = [{ sha256: 'x', correctionsSha256: 'z' }, { sha256: 'y' }];
    assert.match(outOfDate(made, { ...made, recordings: corrected }) ?? '', /corrections/);
    assert.match(outOfDate(made, { ...made, engineVersion: '2' }) ?? '', /version 1/);
  });
});
