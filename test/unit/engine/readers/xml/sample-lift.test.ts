import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { SampleLift, type SampleSink } from '../../../../../src/engine/readers/xml/sample-lift.ts';
import { parseSkeleton } from '../../../../../src/engine/readers/xml/skeleton.ts';

interface Lifted {
  readonly events: string[];
  readonly skeleton: string;
  readonly problems: [string, number | undefined][];
}

/** Lifts `p` (with children) and `w` (text alone) out of a text that arrives in pieces of a length. */
function lift(text: string, pieceLength = text.length): Lifted {
  const events: string[] = [];
  const decode = (bytes: Uint8Array, start: number, end: number): string =>
    new TextDecoder().decode(bytes.subarray(start, end));
  let group: string[] = [];
  const sink: SampleSink = {
    groups: new Set(['p']),
    leaves: new Set(['w']),
    startRun: () => events.push('run'),
    line: () => 0,
    startGroup: (name) => (group = [`<${name}@${sink.line()}`]),
    attribute: (name, bytes, start, end) => group.push(`${name}=${decode(bytes, start, end)}`),
    leaf: (name, bytes, start, end) => (name === 'w' ? events : group).push(`${name}:${decode(bytes, start, end)}`),
    endGroup: (name) => events.push(...group, `${name}>`),
  };
  const problems = new ProblemList('x');
  const lifting = new SampleLift(sink, problems);
  const bytes = new TextEncoder().encode(text);
  for (let at = 0; at < bytes.length && !lifting.refused; at += Math.max(1, pieceLength)) {
    lifting.push(bytes.slice(at, at + pieceLength));
  }
  const skeleton = lifting.end();
  return { events, skeleton, problems: problems.toArray().map(({ code, at }) => [code, at?.line]) };
}

describe('SampleLift', () => {
  const ordinary =
    '<?xml version="1.0"?>\n<g a="1>2"><!-- <p lat="9"/> -->\n<t><n>name</n>\n' +
    '<p lat="1" lon=\'2\'><e>3</e><x:time>4</x:time></p>\n  <p lat="5"/>\n<n>again</n><w>6</w><w/></t></g>\n';
  const events = ['run', '<p@4', 'lat=1', 'lon=2', 'e:3', 'time:4', 'p>', '<p@5', 'lat=5', 'p>', 'run', 'w:6', 'w:'];

  it('hands out samples and keeps the rest with markers in their place', () => {
    const { events: seen, skeleton, problems } = lift(ordinary);
    assert.deepEqual(seen, events);
    assert.equal(
      skeleton,
      '<g a="1>2"><t><n>name</n><lifted-samples n="0"/><n>again</n><lifted-samples n="1"/></t></g>',
    );
    assert.deepEqual(problems, []);
  });

  it('does the same wherever the pieces are cut', () => {
    for (let length = 1; length < 60; length++) {
      const { events: seen, skeleton, problems } = lift(ordinary, length);
      assert.deepEqual([seen, problems], [events, []], `pieces of ${length}`);
      assert.equal(skeleton, lift(ordinary).skeleton);
    }
  });

  it('is not misled by comments, CDATA and instructions inside samples', () => {
    const text =
      '<g><p lat="1"><!-- </p><e>0</e> --><e><![CDATA[2 < 3]]></e><?x <f>0</f> ?><f>4</f></p><w>5<!-- 6 --></w></g>';
    for (const length of [text.length, 1, 7]) {
      assert.deepEqual(lift(text, length).events, ['run', '<p@1', 'lat=1', 'e:2 < 3', 'f:4', 'p>', 'w:5']);
    }
    const outside = lift('<g><d><![CDATA[<p lat="1"/>]]></d><!--<w>1</w>--></g>');
    assert.deepEqual(outside.events, []);
    assert.equal(parseSkeleton(outside.skeleton)[0].children[0].name, 'd');
  });

  it('gives only leaves of a group, however they are nested', () => {
    assert.deepEqual(lift('<g><p><a><b><c>1</c></b></a><d>2</d> x <e/></p></g>').events, [
      'run',
      '<p@1',
      'c:1',
      'd:2',
      'p>',
    ]);
  });

  it('knows an element by its local name and ends it at its own end tag', () => {
    assert.deepEqual(lift('<g><x:p lat="1"><pp>2</pp></x:p ><q:w>3</q:w></g>').events, [
      'run',
      '<p@1',
      'lat=1',
      'pp:2',
      'p>',
      'w:3',
    ]);
  });

  it('reads what comes before a cut, closes the skeleton, and reports the cut', () => {
    const cut = lift('<g>\n<t>\n<p lat="1"><e>2</e></p>\n<p lat="3"><e>4');
    assert.deepEqual(cut.events, ['run', '<p@3', 'lat=1', 'e:2', 'p>']);
    assert.equal(cut.skeleton, '<g><t><lifted-samples n="0"/></t></g>');
    assert.deepEqual(cut.problems, [['file-cut-short', 4]]);
    for (const text of ['<g', '<g><!-- x', '<g><![CDATA[ x', '<g>text', '<g><?x', '<g></']) {
      assert.deepEqual(
        lift(text).problems.map(([code]) => code),
        ['file-cut-short'],
        text,
      );
    }
  });

  it('goes on where end tags are missing or do not match', () => {
    const missing = lift('<g>\n<p lat="1"><e>2</e>\n<p lat="3"><e>4</e></p></g>');
    assert.deepEqual(missing.events, ['run', '<p@2', 'lat=1', 'e:2', 'p>', '<p@3', 'lat=3', 'e:4', 'p>']);
    assert.deepEqual(missing.problems, [['xml-bad-structure', 3]]);
    const crossed = lift('<g><a>\n<b><w>1</w></a></b></g>');
    assert.equal(crossed.skeleton, '<g><a><b><lifted-samples n="0"/></b></a></g>');
    assert.deepEqual(crossed.problems, [['xml-bad-structure', 2]]);
    assert.deepEqual(lift('<g>\n</h>\n<p lat="1"/></g>\n</g>').problems, [['xml-bad-structure', 2]]);
  });

  it('refuses a document type, and with it every entity bomb', () => {
    const bomb =
      '<?xml version="1.0"?>\n<!DOCTYPE g [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>\n<g><w>&b;</w></g>';
    const { events: seen, problems } = lift(bomb);
    assert.deepEqual(seen, []);
    assert.deepEqual(problems, [['xml-doctype', 2]]);
  });

  it('refuses nesting, tokens and skeletons beyond any recording', () => {
    assert.deepEqual(
      lift('<a>'.repeat(50_000)).problems.map(([code]) => code),
      ['xml-too-deep'],
    );
    assert.deepEqual(
      lift(`<g><w>${'1'.repeat(40_000_000)}</w></g>`, 1_048_576).problems.map(([code]) => code),
      ['xml-too-large'],
    );
    assert.deepEqual(
      lift(`<g>${`<n>${'name'.repeat(1000)}</n>`.repeat(5000)}</g>`, 1_048_576).problems.map(([code]) => code),
      ['xml-too-large'],
    );
  });

  it('takes time in proportion to the size, also for files made to be slow', () => {
    const start = process.hrtime.bigint();
    lift(`<g>${'<p lat="1">'.repeat(100_000)}</p></g>`, 1_048_576);
    lift(`<g>${'<p lat="1"><e>2</e>\n'.repeat(100_000)}</p></g>`, 1_048_576);
    lift(`<g>${'<p lat="1"><!-- x --></p>'.repeat(100_000)}</g>`, 1_048_576);
    lift(`<g ${'a="1" '.repeat(100_000)}><p ${'b="1" '.repeat(100_000)}/></g>`, 1_048_576);
    lift('<g><'.repeat(50_000), 1000);
    const spentMs = Number(process.hrtime.bigint() - start) / 1e6;
    assert.ok(spentMs < 10_000, `${spentMs} ms`);
  });
});

describe('parseSkeleton', () => {
  it('gives elements in order, without prefixes, entities decoded', () => {
    const [root] = parseSkeleton(
      '<k:kml xmlns:k="u"><k:n a="1 &amp; 2">A &lt;b&gt; &#233;&#x41; &unknown;</k:n><lifted-samples n="3"/><m/></k:kml>',
    );
    assert.equal(root.name, 'kml');
    assert.deepEqual(
      root.children.map(({ name }) => name),
      ['n', 'lifted-samples', 'm'],
    );
    assert.equal(root.children[0].text, 'A <b> éA &unknown;');
    assert.equal(root.children[0].attributes.a, '1 & 2');
    assert.equal(root.children[1].run, 3);
    assert.equal(root.children[2].run, undefined);
  });

  it('keeps numbers in names as text and pollutes nothing', () => {
    const [root] = parseSkeleton('<g><n>007</n></g>');
    assert.equal(root.children[0].text, '007');
    assert.throws(() => parseSkeleton('<g><__proto__><polluted>1</polluted></__proto__></g>'), /reserved/);
    assert.equal(({} as Record<string, unknown>).polluted, undefined);
  });
});
