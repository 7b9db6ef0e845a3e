import type { Recording } from './receive.ts';

/**
 * The columns that a reader should give for a recording, built directly: for work on events and metrics that does not
 * want to read a file first. The shape is that of the engine's `Track` (structurally; nothing is imported from it).
 */
export interface SyntheticTrack {
  readonly timeS: Float64Array;
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
  readonly altitudes: readonly {
    readonly kind: 'msl' | 'ellipsoid' | 'pressure';
    readonly valuesM: Float64Array;
    readonly resolutionM?: number;
  }[];
  readonly groundSpeedMps?: Float64Array;
  readonly trackRad?: Float64Array;
  readonly verticalSpeedMps?: Float64Array;
  readonly horizontalSigmaM?: Float64Array;
  readonly verticalSigmaM?: Float64Array;
  readonly speedSigmaMps?: Float64Array;
  readonly breaks: readonly number[];
  readonly channels: {
    indicatedAirspeedMps?: Float64Array;
    outsideAirTemperatureK?: Float64Array;
    engineSpeedRpm?: Float64Array;
    fuelFlowM3ps?: Float64Array;
    fuelUsedM3?: Float64Array;
  };
  readonly positionResolutionM?: number;
  readonly speedResolutionMps?: number;
  readonly assumptions: readonly string[];
}

/** Rows before the first fix and exact duplicates are dropped, as a reader must. */
export function trackInMemory(recording: Recording): SyntheticTrack {
  const { kind } = recording;
  const rows = recording.fixes.filter(
    (fix, i) => fix.valid && (i === 0 || fix.trueTimeS > recording.fixes[i - 1].trueTimeS),
  );
  const column = (value: (fix: Recording['fixes'][number]) => number): Float64Array => Float64Array.from(rows, value);
  const claim = (sigma: number): Float64Array => new Float64Array(rows.length).fill(sigma);
  return {
    timeS: column((fix) => fix.trueTimeS),
    latDeg: column((fix) => fix.latDeg),
    lonDeg: column((fix) => fix.lonDeg),
    altitudes: [
      { kind: kind.heightDatum, valuesM: column((fix) => fix.heightM), resolutionM: kind.steps.heightM },
      ...(kind.pressure
        ? [
            {
              kind: 'pressure' as const,
              valuesM: column((fix) => fix.pressureAltitudeM),
              resolutionM: kind.steps.heightM,
            },
          ]
        : []),
    ],
    ...(kind.velocity && {
      groundSpeedMps: column((fix) => fix.groundSpeedMps),
      trackRad: column((fix) => fix.trackRad),
      speedResolutionMps: kind.steps.speedMps,
    }),
    ...(kind.verticalVelocity && { verticalSpeedMps: column((fix) => fix.verticalSpeedMps) }),
    ...(kind.claims && {
      horizontalSigmaM: claim(kind.claims.horizontalM),
      verticalSigmaM: claim(kind.claims.verticalM),
      speedSigmaMps: claim(kind.claims.speedMps),
    }),
    breaks: [],
    channels: {
      ...(kind.airData && {
        indicatedAirspeedMps: column((fix) => fix.indicatedAirspeedMps),
        outsideAirTemperatureK: column((fix) => fix.outsideAirTemperatureK),
      }),
      ...(kind.engineData && {
        engineSpeedRpm: column((fix) => fix.rpm),
        fuelFlowM3ps: column((fix) => fix.fuelFlowM3ps),
        fuelUsedM3: column((fix) => fix.fuelUsedM3),
      }),
    },
    ...(kind.steps.positionDeg > 1e-5 && { positionResolutionM: kind.steps.positionDeg * 111_200 }),
    assumptions: [],
  };
}
