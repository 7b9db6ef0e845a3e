import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { makeComparison } from './comparison-workspace.ts';
import { type FileFormat, type ReceiverName, simulatedFlight, writeRecording } from '../synth/index.ts';

/** Recordings of every format, and files that are none; the suites know them by these names. */
const recordings: readonly { readonly name: string; readonly receiver: ReceiverName; readonly format: FileFormat }[] = [
  { name: 'handheld', receiver: 'handheld', format: 'gpx-speed' },
  { name: 'logger', receiver: 'logger', format: 'igc' },
  { name: 'receiver', receiver: 'good5', format: 'nmea' },
  { name: 'watch', receiver: 'handheld', format: 'fit' },
  { name: 'panel', receiver: 'panel', format: 'csv-aviation' },
  { name: 'telephone', receiver: 'phone', format: 'kml-speed' },
  { name: 'camera', receiver: 'camera10', format: 'gpmf-gps9' },
];

export function makeWorkspace(folder: string): void {
  makeComparison(folder);
  mkdirSync(join(folder, 'flights'), { recursive: true });
  for (const { name, receiver, format } of recordings) {
    const { recording } = simulatedFlight(`integration-${name}`, {
      receiver,
      aeroplane: 'shortFieldTwoSeater',
      weather: 'fair',
      length: 'short',
    });
    const { bytes, extension } = writeRecording(recording, format);
    writeFileSync(join(folder, 'flights', `${name}.${extension}`), bytes);
    if (name === 'handheld') {
      writeFileSync(join(folder, 'flights', 'packed.gpx.gz'), gzipSync(bytes));
      writeFileSync(join(folder, 'flights', 'cut.gpx'), bytes.subarray(0, bytes.length * 0.6));
    }
  }
  writeFileSync(join(folder, 'flights', 'empty.gpx'), '');
  writeFileSync(join(folder, 'flights', 'notes.gpx'), '<gpx version="1.1"><wpt lat="1" lon="2"/></gpx>\n');
  writeFileSync(join(folder, 'flights', 'odd [name] {1}.gpx'), '<gpx version="1.1"></gpx>\n');
}
