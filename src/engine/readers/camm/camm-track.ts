import { median } from '../../stats/sample.ts';
import type { Track } from '../../track/track.ts';
import { BinnedForce } from '../acceleration/binned-force.ts';
import type { FilmTimes } from '../gpmf/row-times.ts';
import { fitClockLine, valueAt } from '../clock-line.ts';
import { filmStart } from '../film-start.ts';
import type { ProblemList } from '../problem-list.ts';
import { buildTrack } from '../samples/build-track.ts';
import { SampleTable } from '../samples/sample-table.ts';
import type { CammEpoch } from './epoch.ts';
import { chooseEpoch, unixFromCamm } from './epoch.ts';
import type { CammFix } from './packets.ts';
import { readPackets } from './packets.ts';

interface TimedFix extends CammFix {
  readonly videoS: number;
}

interface TimedPosition {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly altitudeM: number;
  readonly videoS: number;
}

/** Gathers the position packets of a camera motion metadata track. */
export class CammSamples {
  readonly fixes: TimedFix[] = [];
  readonly positions: TimedPosition[] = [];
  /** What the accelerometer felt (packet type 3), over film time. */
  readonly force = new BinnedForce();
  packets = 0;
  unreadable = 0;
  firstUnreadableByte: number | undefined;

  add(bytes: Uint8Array, videoS: number, offsetByte: number): void {
    const whole = readPackets(bytes, (packet) => {
      this.packets++;
      if (packet.kind === 'fix') this.fixes.push({ ...packet, videoS });
      if (packet.kind === 'acceleration') this.force.add(videoS, packet.x, packet.y, packet.z);
      if (packet.kind === 'position') this.positions.push({ ...packet, videoS });
    });
    if (whole) return;
    this.unreadable++;
    this.firstUnreadableByte ??= offsetByte;
  }
}

/** A fix whose own time is this far from those of its neighbours, measured by the film's clock, is wrong. */
const wrongTimeS = 5;
const neighbours = 4;

/** The track of the fixes (packet type 6), or of the bare positions (type 5) where there are no fixes. */
export function cammTrack(
  samples: CammSamples,
  film: FilmTimes,
  problems: ProblemList,
  contents: string[],
): Track | undefined {
  if (samples.unreadable > 0) {
    problems.warning(
      'camm-bad-packet',
      'Packets of an unknown type, or cut short, were left out.',
      { byte: samples.firstUnreadableByte ?? 0 },
      samples.unreadable,
    );
  }
  contents.push(
    `Camera motion metadata: ${samples.fixes.length} GPS fixes with velocity (type 6), ${samples.positions.length} bare positions (type 5).`,
  );
  const good = samples.fixes.filter(({ fixType, gpsEpochS }) => fixType >= 3 && Number.isFinite(gpsEpochS));
  const poor = samples.fixes.length - good.length;
  if (good.length > 0) {
    if (poor > 0) {
      problems.warning('camm-fix-lost', 'Fixes in less than three dimensions were left out.', {}, poor);
    }
    return fixTrack(good, film, problems);
  }
  if (samples.positions.length > 0) return positionTrack(samples.positions, film, problems);
  problems.error(
    poor > 0 ? 'camm-no-fix' : 'camm-no-gps',
    poor > 0
      ? `The receiver never had a fix in three dimensions: ${poor} fixes are written, none is usable.`
      : 'The camera motion metadata holds no positions.',
  );
  return undefined;
}

function fixTrack(fixes: readonly TimedFix[], film: FilmTimes, problems: ProblemList): Track | undefined {
  const assumptions: string[] = [];
  const epoch = chooseEpoch(median(fixes.map(({ gpsEpochS }) => gpsEpochS)), film.creationS);
  tellEpoch(epoch, problems, assumptions);
  const unixS = fixes.map(({ gpsEpochS }) => unixFromCamm(gpsEpochS, epoch));
  const start = filmStart(
    fixes.map(({ videoS }) => videoS),
    unixS,
  );
  if (start.remark !== undefined) assumptions.push(start.remark);
  if (start.startS !== undefined) tellLeapSeconds(epoch, start.startS, film, problems);
  const differences = differencesFromLine(
    fixes.map(({ videoS }) => videoS),
    unixS,
  );
  // Writers without velocities fill in zeros: a whole flight of exact zeros was not measured.
  const moves = fixes.some(({ eastMps, northMps }) => eastMps !== 0 || northMps !== 0);
  const climbs = fixes.some(({ upMps }) => upMps !== 0);
  const table = new SampleTable();
  let wrong = 0;
  for (const [i, fix] of fixes.entries()) {
    const around = differences.slice(Math.max(0, i - neighbours), i + neighbours + 1);
    if (Math.abs(differences[i] - median(around)) > wrongTimeS) {
      wrong++;
      continue;
    }
    const row = table.add(unixS[i], fix.latDeg, fix.lonDeg);
    table.set('altitude-ellipsoid', row, fix.altitudeM);
    table.set('horizontalSigmaM', row, positive(fix.horizontalSigmaM));
    table.set('verticalSigmaM', row, positive(fix.verticalSigmaM));
    table.set('speedSigmaMps', row, positive(fix.speedSigmaMps));
    const speedMps = moves ? Math.hypot(fix.eastMps, fix.northMps) : Number.NaN;
    table.set('groundSpeedMps', row, speedMps);
    if (speedMps > 0) table.set('trackRad', row, (Math.atan2(fix.eastMps, fix.northMps) + 2 * Math.PI) % (2 * Math.PI));
    if (climbs) table.set('verticalSpeedMps', row, fix.upMps);
  }
  if (wrong > 0) {
    problems.warning('camm-wrong-time', 'Fixes whose own time does not fit the film were left out.', {}, wrong);
  }
  const videoStartS = start.startS === undefined ? {} : { videoStartS: start.startS + film.firstPictureS };
  return buildTrack(table, { assumptions, ...videoStartS }, problems);
}

/** What the times differ from a straight line over the film's time (which is not 1 to 1 in fast motion). */
function differencesFromLine(filmS: readonly number[], unixS: readonly number[]): number[] {
  if (filmS.length < 3) return filmS.map(() => 0);
  const { line } = fitClockLine(filmS, unixS);
  return unixS.map((value, i) => value - valueAt(line, filmS[i]));
}

/** A claim of 0 or less is none. */
function positive(value: number): number {
  return value > 0 && Number.isFinite(value) ? value : Number.NaN;
}

function tellEpoch(epoch: CammEpoch, problems: ProblemList, assumptions: string[]): void {
  if (epoch === 'gps') {
    assumptions.push('Times are GPS time, as the format says: UTC is 18 s behind (since 2017).');
    return;
  }
  const from = epoch === 'unix' ? 'Unix time (from 1970)' : 'seconds from 1904';
  problems.warning(
    'camm-epoch',
    `The times are not GPS time, as the format says, but ${from}: they were read as that.`,
  );
  assumptions.push(`Times were read as ${from}, judged by their size and the film's creation time.`);
}

/**
 * A writer that already took the leap seconds out leaves its times 18 s early once they are taken out again. The film's
 * creation time shows it when it agrees to the second with the time before.
 */
function tellLeapSeconds(epoch: CammEpoch, startS: number, film: FilmTimes, problems: ProblemList): void {
  if (epoch !== 'gps' || film.creationS === undefined) return;
  const early = film.creationS - startS;
  if (Math.abs(early - 18) > 1.5) return;
  problems.warning(
    'camm-leap-seconds',
    'The film begins 18 s later by its creation time than by its GPS times: the writer may have taken out the leap seconds already. The times are kept; compare them with another clock.',
  );
}

function positionTrack(positions: readonly TimedPosition[], film: FilmTimes, problems: ProblemList): Track | undefined {
  const { creationS } = film;
  if (creationS === undefined) {
    problems.error(
      'camm-no-time',
      'The positions have no time of their own and the film no creation time, so they cannot be placed in time.',
    );
    return undefined;
  }
  problems.warning(
    'camm-time-from-camera',
    "The positions have no time of their own: the film's creation time is used, which may be wrong by hours.",
  );
  const table = new SampleTable();
  for (const position of positions) {
    const row = table.add(creationS + position.videoS, position.latDeg, position.lonDeg);
    table.set('altitude-ellipsoid', row, position.altitudeM);
  }
  const assumptions = ["Times come from the film's creation time, not from the satellites."];
  return buildTrack(table, { assumptions, videoStartS: creationS + film.firstPictureS }, problems);
}
