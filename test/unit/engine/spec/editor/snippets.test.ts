import assert from 'node:assert/strict';
import { snippetsAt } from '../../../../../src/engine/spec/editor/index.ts';
import { parseSpec } from '../../../../../src/engine/spec/parse.ts';
import { goodSpec } from '../good-spec.ts';
import { marked } from './marked.ts';

/** What the editor makes of a snippet when one only presses Tab, indented as its first line. */
function filled(body: string, indent: string): string {
  return body
    .replace(/\$\{\d+:((?:\\.|[^}\\])*)\}/g, '$1')
    .replace(/\$\{\d+\|((?:\\.|[^|\\])*)\|\}/g, (_, choices: string) => choices.split(',')[0].replace(/\\(.)/g, '$1'))
    .replace(/\$0/g, '')
    .replace(/\n/g, `\n${indent}`);
}

function inserted(markedText: string, label: string): string {
  const { text, line, column } = marked(markedText);
  const snippet = snippetsAt(text, line, column).find((one) => one.label === label);
  assert.ok(
    snippet,
    `${label} is not among ${snippetsAt(text, line, column)
      .map((one) => one.label)
      .join(', ')}`,
  );
  const lines = text.split('\n');
  const own = lines[line - 1];
  const indent = /^\s*/.exec(own)?.[0] ?? '';
  lines[line - 1] = own.slice(0, snippet.from - 1) + filled(snippet.body, indent) + own.slice(snippet.to - 1);
  return lines.join('\n');
}

function noErrors(text: string): void {
  const errors = parseSpec(text, 'x').problems.filter(({ severity }) => severity === 'error');
  assert.deepEqual(errors, [], text);
}

describe('ready-made blocks', () => {
  it('make a spec that is understood as they stand', () => {
    const enough = goodSpec
      .replace('before: { ', 'before: { empty-arm: 400 mm, ')
      .replace('after: { ', 'after: { empty-arm: 400 mm, ')
      .replace(
        'usable-fuel: 120 L',
        'usable-fuel: 120 L\n  propeller-diameter: 1.9 m\n  rated-power: 100 hp\n  wing-span: 10 m',
      );
    // With two airfields a flight has to say at which it was.
    const placed = enough
      .replaceAll('    runway:', '    airfield: Oyster Flats\n    runway:')
      .replaceAll('deg magnetic', 'deg');
    for (const [where, labels] of [
      ['exclude:\n', ['flight', 'flights of a folder']],
      ['airfields:\n', ['configuration']],
      ['days:\n', ['airfield']],
      ['flights:\n', ['day']],
    ] as const) {
      for (const label of labels) noErrors(inserted(placed.replace(`\n${where}`, `\n  |\n${where}`), label));
    }
    noErrors(
      inserted(enough.replace('\nreference:', '\n  - |\nreference:'), 'exclude').replace(
        'flights/flight.gpx',
        'tracks/a.gpx',
      ),
    );
    for (const label of ['loading', 'candidates', 'missions: strip', 'missions: leg', 'missions: climb needed'])
      noErrors(inserted(`${enough}|`, label));
    const missions = inserted(`${enough}|`, 'missions: leg');
    for (const label of ['strip', 'leg', 'climb needed']) noErrors(inserted(`${missions}\n  - |`, label));
    const candidates = inserted(`${enough}|`, 'candidates');
    noErrors(inserted(`${candidates}\n  |`, 'candidate').replace('  next:', '  first:'));
  });

  it('make the sections around the flights, and entries inside them', () => {
    const enough = goodSpec
      .replace('before: { ', 'before: { empty-arm: 400 mm, ')
      .replace('after: { ', 'after: { empty-arm: 400 mm, ');
    const loading = inserted(`${enough}|`, 'loading');
    noErrors(inserted(loading.replace('  cases:', '    |\n  cases:'), 'station'));
    noErrors(inserted(loading.replace('  envelope:', '    |\n  envelope:'), 'loading case').replace('two up', 'alone'));
    const fuel = inserted(`${enough}|`, 'fuel');
    noErrors(fuel);
    for (const where of ['    |', '    - |']) noErrors(inserted(`${fuel}\n${where}`, 'cruise setting'));
    noErrors(inserted(`${fuel}\n  fills:\n    |`, 'fill'));
    noErrors(inserted(`${fuel}\n  fills:\n    - |`, 'fill'));
    noErrors(inserted(`${enough}|`, 'plan'));
    noErrors(inserted(enough.replace('\nairfields:\n', '\n  |\nairfields:\n'), 'configuration with a setting'));
  });

  it('offer what belongs there and nothing else', () => {
    const at = (text: string): readonly string[] => {
      const { text: plain, line, column } = marked(text);
      return snippetsAt(plain, line, column).map(({ label }) => label);
    };
    assert.deepEqual(at(`${goodSpec}fuel:\n  cruise:\n    - |`), ['cruise setting']);
    assert.deepEqual(at(`${goodSpec}fuel:\n  fills:\n    |`), ['fill']);
    assert.deepEqual(at(`${goodSpec}fuel:\n  |`), []);
    assert.deepEqual(at(`${goodSpec}loading:\n  stations:\n    |`), ['station']);
  });

  it('know the names of the file', () => {
    const { text, line, column } = marked(goodSpec.replace('\nexclude:', '\n  |\nexclude:'));
    const flight = snippetsAt(text, line, column).find(({ label }) => label === 'flight');
    assert.match(flight?.body ?? '', /configuration: \$\{2\|before,after\|\}/);
    assert.match(flight?.body ?? '', /runway: \$\{3\|"13","31"\|\}/);
  });

  it('stay away from values, braces and sections that are there', () => {
    const at = (text: string): readonly string[] => {
      const { text: plain, line, column } = marked(text);
      return snippetsAt(plain, line, column).map(({ label }) => label);
    };
    assert.deepEqual(at(goodSpec.replace('weight: 720 kg', 'weight: |')), []);
    assert.deepEqual(at(goodSpec.replace('after: { empty', 'after: { |, empty')), []);
    assert.ok(
      !at(`${goodSpec}missions:\n  - { leg: a, distance: 10 NM, payload: 1 kg }\n|`).some((label) =>
        label.startsWith('missions'),
      ),
    );
    assert.deepEqual(at(goodSpec.replace('    weight: 720 kg\n', '    |\n')), []);
  });
});
