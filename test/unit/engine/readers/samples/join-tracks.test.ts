import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { buildTrack } from '../../../../../src/engine/readers/samples/build-track.ts';
import { joinTracks } from '../../../../../src/engine/readers/samples/join-tracks.ts';
import { SampleTable } from '../../../../../src/engine/readers/samples/sample-table.ts';

function join(tracks: readonly (readonly number[][])[]): {
  times: number[];
  breaks: readonly number[];
  codes: string[];
} {
  const table = new SampleTable();
  const problems = new ProblemList('x');
  const parts = tracks.map((segments) =>
    segments.map((times) => {
      const from = table.rows;
      for (const timeS of times) table.add(1_775_000_000 + timeS, 46.5 + timeS / 1000, -14.75);
      return { from, to: table.rows };
    }),
  );
  joinTracks(table, parts, problems);
  const track = buildTrack(table, {}, problems);
  return {
    times: [...(track?.timeS ?? [])].map((timeS) => timeS - 1_775_000_000),
    breaks: track?.breaks ?? [],
    codes: problems.toArray().map(({ code }) => code),
  };
}

describe('joinTracks', () => {
  it('keeps segments apart', () => {
    assert.deepEqual(
      join([
        [
          [0, 1, 2],
          [10, 11],
        ],
      ]),
      { times: [0, 1, 2, 10, 11], breaks: [3], codes: [] },
    );
  });

  it('joins tracks in the order of time, whatever their order in the file', () => {
    assert.deepEqual(join([[[20, 21]], [[0, 1]]]), {
      times: [0, 1, 20, 21],
      breaks: [2],
      codes: ['tracks-joined', 'time-backwards'],
    });
  });

  it('keeps the longest of tracks that overlap', () => {
    assert.deepEqual(join([[[0, 1, 2]], [[1, 2, 3, 4, 5]], [[4, 6]]]), {
      times: [1, 2, 3, 4, 5],
      breaks: [],
      codes: ['tracks-overlap'],
    });
  });

  it('does not mind tracks without times', () => {
    assert.deepEqual(join([[[Number.NaN]], [[5, 6]]]), { times: [5, 6], breaks: [], codes: ['before-first-fix'] });
  });
});
