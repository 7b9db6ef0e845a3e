import type { ConditionsView } from '../../shared/flight-view.ts';
import type { OpenedFlight, OverlayView, UnreadableFlight } from '../../shared/protocol.ts';
import { takeoffCurve } from '../../shared/run-curve.ts';
import { openedFlight } from './simulated-flight.ts';

/** The flight that most page tests look at: 20 minutes at 5 Hz with two take-offs. */
export const exampleFlight: OpenedFlight = openedFlight('demo', {
  receiver: 'good5',
  weather: 'fair',
  aeroplane: 'trainer',
});

/** The first picture of {@link filmedFlight} was taken this long before its first position, seconds. */
export const filmedBeforeS = 12.5;

/** The same flight as a camera's film. */
export const filmedFlight: OpenedFlight = {
  ...exampleFlight,
  flight: {
    ...exampleFlight.flight,
    analysis: {
      ...exampleFlight.flight.analysis,
      recording: {
        ...exampleFlight.flight.analysis.recording,
        films: [{ startS: exampleFlight.flight.analysis.recording.startS - filmedBeforeS }],
      },
    },
  },
};

/** The same flight after the pilot corrected a lift-off, with problems of every severity and a hostile text. */
export const troubledFlight: OpenedFlight = {
  ...exampleFlight,
  flight: {
    ...exampleFlight.flight,
    events: exampleFlight.flight.events.map((event) =>
      event.id === 'liftoff-1' ? { ...event, origin: 'pilot' as const } : event,
    ),
    analysis: {
      ...exampleFlight.flight.analysis,
      takeoffs: exampleFlight.flight.analysis.takeoffs.map((takeoff, index) =>
        index === 0 && takeoff.liftoff
          ? { ...takeoff, liftoff: { ...takeoff.liftoff, origin: 'pilot' as const } }
          : takeoff,
      ),
    },
    corrections: {
      fileName: 'morning.gpx.events.yaml',
      overrides: [
        {
          event: 'liftoff',
          number: 1,
          timeS: exampleFlight.flight.analysis.takeoffs[0].liftoff?.timeS ?? 0,
          sigmaS: 0.2,
          why: 'film',
        },
      ],
      problems: [],
    },
    problems: [
      {
        code: 'gpx-bad-point',
        severity: 'error',
        message: 'A point has no position.',
        at: { file: 'morning.gpx', line: 17, column: 3 },
        count: 4,
      },
      { code: 'speed-spike', severity: 'warning', message: 'Two speeds are impossible. <img src=x onerror=alert(1)>' },
      { code: 'note', severity: 'info', message: 'The recorder wrote no satellites.', at: { byte: 12 } },
    ],
  },
};

export const unreadableFile: UnreadableFlight = {
  outcome: 'unreadable',
  fileName: 'notes.gpx',
  problems: [
    { code: 'gpx-no-points', severity: 'error', message: 'No track point with a time was found.', at: { line: 3 } },
  ],
  contents: ['2 way points'],
  isText: true,
};

export const conditionsExample: ConditionsView = {
  faults: { dewPoint: '"warm" is no quantity: expected a number and a unit, a temperature: degC, degF, K.' },
  pressureAltitudeM: 120,
  densityAltitudeM: { value: 480, low: 440, high: 520 },
  headwindMps: { value: 3.2, low: 1, high: 5.4 },
  crosswindMps: -1.4,
  windFromRad: 4.2,
  windText: '8 kt',
  corrected: exampleFlight.flight.metrics
    .filter(({ id }) => id.startsWith('take-off-1/ground-roll') || id.startsWith('take-off-1/over'))
    .map((row) => ({
      id: row.id,
      atReference: {
        value: row.measured.value * 1.08,
        low: row.measured.value * 0.98,
        high: row.measured.value * 1.18,
      },
      steps: [
        {
          name: 'wind',
          factor: 1.13,
          warning: 'The correction for wind is 13 %: more than 10 %, where errors of the method itself begin to count.',
        },
        { name: 'density', factor: 0.95 },
      ],
      at: 'no wind, level runway, standard air at sea level, the weight flown',
    })),
  remarks: ['Slope not given: taken as level, give or take half a per cent.'],
};

export function exampleOverlay(): OverlayView {
  const others = ['overlay-a', 'overlay-b'].map((seed) =>
    openedFlight(seed, { receiver: 'handheld', weather: 'fair', aeroplane: 'trainer', length: 'short' }),
  );
  return {
    tracks: [
      { file: 'file:///a/morning.gpx', configuration: 'before' },
      { file: 'file:///a/noon.gpx', configuration: 'before' },
      { file: 'file:///a/evening.gpx', configuration: 'after' },
    ],
    runs: [exampleFlight, ...others].flatMap((opened, index) =>
      opened.flight.analysis.takeoffs.slice(0, 1).map((takeoff) => ({
        file: `file:///a/${['morning', 'noon', 'evening'][index]}.gpx`,
        number: 1,
        label: `${['morning', 'noon', 'evening'][index]}.gpx`,
        configuration: index === 2 ? 'after' : 'before',
        curve: takeoffCurve(opened.columns, takeoff),
      })),
    ),
    problems: [
      { code: 'overlay-left-out', severity: 'warning', message: 'It holds no take-off.', at: { file: 'taxi.gpx' } },
    ],
    settings: exampleFlight.settings,
  };
}
