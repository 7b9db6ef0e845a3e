import type { Recording } from '../receive.ts';
import type { ReceiverName } from '../receiver-kinds.ts';
import { writeCammFilm, writeFitFile, writeGpmfFilm } from './binary-formats.ts';
import { type TextFormat, writeText } from './text-formats.ts';

export type FileFormat = TextFormat | 'gpmf-gps5' | 'gpmf-gps9' | 'camm' | 'fit';

/** The formats in which each kind of recorder writes in life; the first is the usual one. */
export const formatsOf: Record<ReceiverName, readonly FileFormat[]> = {
  handheld: ['gpx-speed', 'fit'],
  'handheld-no-speed': ['gpx', 'kml'],
  good5: ['nmea', 'csv-metric', 'csv-semicolon'],
  'good5-vertical': ['csv-metric'],
  good10: ['nmea', 'csv-metric'],
  camera18: ['gpmf-gps5'],
  camera10: ['gpmf-gps9'],
  phone: ['kml-speed', 'gpx-speed'],
  logger: ['igc'],
  panel: ['csv-aviation', 'csv-metric'],
  'film-vertical': ['camm'],
  'film-vertical-10': ['camm'],
  'whole-seconds': ['gpx-speed'],
  'camera18-force': ['gpmf-gps5'],
  'camera10-force': ['gpmf-gps9'],
};

const extensions: Record<FileFormat, string> = {
  gpx: 'gpx',
  'gpx-speed': 'gpx',
  kml: 'kml',
  'kml-speed': 'kml',
  nmea: 'nmea',
  igc: 'igc',
  'csv-metric': 'csv',
  'csv-aviation': 'csv',
  'csv-semicolon': 'csv',
  'gpmf-gps5': 'mp4',
  'gpmf-gps9': 'mp4',
  camm: 'mp4',
  fit: 'fit',
};

/** The file that a recorder would leave behind. */
export function writeRecording(recording: Recording, format: FileFormat): { bytes: Uint8Array; extension: string } {
  const extension = extensions[format];
  switch (format) {
    case 'gpmf-gps5':
      return { bytes: writeGpmfFilm(recording, 'GPS5'), extension };
    case 'gpmf-gps9':
      return { bytes: writeGpmfFilm(recording, 'GPS9'), extension };
    case 'camm':
      return { bytes: writeCammFilm(recording), extension };
    case 'fit':
      return { bytes: writeFitFile(recording), extension };
    default:
      return { bytes: new TextEncoder().encode(writeText(recording, format)), extension };
  }
}
