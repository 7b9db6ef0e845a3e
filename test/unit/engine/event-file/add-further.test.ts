import assert from 'node:assert/strict';
import { addFurther, type FurtherKey, parseFurther } from '../../../../src/engine/event-file/index.ts';
import { applyEdits, CannotEdit } from '../../../../src/engine/yaml-text/index.ts';

function added(text: string, file: string, key: FurtherKey = 'also-recorded-by', continuedIn: string[] = []): string {
  return applyEdits(text, addFurther(text, key, { file, continuedIn }, 'one.gpx'));
}

const files = (text: string): string[] =>
  (parseFurther(text, 'x').further?.alsoRecordedBy ?? []).map(({ file, continuedIn }) =>
    [file, ...continuedIn.map((part) => part.file)].join('+'),
  );

describe('one more recording in an event file', () => {
  it('is named in every form that can be added to, and all else stays as it was', () => {
    const rest = '# mine\ncorrections:\n  - lift-off: 2026-05-03T10:42:13.40Z # seen\n';
    assert.match(added('', 'log.csv'), /^# .*one\.gpx.*\nalso-recorded-by: log\.csv\n$/);
    for (const [before, after] of [
      [rest, ['log.csv']],
      [`${rest}also-recorded-by: a.csv # mine`, ['a.csv', 'log.csv']],
      [`also-recorded-by: [a.csv, { track: b.mp4 }] # mine\n${rest}`, ['a.csv', 'b.mp4', 'log.csv']],
      [
        `also-recorded-by:\n  - a.csv # mine\n  - track: b.mp4\n    clock-offset: 2 s\n${rest}`,
        ['a.csv', 'b.mp4', 'log.csv'],
      ],
      [`also-recorded-by: # to be filled\n${rest}`, ['log.csv']],
    ] as const) {
      const text = added(before, 'log.csv');
      assert.deepEqual(files(text), after, text);
      // What was there is there, in its order.
      let at = 0;
      for (const word of before.split(/\s+/).filter(Boolean)) {
        at = text.indexOf(word.replace(/[[\],]+$/, ''), at);
        assert.ok(at >= 0, `${word} is gone from ${text}`);
      }
    }
  });

  it('is written with its parts, and quoted where YAML wants it', () => {
    const text = added('also-recorded-by: a.csv\n', 'my, film.mp4', 'also-recorded-by', ['part 2.mp4']);
    assert.deepEqual(files(text), ['a.csv', 'my, film.mp4+part 2.mp4']);
    assert.deepEqual(files(added('', 'c: d.csv')), ['c: d.csv']);
  });

  it('changes nothing when it is named already, and is refused where it cannot be added', () => {
    for (const text of [
      'also-recorded-by: a.csv\n',
      'also-recorded-by: [a.csv]\n',
      'also-recorded-by:\n  - track: a.csv\n',
    ])
      assert.equal(added(text, 'a.csv'), text);
    for (const text of [
      'also-recorded-by: { track: a.csv }\n',
      'also-recorded-by: []\n',
      '{ corrections: [] }\n',
      'a: [\n',
    ])
      assert.throws(() => added(text, 'b.csv'), CannotEdit);
  });
});
