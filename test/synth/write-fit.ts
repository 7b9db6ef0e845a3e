import { fitChecksum } from '../../src/engine/readers/fit/checksum.ts';
import { joined, numbers } from './byte-parts.ts';

/** One record; what is absent is written as the value for "not measured". */
export interface FitSample {
  /** Unix time; FIT keeps whole seconds. */
  readonly timeS: number;
  readonly latDeg?: number;
  readonly lonDeg?: number;
  readonly altitudeM?: number;
  readonly groundSpeedMps?: number;
  readonly verticalSpeedMps?: number;
  /** The timer was stopped before this record. */
  readonly afterPause?: boolean;
}

/** What the receiver itself told (message 160). */
export interface FitMetadata {
  /** Seconds since the start of the device, to the millisecond. */
  readonly deviceS: number;
  /** Unix time; written in whole seconds. */
  readonly utcS?: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly altitudeM: number;
  readonly groundSpeedMps: number;
  readonly headingDeg: number;
}

export interface FitOptions {
  /** Written behind the records. */
  readonly metadata?: readonly FitMetadata[];
  readonly byteOrder?: 'little' | 'big';
  /** Altitude and speed in the wide fields (78, 73), by default; else in the old ones (2, 6). */
  readonly enhanced?: boolean;
  /** Each record also carries five bytes of a developer's field. */
  readonly developerField?: boolean;
  /** Times in compressed headers after the first record. */
  readonly compressedTimestamps?: boolean;
  readonly headerBytes?: 12 | 14;
  /** As a recorder leaves it that never finished: data size 0, no checksum. */
  readonly unfinished?: boolean;
}

const fitEpochS = 631_065_600;
const semicirclesPerDegree = 2 ** 31 / 180;

/** A FIT file of one activity (two messages: file identity, records). */
export function writeFit(samples: readonly FitSample[], options: FitOptions = {}): Uint8Array {
  const little = options.byteOrder !== 'big';
  const uint32 = (value: number): Uint8Array => numbers('Uint32', [value], little);
  const parts: Uint8Array[] = [
    definition(0, 0, [[0, 1, 0x00]], little),
    joined([0, 4]),
    definition(1, 20, recordFields(options, true), little, options.developerField),
    definition(2, 20, recordFields(options, false), little, options.developerField),
    definition(
      3,
      21,
      [
        [253, 4, 0x86],
        [0, 1, 0x00],
        [1, 1, 0x00],
      ],
      little,
    ),
  ];
  for (const [i, sample] of samples.entries()) {
    const stamp = Math.round(sample.timeS) - fitEpochS;
    if (sample.afterPause) parts.push(joined([3], uint32(stamp), [0, 4]), joined([3], uint32(stamp), [0, 0]));
    const developer = options.developerField ? [1, 2, 3, 4, 5] : [];
    const compressed = options.compressedTimestamps && i > 0;
    const head = compressed ? joined([0x80 | (2 << 5) | (stamp & 0x1f)]) : joined([1], uint32(stamp));
    parts.push(joined(head, recordData(sample, options, little), developer));
  }
  if (options.metadata) parts.push(definition(4, 160, metadataFields, little));
  for (const one of options.metadata ?? []) parts.push(joined([4], metadataData(one, little)));
  const data = joined(...parts);
  const size = options.headerBytes ?? 14;
  const front = joined(
    [size, 0x20],
    numbers('Uint16', [2195], true),
    numbers('Uint32', [options.unfinished ? 0 : data.length], true),
    '.FIT',
  );
  const header = size === 14 ? joined(front, numbers('Uint16', [fitChecksum(front)], true)) : front;
  const file = joined(header, data);
  return options.unfinished ? file : joined(file, numbers('Uint16', [fitChecksum(file)], true));
}

type Field = readonly [number: number, bytes: number, baseType: number];

function recordFields(options: FitOptions, withTime: boolean): Field[] {
  const wide = options.enhanced ?? true;
  return [
    ...(withTime ? [[253, 4, 0x86] as const] : []),
    [0, 4, 0x85],
    [1, 4, 0x85],
    wide ? [78, 4, 0x86] : [2, 2, 0x84],
    wide ? [73, 4, 0x86] : [6, 2, 0x84],
    [32, 2, 0x83],
  ];
}

function definition(
  local: number,
  globalNumber: number,
  fields: readonly Field[],
  little: boolean,
  developerField = false,
): Uint8Array {
  return joined(
    [(developerField ? 0x60 : 0x40) | local, 0, little ? 0 : 1],
    numbers('Uint16', [globalNumber], little),
    [fields.length, ...fields.flat()],
    developerField ? [1, 0, 5, 0] : [],
  );
}

const metadataFields: readonly Field[] = [
  [253, 4, 0x86],
  [0, 2, 0x84],
  [1, 4, 0x85],
  [2, 4, 0x85],
  [3, 4, 0x86],
  [4, 4, 0x86],
  [5, 2, 0x84],
  [6, 4, 0x86],
];

function metadataData(sample: FitMetadata, little: boolean): Uint8Array {
  const wholeS = Math.floor(sample.deviceS);
  const place = [sample.latDeg, sample.lonDeg].map((degrees) => Math.round(degrees * semicirclesPerDegree));
  return joined(
    numbers('Uint32', [wholeS], little),
    numbers('Uint16', [Math.round((sample.deviceS - wholeS) * 1000)], little),
    numbers('Int32', place, little),
    numbers('Uint32', [Math.round((sample.altitudeM + 500) * 5), Math.round(sample.groundSpeedMps * 1000)], little),
    numbers('Uint16', [Math.round(sample.headingDeg * 100)], little),
    numbers('Uint32', [sample.utcS === undefined ? 0xffffffff : Math.floor(sample.utcS) - fitEpochS], little),
  );
}

function recordData(sample: FitSample, options: FitOptions, little: boolean): Uint8Array {
  const wide = options.enhanced ?? true;
  const kind = wide ? 'Uint32' : 'Uint16';
  const absent = wide ? 0xffffffff : 0xffff;
  const scaled = (value: number | undefined, scale: number, offset: number, none: number): number =>
    value === undefined ? none : Math.round((value + offset) * scale);
  return joined(
    numbers(
      'Int32',
      [
        scaled(sample.latDeg, semicirclesPerDegree, 0, 0x7fffffff),
        scaled(sample.lonDeg, semicirclesPerDegree, 0, 0x7fffffff),
      ],
      little,
    ),
    numbers(kind, [scaled(sample.altitudeM, 5, 500, absent), scaled(sample.groundSpeedMps, 1000, 0, absent)], little),
    numbers('Int16', [scaled(sample.verticalSpeedMps, 1000, 0, 0x7fff)], little),
  );
}
