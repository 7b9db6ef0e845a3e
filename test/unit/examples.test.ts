import assert from 'node:assert/strict';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { nodeWorld } from '../../src/cli/world-node.ts';
import { analyse } from '../../src/engine/analyse.ts';
import { compare } from '../../src/engine/compare/index.ts';
import type { Change } from '../../src/engine/compare/result.ts';
import { type Evaluation, evaluate } from '../../src/engine/evaluate/index.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import { reportAsFile } from '../../src/engine/report/index.ts';
import { droop, merrow } from '../synth/example-campaign.ts';
import { modified } from '../synth/modification.ts';
import { standardAnswers } from '../synth/standard-answers.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const specPath = 'examples/drooped-leading-edge.modproof.yaml';
const footM = 0.3048;

describe('examples', () => {
  let evaluation: Evaluation;

  before(async function () {
    this.timeout(120_000);
    const specText = readFileSync(join(root, specPath), 'utf8');
    evaluation = await evaluate({ specText, specPath, world: nodeWorld(root) }, { readRecording, analyse, compare });
  });

  function change(metric: string): Change {
    const found = evaluation.result?.metrics.find((one) => one.metric === metric && one.conditions === 'equal-weight');
    assert.ok(found?.changes[0]?.percent, metric);
    return found.changes[0];
  }

  it('every recording is read, and nothing is wrong with the notes but their hole', () => {
    assert.equal(evaluation.flights.length, 21);
    for (const flight of evaluation.flights) assert.ok(flight.analysis, flight.file);
    assert.deepEqual(
      evaluation.problems.filter((problem) => problem.severity === 'error'),
      [],
    );
    assert.deepEqual(
      evaluation.parsed.problems.map((problem) => problem.code),
      ['spec-blank'],
    );
  });

  it('one thing is better, one worse, one unchanged although the plain means deny it; each interval holds the truth', () => {
    const roll = change('ground-roll');
    assert.equal(roll.verdict, 'shorter');
    assert.ok((roll.naivePercent ?? 0) > 0, 'the plain means say longer');
    const climb = change('rate-of-climb');
    assert.equal(climb.verdict, 'equivalent');
    assert.ok((climb.naivePercent ?? 0) < -8, 'the plain means say that it climbs worse');
    assert.equal(change('level-speed').verdict, 'lower');

    const standard = {
      densityAltitudeM: 0,
      climbDensityAltitudeM: 1500 * footM,
      cruiseDensityAltitudeM: 2500 * footM,
      rollingFriction: 0.055,
      style: 'nosewheel',
      cruisePowerShare: 0.68,
      heldRateMps: 2.54,
    } as const;
    const plain = standardAnswers(merrow, 620, standard);
    const drooped = standardAnswers(modified(merrow, droop), 620, standard);
    for (const metric of ['ground-roll', 'distance-over-15m', 'rate-of-climb', 'level-speed'] as const) {
      const truth = 100 * (drooped[metric] / plain[metric] - 1);
      const said = change(metric).percent;
      assert.ok(said && said.low <= truth && truth <= said.high, `${metric}: ${truth} in ${JSON.stringify(said)}`);
    }
  });

  it('the committed report and figures are what the command writes today', async () => {
    const { spec } = evaluation;
    assert.ok(spec?.report.file);
    const target = join(root, dirname(specPath), spec.report.file);
    const report = await reportAsFile(target, evaluation, spec.report.units);
    const how = `run: npx tsx src/cli/main.ts compare ${specPath}`;
    assert.ok(existsSync(target), how);
    assert.equal(readFileSync(target, 'utf8'), report.markdown, how);
    for (const { path, svg } of report.figures) {
      assert.equal(readFileSync(join(dirname(target), path), 'utf8'), svg, `${path}: ${how}`);
    }
    const folder = join(dirname(target), dirname(report.figures[0].path));
    assert.equal(readdirSync(folder).length, report.figures.length, 'no figure of an older report is left');
  });
});
