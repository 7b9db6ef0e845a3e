import assert from 'node:assert/strict';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { comparisonJson } from '../../../../src/cli/compare-json.ts';
import { comparisonText } from '../../../../src/cli/compare-text.ts';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import { headline, missionsSection, type Report, writeReport } from '../../../../src/engine/report/index.ts';
import { metricOf, severalEvaluation } from './several-results.ts';

const request = { figureFolder: 'figures' };

function figure({ figures }: Report, name: string): string {
  const found = figures.find(({ path }) => path === `figures/${name}.svg`);
  assert.ok(found, name);
  return found.svg;
}

function between(text: string, from: string, to: string): string[] {
  const lines = text.split('\n');
  return lines.slice(lines.indexOf(from) + 1, lines.indexOf(to));
}

describe('the report of three configurations', () => {
  const report = writeReport(severalEvaluation(), request);
  const { markdown } = report;

  it('puts the means side by side under the right names, with their settings', () => {
    assert.match(markdown, /^\| Question \| a, 14 deg \(baseline\) \| b, 16\.5 deg \| c \\\| x, 19 deg \|$/m);
    assert.match(markdown, /^\| \*\*Ground roll\*\*, at equal weight \| 200 m .* \| 222 m .* \| 260 m .* \|$/m);
  });

  it('has one row a pair and metric, with a column a footing', () => {
    assert.match(
      markdown,
      /^\| Question \| Compared \| Change at equal weight \| Change at equal load \| Plain averages \|$/m,
    );
    const rows = markdown.split('\n').filter((line) => / against /.test(line) && line.startsWith('|'));
    assert.equal(rows.length, 9, 'three metrics of three pairs');
    assert.match(rows[2], /\*\*Ground roll\*\* \| c \\\| x against b \| \+17 % .*: \*\*longer \(worse\)\*\* \|/);
    // What was not asked on a footing has a dash there.
    assert.match(rows[8], /no difference shown \| - \| - \|$/);
  });

  it('says how they stand to each other once a question, and no more than is shown', () => {
    const bullets = between(markdown, '## Answer', '## The configurations side by side').filter((line) =>
      /^ *- /.test(line),
    );
    assert.equal(
      bullets[0],
      '- **Ground roll at equal weight and at equal load:** shorter with "a" than with "c \\| x", shorter with "b" than with "c \\| x". Not told apart: "a" and "b".',
    );
    // All pairs of the primary question, those with the baseline of the two others.
    assert.equal(bullets.filter((line) => line.startsWith('  - ')).length, 3 + 2 + 2);
  });

  it('tells the trade in words and draws it, readable without colour and without sight', () => {
    const told = between(markdown, '## The configurations side by side', '### Against blade angle');
    assert.ok(
      told.includes(
        '- Between "a" and "c \\| x" it is a trade: "a" is shown better in ground roll and rate of climb, "c \\| x" in level speed.',
      ),
      told.join('\n'),
    );
    const svg = figure(report, 'trade');
    assert.equal(XMLValidator.validate(svg), true);
    const parsed = new XMLParser({ ignoreAttributes: false }).parse(svg) as { svg: Record<string, string> };
    assert.equal(parsed.svg['@_role'], 'img');
    const description = (parsed.svg.desc as unknown as { '#text': string })['#text'];
    assert.match(description, /it is a trade/);
    assert.match(description, /Level speed at equal weight: a 97 kt/);
    // Two panels, each with the name of every configuration beside its symbol; and once in the legend.
    for (const id of ['a', 'b', 'c | x']) assert.equal(svg.split(`>${id}</text>`).length - 1, 3, id);
    assert.match(svg, /Bars that overlap do not mean that two are alike/);
    assert.match(svg, /prefers-color-scheme:dark/);
    assert.doesNotMatch(svg, /NaN|undefined/);
  });

  it('draws metrics against the setting, with a line only where one is fitted, and claims no best setting', () => {
    const along = between(markdown, '### Against blade angle', '## Ground roll');
    assert.ok(
      along.includes(
        '- Ground roll at equal weight: +5.4 % (+3.1 to +7.7) per deg over 14 to 19 deg, taken as constant through 3 settings.',
      ),
      along.join('\n'),
    );
    assert.doesNotMatch(along.join(' '), /best/);
    const svg = figure(report, 'against-setting');
    assert.equal(XMLValidator.validate(svg), true);
    assert.equal(svg.split('stroke-dasharray="6 5"').length - 1, 1);
    // The axis has the settings that were flown.
    for (const tick of ['14.0', '16.5', '19.0']) assert.equal(svg.split(`>${tick}</text>`).length - 1, 3, tick);
    assert.doesNotMatch(svg, /NaN|undefined/);
  });

  it('a middle setting is called better than its neighbours only where both are shown worse', () => {
    const evaluation = severalEvaluation();
    const [roll] = evaluation.result?.metrics ?? [];
    const peaked = {
      ...roll,
      changes: roll.changes.map((change, index) => ({
        ...change,
        verdict: (['shorter', 'no difference shown', 'longer'] as const)[index],
      })),
    };
    const again = writeReport(
      { ...evaluation, result: { title: '', leftOut: [], problems: [], metrics: [peaked] } },
      request,
    );
    assert.match(
      again.markdown,
      /"b" \(16\.5 deg\) is shown better than the settings on both sides of it; where between them the best one lies, 3 settings do not tell/,
    );
  });

  it('does not tell an altitude that every comparison refuses as a guess', () => {
    const evaluation = severalEvaluation();
    const few = 'too few flights';
    const held = metricOf('climb-held-to', { a: 1500, b: 1600, 'c | x': 9000 }, [
      { from: 'a', to: 'b', verdict: 'no difference shown' },
      { from: 'a', to: 'c | x', verdict: few },
      { from: 'b', to: 'c | x', verdict: few },
    ]);
    const result = { title: '', leftOut: [], problems: [], metrics: [held] };
    const again = writeReport({ ...evaluation, result }, request).markdown;
    assert.match(again, /^\| Climb held to, .*\| 4920 ft .* \| 5250 ft .* \| - \|$/m);
    assert.doesNotMatch(again, /295[23]\d/, 'nor in the table of the runs');
    assert.doesNotMatch(comparisonText({ ...evaluation, result }, displayUnitSets.icao), /295[23]\d ft/);
    // Both pairs with "c | x" say why with one and the same sentence.
    const sentences = again.split('\n').filter((line) => /^ *- .*too few flights/i.test(line));
    assert.equal(sentences.length, new Set(sentences).size);
  });

  it('leaves the trade out where it is not wanted', () => {
    assert.doesNotMatch(
      writeReport(
        severalEvaluation((text) => `${text}report: { trade: false }\n`),
        request,
      ).markdown,
      /it is a trade/,
    );
  });

  it('says how several are compared, and how a slope comes about', () => {
    assert.match(markdown, /Every configuration is compared with every other; all of these pairs count/);
    assert.match(markdown, /Along a setting\. Least squares through the means/);
  });

  it('against the baseline only: no order, no standing, and the headline says so', () => {
    const evaluation = severalEvaluation((text) => `${text}reference: { pairs: against-baseline }\n`);
    const { result } = evaluation;
    assert.ok(result);
    const metrics = result.metrics.map((metric) => ({
      ...metric,
      changes: metric.changes.filter(({ from }) => from === 'a'),
    }));
    const only = { ...evaluation, result: { ...result, metrics } };
    assert.equal(headline(only, displayUnitSets.icao), 'Ground roll: 1 of 2 shown to differ from a');
    const told = writeReport(only, request).markdown;
    assert.match(told, /compared with the baseline only, as the comparison asks/);
    assert.doesNotMatch(told, /Not told apart|every step is shown/);
    assert.equal(told.split('\n').filter((line) => / against /.test(line) && line.startsWith('|')).length, 6);
  });

  it('draws no panel of two metrics that fewer than two configurations have in common', () => {
    const few = 'too few flights';
    const none = 'no difference shown';
    const known = (metric: string, known: 'ab' | 'bc') =>
      metricOf(metric, { a: 200, b: 210, 'c | x': 220 }, [
        { from: 'a', to: 'b', verdict: known === 'ab' ? none : few },
        { from: 'a', to: 'c | x', verdict: few },
        { from: 'b', to: 'c | x', verdict: known === 'bc' ? none : few },
      ]);
    const metrics = [known('ground-roll', 'ab'), known('level-speed', 'bc'), known('rate-of-climb', 'bc')];
    const result = { title: '', leftOut: [], problems: [], metrics };
    const again = writeReport({ ...severalEvaluation(), result }, request);
    assert.ok(again.figures.every(({ path }) => !path.endsWith('/trade.svg')));
  });

  it('the headline names a configuration only where it is shown best', () => {
    const evaluation = severalEvaluation();
    assert.equal(headline(evaluation, displayUnitSets.icao), 'Ground roll: no single best shown');
    const [roll] = evaluation.result?.metrics ?? [];
    const changes = roll.changes.map((change) => ({ ...change, verdict: 'longer' as const }));
    const clear = { title: '', leftOut: [], problems: [], metrics: [{ ...roll, changes }] };
    assert.equal(headline({ ...evaluation, result: clear }, displayUnitSets.icao), 'Ground roll: best with a');
  });
});

describe('three configurations on a terminal and for machines', () => {
  it('the terminal has both tables, the standing and the trade', () => {
    const text = comparisonText(severalEvaluation(), displayUnitSets.icao);
    assert.match(text, /a, 14 deg +b, 16\.5 deg +c \| x, 19 deg/);
    assert.match(text, /\* Ground roll, at equal weight +b against a +\+11 %/);
    assert.match(text, /- Ground roll at equal weight and at equal load: shorter with "a" than with "c \| x"/);
    assert.match(text, /- Between "a" and "c \| x" it is a trade/);
  });

  it('JSON holds the numbers of all of it', () => {
    const json = comparisonJson(severalEvaluation()) as {
      configurations: unknown[];
      metrics: { standing?: unknown; alongSetting?: unknown }[];
      trade: { metrics: { metric: string; means: { id: string }[] }[]; exchanges: unknown[]; leader?: string };
    };
    assert.deepEqual(json.configurations[1], {
      id: 'b',
      baseline: false,
      setting: { of: 'blade angle', value: 16.5, unit: 'deg' },
    });
    assert.deepEqual(json.metrics[0].standing, {
      order: ['a', 'b', 'c | x'],
      unbeaten: ['a', 'b'],
      sentence: 'shorter with "a" than with "c | x", shorter with "b" than with "c | x". Not told apart: "a" and "b".',
    });
    assert.deepEqual((json.metrics[0].alongSetting as { slope: unknown }).slope, { value: 5.4, low: 3.1, high: 7.7 });
    assert.deepEqual(
      json.trade.metrics.map(({ metric, means }) => [metric, means.length]),
      [
        ['ground-roll', 3],
        ['rate-of-climb', 3],
        ['level-speed', 3],
      ],
    );
    assert.deepEqual(json.trade.exchanges, [
      { between: ['a', 'c | x'], firstBetter: ['ground-roll', 'rate-of-climb'], secondBetter: ['level-speed'] },
    ]);
    // Shown shorter and climbing better than the coarse one, faster than the fine one, and worse in nothing.
    assert.equal(json.trade.leader, 'b');
  });
});

describe('missions at a glance', () => {
  const one = (need: string, configuration: string, answer: 'yes' | 'no' | 'not enough data', margin?: number) => ({
    need,
    kind: 'strip' as const,
    configuration,
    answer,
    available: 500,
    ...(margin === undefined ? {} : { margin }),
    factors: [],
    why: [],
    predicted: configuration === 'next',
  });
  const context = { units: displayUnitSets.icao, heading: (level: number) => '#'.repeat(level), show: () => '' };

  it('says which configuration does each, with its margin, and which does all', () => {
    const text = missionsSection(
      [
        one('river bar', 'fine', 'yes', 120),
        one('river bar', 'coarse', 'no', -40),
        one('river bar', 'next', 'yes', 130),
        one('home', 'fine', 'yes', 60),
        one('home', 'coarse', 'not enough data'),
        one('home', 'next', 'no', -5),
      ],
      context,
    );
    assert.match(text, /^\| Mission \| fine \| coarse \| next \(predicted\) \|$/m);
    assert.match(text, /^\| river bar \| \*\*yes\*\*, \+120 m \| no, -40 m \| \*\*yes\*\*, \+130 m \|$/m);
    assert.match(
      text,
      /^- \*\*river bar:\*\* \*next\* \(predicted\) \(\+130 m\) and \*fine\* \(\+120 m\) do it; \*coarse\* \(-40 m\) does not\.$/m,
    );
    assert.match(text, /^- \*\*home:\*\* .* does it; .* does not; not enough data for \*coarse\*\.$/m);
    assert.match(text, /^\*fine\* does all 2 missions\.$/m);
  });

  it('where none does all, says how far each gets', () => {
    const text = missionsSection(
      [
        one('river bar', 'fine', 'yes', 120),
        one('river bar', 'coarse', 'no', -40),
        one('home', 'fine', 'not enough data'),
        one('home', 'coarse', 'yes', 5),
      ],
      context,
    );
    assert.match(
      text,
      /^No configuration is shown to do all 2 missions: \*fine\* does 1 \(1 without enough data\), \*coarse\* does 1\. Each of them is done by one configuration or another\.$/m,
    );
  });

  it('one configuration alone has no table at a glance', () => {
    assert.doesNotMatch(missionsSection([one('bar', 'plain', 'yes', 5)], context), /\| Mission \|/);
  });
});
