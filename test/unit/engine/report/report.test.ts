import assert from 'node:assert/strict';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { XMLValidator } from 'fast-xml-parser';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import { figureFolderOf, writeReport } from '../../../../src/engine/report/index.ts';
import { inventedEvaluation } from './invented-evaluation.ts';

const golden = 'test/fixtures/report/invented.md';
const request = { figureFolder: 'invented-figures' };

describe('report', () => {
  const report = writeReport(inventedEvaluation(), request);

  it('is, byte for byte, the one that was looked at (MODPROOF_GOLDEN=write renews it)', () => {
    const figure = report.figures.find(({ path }) => path.endsWith('/changes.svg'));
    assert.ok(figure);
    if (process.env.MODPROOF_GOLDEN === 'write') {
      mkdirSync('test/fixtures/report/invented-figures', { recursive: true });
      writeFileSync(golden, report.markdown);
      writeFileSync(`test/fixtures/report/${figure.path}`, figure.svg);
    }
    assert.equal(report.markdown, readFileSync(golden, 'utf8'));
    assert.equal(figure.svg, readFileSync(`test/fixtures/report/${figure.path}`, 'utf8'));
  });

  it('gives the same bytes twice', () => {
    assert.deepEqual(writeReport(inventedEvaluation(), request), report);
  });

  it('answers first: one table, then a sentence for each question, before any detail', () => {
    const lines = report.markdown.split('\n');
    const bullets = lines
      .slice(lines.indexOf('## Answer'), lines.indexOf('## Ground roll'))
      .filter((line) => line.startsWith('- '));
    assert.equal(bullets.length, 3, 'one a question');
    assert.match(bullets[0], /^- \*\*Ground roll at equal weight:\*\* shorter with "after" than with "before"\./);
    assert.match(bullets[0], /At equal load: no difference shown, -4 % \(-11 to \+3\)\./);
    assert.match(bullets[0], /The plain averages of what was flown differ by \+6\.6 %/);
    assert.match(report.markdown, /"No difference shown" is not the same as no difference/);
    assert.match(report.markdown, /the sentences give the level/);
  });

  it('shows the raw value, each correction and the warning beside each corrected value', () => {
    assert.match(
      report.markdown,
      /\| 2024-04-15 \| `b1\.gpx` \| after \| 689 \(668 to 710\) \| ×0\.949 \| ×0\.980\u00a0! \| 641 \(596 to 686\) \| 641 \(596 to 686\) \| 100 % \| It was hot\. \|/,
    );
    assert.match(report.markdown, /"!" marks a correction of more than 10 %/);
    assert.match(report.markdown, /`a1\.gpx` no\. 2 [^\n]*Stands out: longer than the rest of its day\./);
    assert.match(report.markdown, /`b2\.gpx` [^\n]*\| 50 % \| Stands out/);
  });

  it('puts the cautions of an answer under its heading, each once', () => {
    const [, section] = /\n## Ground roll\n([\s\S]*?)\n## /.exec(report.markdown) ?? [];
    assert.equal(section.match(/the density altitudes hardly overlap/g)?.length, 1);
    assert.match(section, /- the density altitudes hardly overlap \(at equal weight\)/);
  });

  it('says what was not noted, what was left out and by whom', () => {
    assert.match(
      report.markdown,
      /\| 2024-04-14 \| `a2\.gpx` \| before \|[^\n]*not noted \| - \| not noted \| not noted/,
    );
    assert.match(report.markdown, /\| `b2\.gpx` \| all \| the pilot \| brakes dragged \|/);
    assert.match(report.markdown, /\| `a2\.gpx` no\. 2 \| rate-of-climb \| the engine \|/);
  });

  it('takes words of the pilot as text, never as markup', () => {
    assert.match(report.markdown, /saw \\\*geese\\\*/);
    assert.match(report.markdown, /fairings \\\| on/);
  });

  it('keeps every table rectangular', () => {
    const rows = report.markdown.split('\n').filter((line) => line.startsWith('|'));
    assert.ok(rows.length > 30);
    let width = 0;
    report.markdown.split('\n').forEach((line, index, all) => {
      if (!line.startsWith('|')) return;
      const cells = line.replace(/\\\|/g, '').split('|').length;
      if (!(all[index - 1] ?? '').startsWith('|')) width = cells;
      assert.equal(cells, width, line);
    });
  });

  it('links each figure that it gives, and only those', () => {
    const linked = [...report.markdown.matchAll(/\]\(([^)]+\.svg)\)/g)].map((match) => match[1]);
    assert.deepEqual(linked.sort(), report.figures.map(({ path }) => path).sort());
    assert.equal(report.figures.length, 6);
  });

  it('draws figures that are well-formed, named, and hold no number that is none', () => {
    for (const { path, svg } of report.figures) {
      assert.equal(XMLValidator.validate(svg), true, path);
      assert.match(svg, /role="img" aria-labelledby="title desc"/);
      assert.match(svg, /<title id="title">[^<]{10,}<\/title>\n<desc id="desc">[^<]{20,}<\/desc>/);
      assert.doesNotMatch(svg, /NaN|Infinity|undefined|"-"|-0"/, path);
      assert.doesNotMatch(svg, /https?:\/\/(?!www\.w3\.org\/2000\/svg)|<script|href=/, path);
      assert.match(svg, /prefers-color-scheme:dark/);
      assert.doesNotMatch(svg, /\d\.\d{3,}(?=[" ])/, `${path}: more decimals than a screen shows`);
    }
  });

  it('tells configurations apart by symbol and dashes, not by colour alone', () => {
    const runs = report.figures.find(({ path }) => path.endsWith('/ground-roll.svg'))?.svg ?? '';
    const [before, after] = ['c0', 'c1'].map((name) =>
      runs
        .split('<g class="')
        .filter((part) => part.startsWith(`${name}"`))
        .join(''),
    );
    assert.ok(before.includes('<circle') && !before.includes('stroke-dasharray'));
    assert.ok(after.includes('stroke-dasharray') && !after.includes('<circle'));
  });

  it('shows other units when asked', () => {
    const metric = writeReport(inventedEvaluation(), { ...request, units: displayUnitSets.metric });
    assert.match(metric.markdown, /Distance over 15 m/);
    assert.match(metric.markdown, /217 m \(206 to 228\)/);
    assert.doesNotMatch(metric.markdown, /\d (?:ft|kt|lb)\b(?! and a fifth)/);
  });

  it('hides places when asked: names of files, airfields and notes', () => {
    const hidden = writeReport(
      inventedEvaluation((text) =>
        text.replace('report: { units: us }', 'report: { units: us, hide-positions: true }'),
      ),
      request,
    ).markdown;
    assert.doesNotMatch(hidden, /Oyster|\.gpx|geese|12\.3456/);
    assert.match(hidden, /`flight 1`/);
    assert.match(hidden, /airfield 1/);
  });

  it('hides an airfield that is named in the title or in a description', () => {
    const hidden = writeReport(
      inventedEvaluation((text) =>
        text
          .replace('report: { units: us }', 'report: { units: us, hide-positions: true }')
          .replace('as it was', 'as it was at Oyster Flats')
          .replace(/title: .*/, 'title: A summer at Oyster Flats'),
      ),
      request,
    ).markdown;
    assert.doesNotMatch(hidden, /Oyster/);
    assert.match(hidden, /: as it was at airfield 1 \(/);
    assert.match(hidden, /^# A summer at airfield 1\n/);
  });

  it('draws nothing when no figures are wanted', () => {
    const bare = writeReport(
      inventedEvaluation((text) => text.replace('report: { units: us }', 'report: { figures: false }')),
      request,
    );
    assert.deepEqual(bare.figures, []);
    assert.doesNotMatch(bare.markdown, /!\[/);
    assert.doesNotMatch(bare.markdown, /\n\n\n/);
  });

  it('stands one level lower inside other notes', () => {
    const inside = writeReport(inventedEvaluation(), { ...request, topLevel: 2 }).markdown;
    assert.match(inside, /^## Wheel fairings/);
    assert.match(inside, /\n### Answer\n/);
  });

  it('names the folder of figures after the report', () => {
    assert.equal(figureFolderOf('a/b/report.md'), 'report-figures');
    assert.equal(figureFolderOf('notes.de.md'), 'notes.de-figures');
  });

  it('refuses an evaluation without a result', () => {
    const { result: _, ...without } = inventedEvaluation();
    assert.throws(() => writeReport(without, request), RangeError);
  });
});
