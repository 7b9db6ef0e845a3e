import { formatCount } from '../../../../shared/format.ts';
import { findUnit } from '../../../../shared/units.ts';
import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { joinTracks, type Part } from '../samples/join-tracks.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { headText, utf8Pieces } from '../text/text-pieces.ts';
import { SampleLift } from '../xml/sample-lift.ts';
import { child, descendants, parseSkeleton, type SkeletonElement } from '../xml/skeleton.ts';
import { GpxPoints } from './points.ts';

/** Extensions that give a speed mostly follow the track point extension v2, whose schema says metres per second. */
const metrePerSecond = findUnit('m/s', 'speed');

/** Reader of GPX 1.0 and 1.1; the format facts are in README.md beside. */
export const gpxReader: Reader = {
  format: 'gpx',
  recognises: (head) => /<(?:[\w.-]+:)?gpx[\s>]/.test(headText(head)),
  read: readGpx,
};

async function readGpx(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  const points = new GpxPoints(problems);
  const lift = new SampleLift(points, problems);
  for await (const piece of utf8Pieces(source, options, problems)) {
    lift.push(piece);
    if (lift.refused) break;
  }
  const skeleton = lift.end();
  const contents: string[] = [];
  if (points.waypoints > 0) contents.push(`${formatCount(points.waypoints, 'waypoint')} (not used)`);
  if (points.routePoints > 0) contents.push(`${formatCount(points.routePoints, 'point')} of planned routes (not used)`);
  if (points.table.rows === 0) {
    if (!problems.hasErrors)
      problems.error('gpx-no-track', 'The file holds no track points (trkpt), so there is no recording in it.');
    return { format: 'gpx', problems: problems.toArray(), contents };
  }
  const tracks = tracksOf(skeleton, points, problems);
  for (const { name, rows, segments } of tracks) {
    const title = name === '' ? 'track without a name' : `track "${name}"`;
    contents.push(`${title}: ${formatCount(rows, 'point')} in ${formatCount(segments.length, 'segment')}`);
  }
  joinTracks(
    points.table,
    tracks.map((track) => track.segments),
    problems,
  );
  const assumptions = [altitudeAssumption(points)];
  settleSpeed(points.table, { usual: metrePerSecond }, problems, assumptions);
  const track = buildTrack(points.table, { assumptions: assumptions.filter((text) => text !== '') }, problems);
  return { format: 'gpx', track, problems: problems.toArray(), contents };
}

interface GpxTrack {
  readonly name: string;
  readonly rows: number;
  readonly segments: readonly Part[];
}

function tracksOf(skeleton: string, points: GpxPoints, problems: ProblemList): GpxTrack[] {
  const runAt = (run: number): Part => ({
    from: points.runStarts[run] ?? 0,
    to: points.runStarts[run + 1] ?? points.table.rows,
  });
  let roots: SkeletonElement[] = [];
  try {
    roots = parseSkeleton(skeleton);
  } catch (error) {
    problems.warning(
      'xml-unreadable',
      `The structure around the points cannot be parsed: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
  const tracks = descendants(roots, 'trk').map((element) => {
    const segments = descendants([element], 'trkseg')
      .map((segment) => segment.children.flatMap((part) => (part.run === undefined ? [] : [runAt(part.run)])))
      .filter((runs) => runs.length > 0)
      .map((runs) => ({ from: runs[0].from, to: runs[runs.length - 1].to }));
    const rows = segments.reduce((sum, segment) => sum + segment.to - segment.from, 0);
    return { name: child(element, 'name')?.text.trim() ?? '', rows, segments };
  });
  const found = tracks.filter((track) => track.rows > 0);
  if (found.length > 0) return found;
  return [{ name: '', rows: points.table.rows, segments: [{ from: 0, to: points.table.rows }] }];
}

/** The schema says "elevation" and no more; a geoid height beside it makes it one above mean sea level, as in GGA. */
function altitudeAssumption(points: GpxPoints): string {
  const { table } = points;
  const elevation = table.columns.get('altitude-unknown');
  if (!elevation) return '';
  if (!points.hasGeoidHeight)
    return 'GPX does not state the datum of its elevations; most recorders write heights above mean sea level.';
  table.columns.delete('altitude-unknown');
  table.columns.set('altitude-msl', elevation);
  for (let row = 0; row < table.rows; row++)
    table.set('altitude-ellipsoid', row, elevation.get(row) + points.geoidHeightM.get(row));
  return '';
}
