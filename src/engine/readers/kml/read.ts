import type { Unit } from '../../../../shared/units.ts';
import type { ByteSource } from '../../world.ts';
import { readHeading } from '../columns/heading.ts';
import { meaningOf, type Understanding } from '../columns/meaning.ts';
import { valueStore } from '../columns/value-store.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { joinTracks, type Part } from '../samples/join-tracks.ts';
import { SampleTable } from '../samples/sample-table.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { headText, utf8Pieces } from '../text/text-pieces.ts';
import { SampleLift } from '../xml/sample-lift.ts';
import { parseSkeleton, type SkeletonElement } from '../xml/skeleton.ts';
import { KmlSamples } from './samples.ts';
import { type KmlArray, type KmlTrack, pointsOf, type Stretch, tracksOf } from './tracks.ts';

/** Reader of KML 2.2 with `gx:Track`; the format facts are in README.md beside. */
export const kmlReader: Reader = {
  format: 'kml',
  recognises: (head) => /<(?:[\w.-]+:)?kml[\s>]/.test(headText(head)),
  read: (source, options) => new KmlRecording(source, options).read(),
};

class KmlRecording {
  readonly #source: ByteSource;
  readonly #options: ReadOptions;
  readonly #problems: ProblemList;
  readonly #samples: KmlSamples;
  readonly #table = new SampleTable();
  readonly #contents: string[] = [];
  readonly #assumptions: string[] = [];
  #speedUnit: Unit | undefined;

  constructor(source: ByteSource, options: ReadOptions) {
    this.#source = source;
    this.#options = options;
    this.#problems = new ProblemList(source.name);
    this.#samples = new KmlSamples(this.#problems);
  }

  async read(): Promise<ReadResult> {
    const lift = new SampleLift(this.#samples, this.#problems);
    for await (const piece of utf8Pieces(this.#source, this.#options, this.#problems)) {
      lift.push(piece);
      if (lift.refused) break;
    }
    const roots = this.#rootsOf(lift.end());
    const tracks = tracksOf(roots, this.#samples).filter((track) => track.coordinates.to > track.coordinates.from);
    if (tracks.length > 0) this.#addTracks(tracks);
    else this.#addPoints(roots);
    if (this.#table.rows === 0) {
      if (!this.#problems.hasErrors) this.#refuse();
      return { format: 'kml', problems: this.#problems.toArray(), contents: this.#contents };
    }
    settleSpeed(this.#table, { stated: this.#speedUnit }, this.#problems, this.#assumptions);
    const track = buildTrack(this.#table, { assumptions: this.#assumptions }, this.#problems);
    return { format: 'kml', track, problems: this.#problems.toArray(), contents: this.#contents };
  }

  #rootsOf(skeleton: string): SkeletonElement[] {
    try {
      return parseSkeleton(skeleton);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      this.#problems.error('xml-unreadable', `The structure around the samples cannot be parsed: ${reason}`);
      return [];
    }
  }

  #refuse(): void {
    if (this.#samples.paths > 0) {
      this.#problems.error(
        'kml-no-times',
        'The file holds only paths (LineString), which have no time for each point: nothing can be measured. Export the recording with times (gx:Track, GPX, IGC).',
      );
    } else this.#problems.error('kml-no-track', 'The file holds no gx:Track, so there is no recording in it.');
  }

  #addTracks(tracks: readonly KmlTrack[]): void {
    const parts = new Map<number, Part[]>();
    const earlier: ReadTrack[] = [];
    for (const track of tracks) {
      const rows = this.#rowsOf(track);
      this.#contents.push(`track "${track.name}": ${rows} samples`);
      const same = earlier.find((one) => this.#sameFixes(one.track, track));
      if (same) {
        this.#addSecondAltitude(same, track);
        continue;
      }
      const part = { from: this.#table.rows, to: this.#table.rows + rows };
      this.#addRows(track, rows);
      for (const array of track.arrays) this.#addArray(array, part);
      parts.set(track.placemark, [...(parts.get(track.placemark) ?? []), part]);
      earlier.push({ track, part });
    }
    joinTracks(this.#table, [...parts.values()], this.#problems);
  }

  /** Times and coordinates are paired by order, as far as both go. */
  #rowsOf(track: KmlTrack): number {
    const times = lengthOf(track.times);
    const coordinates = lengthOf(track.coordinates);
    if (times !== coordinates) {
      this.#problems.warning(
        'kml-counts-differ',
        `A track has ${times} times and ${coordinates} positions; they were paired as far as both go, which is wrong if one is missing in the middle.`,
      );
    }
    return Math.min(times, coordinates);
  }

  #addRows(track: KmlTrack, rows: number): void {
    const kind = altitudeKind(track);
    const withAltitude = this.#altitudeCounts(track);
    for (let i = 0; i < rows; i++) {
      const at = track.coordinates.from + i;
      const timeS = this.#samples.timeS.get(track.times.from + i);
      const row = this.#table.add(timeS, this.#samples.latDeg.get(at), this.#samples.lonDeg.get(at));
      if (withAltitude) this.#table.set(`altitude-${kind}`, row, this.#samples.altitudeM.get(at));
    }
  }

  #altitudeCounts({ altitudeMode }: { readonly altitudeMode: string }): boolean {
    if (altitudeMode === 'absolute') {
      this.#assume(
        'KML means heights above mean sea level, but many recorders write heights above the ellipsoid: taken as of unknown datum.',
      );
      return true;
    }
    if (altitudeMode === '') {
      this.#problems.warning(
        'kml-altitude-mode',
        'The file does not say what its altitudes refer to (no altitudeMode); taken as altitudes of unknown datum.',
      );
      return true;
    }
    this.#problems.warning(
      'kml-altitude-mode',
      `Altitudes with altitudeMode "${altitudeMode}" are none above a datum; they were not used.`,
    );
    return false;
  }

  #assume(text: string): void {
    if (!this.#assumptions.includes(text)) this.#assumptions.push(text);
  }

  /** Some converters write the same fixes twice, with pressure altitude and with satellite altitude. */
  #sameFixes(first: KmlTrack, second: KmlTrack): boolean {
    const rows = lengthOf(first.times);
    if (rows !== lengthOf(second.times) || lengthOf(first.coordinates) !== lengthOf(second.coordinates)) return false;
    const { timeS, latDeg, lonDeg } = this.#samples;
    for (let i = 0; i < rows; i++) {
      const [a, b] = [first.coordinates.from + i, second.coordinates.from + i];
      if (timeS.get(first.times.from + i) !== timeS.get(second.times.from + i)) return false;
      if (latDeg.get(a) !== latDeg.get(b) || lonDeg.get(a) !== lonDeg.get(b)) return false;
    }
    return true;
  }

  #addSecondAltitude(first: ReadTrack, second: KmlTrack): void {
    const kind = altitudeKind(second);
    if (kind === altitudeKind(first.track)) {
      this.#problems.info(
        'kml-track-repeated',
        `${second.name === '' ? 'A track without a name' : `The track "${second.name}"`} repeats the fixes of another and was not used.`,
      );
      return;
    }
    for (let row = first.part.from; row < first.part.to; row++) {
      this.#table.set(
        `altitude-${kind}`,
        row,
        this.#samples.altitudeM.get(second.coordinates.from + row - first.part.from),
      );
    }
    this.#contents.push(`tracks "${first.track.name}" and "${second.name}" are the same fixes with two altitudes`);
  }

  #addArray(array: KmlArray, part: Part): void {
    const title = array.title === '' ? array.name : `${array.name} (${array.title})`;
    const understood = understand(array);
    const store = understood && valueStore(this.#table, understood.meaning, understood.unit);
    if (!understood || !store || lengthOf(array.values) !== part.to - part.from) {
      this.#contents.push(`values "${title}": not used`);
      return;
    }
    if (understood.meaning === 'groundSpeedMps') this.#speedUnit = understood.unit;
    this.#contents.push(
      `values "${title}": ${understood.meaning}${understood.unit ? `, ${understood.unit.symbol}` : ''}`,
    );
    for (let row = part.from; row < part.to; row++) {
      const value = this.#samples.values.get(array.values.from + row - part.from);
      if (!Number.isNaN(value)) store(row, value);
    }
  }

  #addPoints(roots: readonly SkeletonElement[]): void {
    for (const { time, point, altitudeMode } of pointsOf(roots, this.#samples)) {
      const { timeS, pointLatDeg, pointLonDeg, pointAltitudeM } = this.#samples;
      const row = this.#table.add(timeS.get(time), pointLatDeg.get(point), pointLonDeg.get(point));
      if (this.#altitudeCounts({ altitudeMode })) this.#table.set('altitude-unknown', row, pointAltitudeM.get(point));
    }
    if (this.#table.rows > 0) this.#contents.push(`${this.#table.rows} placemarks with a point and a time`);
  }
}

interface ReadTrack {
  readonly track: KmlTrack;
  readonly part: Part;
}

function lengthOf(stretch: Stretch): number {
  return stretch.to - stretch.from;
}

/** A track says only in its name that its altitude is one of pressure. */
function altitudeKind(track: KmlTrack): 'pressure' | 'unknown' {
  return /pres|baro/i.test(track.name) ? 'pressure' : 'unknown';
}

/** The title says more than the name, if it says anything. */
function understand(array: KmlArray): Understanding | undefined {
  const found = [array.title, array.name].map((text) => meaningOf(readHeading(text))).find((one) => one !== undefined);
  return found?.usable ? found : undefined;
}
