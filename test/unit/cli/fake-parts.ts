import type { Analysis } from '../../../src/engine/analysis.ts';
import type { EngineParts } from '../../../src/engine/evaluate/index.ts';

const startS = Date.UTC(2024, 3, 13, 22, 30, 0) / 1000;

function interval(value: number, half: number) {
  return { value, low: value - half, high: value + half, method: 'invented' };
}

/** An analysis in which everything occurs once; what cannot be told is absent in it. */
export const inventedAnalysis: Analysis = {
  recording: {
    startS,
    endS: startS + 1800,
    samples: 1795,
    rateHz: 1,
    gaps: [{ startS: startS + 900, endS: startS + 905 }],
    altitudeKinds: ['msl', 'pressure'],
    speedSource: 'receiver',
  },
  phases: [
    { kind: 'standing', startS, endS: startS + 60 },
    { kind: 'takeoff-roll', startS: startS + 60, endS: startS + 74 },
  ],
  takeoffs: [
    {
      outcome: 'flown',
      rollStart: { timeS: startS + 60.25, sigmaS: 0.4, origin: 'found' },
      liftoff: { timeS: startS + 74, sigmaS: 0.4, origin: 'found' },
      rollingStart: false,
      startSpeedMps: 0,
      headingRad: 2.32,
      latDeg: 1,
      lonDeg: 2,
      groundRollM: interval(213.36, 15.24),
      liftoffSpeedMps: interval(24.2, 0.5),
      screens: [
        {
          heightM: 15.24,
          time: { timeS: startS + 84, sigmaS: 0.6, origin: 'found' },
          distanceM: interval(420, 30),
          timeFromLiftoffS: 10,
        },
      ],
      remarks: ['lift-off told from the climb alone'],
    },
    {
      outcome: 'rejected',
      rollStart: { timeS: startS + 10, sigmaS: 1, origin: 'found' },
      rollingStart: true,
      startSpeedMps: 4,
      headingRad: -0.1,
      latDeg: 1,
      lonDeg: 2,
      screens: [],
      remarks: [],
    },
  ],
  landings: [
    {
      touchdown: { timeS: startS + 1700, sigmaS: 1, origin: 'found' },
      headingRad: 0,
      latDeg: 1,
      lonDeg: 2,
      remarks: [],
    },
  ],
  climbs: [
    {
      startS: startS + 90,
      endS: startS + 390,
      fromAltitudeM: 400,
      toAltitudeM: 1300,
      altitudeKind: 'msl',
      rateOfClimbMps: interval(3, 0.2),
      bands: [
        {
          fromAltitudeM: 457.2,
          toAltitudeM: 609.6,
          startS: startS + 110,
          endS: startS + 160,
          rateOfClimbMps: interval(3.1, 0.3),
          groundSpeedMps: 33,
          turningFraction: 0,
        },
      ],
      remarks: [],
    },
  ],
  levelRuns: [
    {
      startS: startS + 600,
      endS: startS + 700,
      altitudeM: 1300,
      trackRad: Math.PI / 2,
      groundSpeedMps: interval(50, 0.4),
    },
  ],
  winds: [
    {
      startS: startS + 600,
      endS: startS + 900,
      altitudeM: 1300,
      fromRad: { value: 6.2, low: 6, high: 6.4, method: '' },
      speedMps: interval(5, 1),
      trueAirspeedMps: interval(51, 0.5),
      method: 'three or more headings',
    },
  ],
  problems: [{ code: 'some-notice', severity: 'info', message: 'a notice' }],
};

/** Reads files whose text is "ok"; "warn" has a warning with a line, anything else has no track. */
export const fakeParts: EngineParts = {
  readRecording: async (source, { onProgress }) => {
    const text = new TextDecoder().decode(await source.read(0, source.sizeBytes));
    onProgress?.(0.5);
    const column = new Float64Array(3);
    const timeS = Float64Array.from([startS, startS + 1, startS + 2]);
    const track = { timeS, latDeg: column, lonDeg: column, altitudes: [], breaks: [], channels: {}, assumptions: [] };
    if (text === 'ok') return { format: 'gpx', track, problems: [], contents: [] };
    if (text === 'warn') {
      const at = { file: source.name, line: 7, column: 3 };
      return {
        format: 'csv',
        track,
        problems: [{ code: 'csv-bad-line', severity: 'warning', message: 'Not a number.', at, count: 2 }],
        contents: ['Times are local.'],
      };
    }
    return { problems: [{ code: 'unknown-format', severity: 'error', message: 'No recording.' }], contents: [] };
  },
  analyse: () => inventedAnalysis,
  compare: (spec) => ({ title: spec.title, metrics: [], leftOut: [], problems: [] }),
};
