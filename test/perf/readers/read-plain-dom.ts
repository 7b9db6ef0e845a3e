// The same work with fast-xml-parser as most programs use it: the whole tree, then a walk over it.
import { readFileSync } from 'node:fs';
import { XMLParser } from 'fast-xml-parser';

interface Point {
  readonly '@_lat': string;
  readonly '@_lon': string;
  readonly ele: string;
  readonly time: string;
  readonly extensions: { readonly speed: string; readonly course: string };
}

const start = process.cpuUsage();
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '@_',
  parseTagValue: false,
  removeNSPrefix: true,
});
const root = parser.parse(readFileSync(process.argv[2], 'utf8')) as { gpx: { trk: { trkseg: { trkpt: Point[] } } } };
const points = root.gpx.trk.trkseg.trkpt.map((point) => [
  Date.parse(point.time) / 1000,
  Number(point['@_lat']),
  Number(point['@_lon']),
  Number(point.ele),
  Number(point.extensions.speed),
  Number(point.extensions.course),
]);
const { user, system } = process.cpuUsage(start);
const seconds = (user + system) / 1e6;
console.log(JSON.stringify({ points: points.length, seconds, megabytes: process.resourceUsage().maxRSS / 1024 }));
