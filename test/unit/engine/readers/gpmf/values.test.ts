import assert from 'node:assert/strict';
import { klvItems } from '../../../../../src/engine/readers/gpmf/klv.ts';
import { expandTypes, numberOf, rowsOf, utcOf } from '../../../../../src/engine/readers/gpmf/values.ts';
import { joined, numbers } from '../../../../synth/byte-parts.ts';
import { klv } from '../../../../synth/write-mp4.ts';

function firstItem(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer);
  const [item] = klvItems(view, 0, bytes.length, () => assert.fail('damage'));
  return { view, item };
}

describe('GPMF values', () => {
  // GPMF introduction, "Complex structures": arrays are written f[8].
  it('writes types with counts out', () => {
    assert.equal(expandTypes('lllllllSS'), 'lllllllSS');
    assert.equal(expandTypes('f[8]L'), 'ffffffffL');
    assert.equal(expandTypes('f[999]'), '');
    assert.equal(expandTypes('zz'), '');
  });

  // GPMF introduction, table "Current types": q is Q15.16, Q is Q31.32.
  it('reads fixed-point numbers', () => {
    const { view, item } = firstItem(klv('QNUM', 'q', 4, numbers('Int32', [-98_304, 65_536])));
    assert.deepEqual([...(rowsOf(view, item, '', [1])?.values ?? [])], [-1.5, 1]);
  });

  it('divides each element by its own divisor, and by one for all', () => {
    const { view, item } = firstItem(klv('XYZ1', 's', 4, numbers('Int16', [100, 200, 300, 400])));
    assert.deepEqual([...(rowsOf(view, item, '', [10, 100])?.values ?? [])], [10, 2, 30, 4]);
    assert.deepEqual([...(rowsOf(view, item, '', [10])?.values ?? [])], [10, 20, 30, 40]);
    assert.deepEqual(
      [...(rowsOf(view, item, '', [0])?.values ?? [])],
      [100, 200, 300, 400],
      'a divisor of 0 divides nothing',
    );
  });

  it('reads structures of several types, with text as missing', () => {
    const data = joined('SNOW', numbers('Float32', [0.5]), numbers('Uint16', [7]), [0xff, 0xfe]);
    const { view, item } = firstItem(klv('SCEN', '?', data.length, data));
    const rows = rowsOf(view, item, 'FfSbB', [1]);
    assert.deepEqual([...(rows?.values ?? [])], [Number.NaN, 0.5, 7, -1, 254]);
    assert.equal(rowsOf(view, item, 'dddd', [1]), undefined, 'types that do not fit into the structure');
  });

  it('reads the first number of each width', () => {
    for (const [type, bytes, expected] of [
      ['b', numbers('Int8', [-3]), -3],
      ['B', numbers('Uint8', [253]), 253],
      ['s', numbers('Int16', [-3000]), -3000],
      ['S', numbers('Uint16', [65_000]), 65_000],
      ['l', numbers('Int32', [-70_000]), -70_000],
      ['L', numbers('Uint32', [4_000_000_000]), 4_000_000_000],
      ['f', numbers('Float32', [0.25]), 0.25],
      ['d', numbers('Float64', [0.1]), 0.1],
      ['j', numbers('Uint32', [0xffffffff, 0xfffffffe]), -2],
      ['J', numbers('Uint32', [1, 2]), 2 ** 32 + 2],
    ] as const) {
      const { view, item } = firstItem(klv('ANYX', type, bytes.length, bytes));
      assert.equal(numberOf(view, item), expected, type);
    }
  });

  it('reads UTC texts and refuses what is none', () => {
    assert.equal(utcOf('260331235958.800'), Date.UTC(2026, 2, 31, 23, 59, 58, 800) / 1000);
    assert.equal(utcOf('240229000000.000'), Date.UTC(2024, 1, 29) / 1000);
    for (const text of [
      '',
      '260231000000.000',
      '261331000000.000',
      '2603312359',
      '260331245958.800',
      'xx0331235958.800',
    ]) {
      assert.ok(Number.isNaN(utcOf(text)), text);
    }
  });
});

describe('GPMF items', () => {
  it('stops at an item that declares more than there is, and keeps those before', () => {
    const bytes = joined(
      klv('GOOD', 'L', 4, numbers('Uint32', [1])),
      'BAD!',
      'l',
      [4],
      numbers('Uint16', [9]),
      [1, 2, 3, 4],
    );
    const damage: number[] = [];
    const keys = [...klvItems(new DataView(bytes.buffer), 0, bytes.length, (byte) => damage.push(byte))].map(
      ({ key }) => key,
    );
    assert.deepEqual(keys, ['GOOD']);
    assert.deepEqual(damage, [12]);
  });

  it('passes over padding between items', () => {
    const bytes = joined(
      klv('ONE1', 'B', 1, numbers('Uint8', [1])),
      new Uint8Array(8),
      klv('TWO2', 'B', 1, numbers('Uint8', [2])),
    );
    const view = new DataView(bytes.buffer);
    const found = [...klvItems(view, 0, bytes.length, () => assert.fail('damage'))].map((item) => [
      item.key,
      numberOf(view, item),
    ]);
    assert.deepEqual(found, [
      ['ONE1', 1],
      ['TWO2', 2],
    ]);
  });
});
