import { type AccelerometerKind, cameraAccelerometer } from './accelerometer.ts';

/**
 * What each kind of recorder does to the truth. Sizes are our own choice from the ranges of ordinary practice (position
 * wandering by metres over minutes, velocity filtered and a few tenths of a second late, heights worse than positions);
 * they are not those of any particular make. Every fault is drawn anew for each recording.
 */
export interface ReceiverKind {
  readonly label: string;
  readonly rateHz: number;
  /** Correlated position errors, one sigma per axis with their correlation times, and uncorrelated noise, metres. */
  readonly position: readonly { readonly sigmaM: number; readonly tauS: number }[];
  readonly positionNoiseM: number;
  readonly positionLagS: number;
  readonly height: readonly { readonly sigmaM: number; readonly tauS: number }[];
  readonly heightNoiseM: number;
  readonly heightLagS: number;
  readonly heightOffsetSigmaM: number;
  readonly heightDatum: 'msl' | 'ellipsoid';
  /** Absent: the recorder writes no speed. */
  readonly velocity?: {
    readonly noiseMps: number;
    readonly driftMps: number;
    readonly lagS: number;
  };
  readonly verticalVelocity?: { readonly noiseMps: number; readonly lagS: number };
  /** Standing still is written as the same position and zero speed. */
  readonly freezesAtRest: boolean;
  readonly pressure?: {
    readonly offsetSigmaM: number;
    readonly noiseM: number;
    readonly lagS: number;
    readonly cabinPerQ: number;
  };
  /** A camera's, on its own clock; only films hold it. */
  readonly accelerometer?: AccelerometerKind;
  readonly airData?: boolean;
  readonly engineData?: boolean;
  /** Probabilities a sample. */
  readonly missing: number;
  readonly duplicate: number;
  readonly outlier: number;
  /** Probability of a longer gap in a recording. */
  readonly gap: number;
  /** Late first fix: mean seconds. Cameras write made-up fixes before it. */
  readonly firstFixS: number;
  readonly writesBeforeFix: boolean;
  /** Times rounded to whole seconds although samples are not. */
  readonly wholeSeconds: boolean;
  readonly steps: {
    readonly positionDeg: number;
    readonly heightM: number;
    readonly speedMps: number;
    readonly verticalSpeedMps: number;
  };
  /** The recorder states its own accuracy (too good, as such statements are). */
  readonly claims?: { readonly horizontalM: number; readonly verticalM: number; readonly speedMps: number };
}

const wandering = [
  { sigmaM: 2.4, tauS: 140 },
  { sigmaM: 0.5, tauS: 15 },
] as const;

const handheld: ReceiverKind = {
  label: 'handheld, 1 Hz, with speed',
  rateHz: 1,
  position: wandering,
  positionNoiseM: 0.2,
  positionLagS: 0.35,
  height: [
    { sigmaM: 3.5, tauS: 160 },
    { sigmaM: 0.8, tauS: 20 },
  ],
  heightNoiseM: 0.35,
  heightLagS: 0.6,
  heightOffsetSigmaM: 4,
  heightDatum: 'msl',
  velocity: { noiseMps: 0.1, driftMps: 0.03, lagS: 0.45 },
  freezesAtRest: true,
  missing: 0.003,
  duplicate: 0.0005,
  outlier: 0.0001,
  gap: 0.25,
  firstFixS: 25,
  writesBeforeFix: false,
  wholeSeconds: false,
  steps: { positionDeg: 1e-7, heightM: 0.1, speedMps: 0.01, verticalSpeedMps: 0.01 },
};

const good5: ReceiverKind = {
  ...handheld,
  label: 'good receiver, 5 Hz',
  rateHz: 5,
  position: [
    { sigmaM: 1.2, tauS: 200 },
    { sigmaM: 0.2, tauS: 10 },
  ],
  positionNoiseM: 0.05,
  positionLagS: 0.1,
  height: [
    { sigmaM: 2.2, tauS: 150 },
    { sigmaM: 0.5, tauS: 20 },
  ],
  heightNoiseM: 0.12,
  heightLagS: 0.15,
  heightOffsetSigmaM: 1.5,
  velocity: { noiseMps: 0.07, driftMps: 0.02, lagS: 0.18 },
  freezesAtRest: false,
  missing: 0.001,
  duplicate: 0.0002,
  gap: 0.1,
  steps: { positionDeg: 1.7e-7, heightM: 0.1, speedMps: 0.005, verticalSpeedMps: 0.01 },
};

const kinds = {
  handheld,
  /** Positions only. */
  'handheld-no-speed': { ...handheld, label: 'handheld, 1 Hz, positions only', velocity: undefined },
  good5,
  /** As good5, and writes its vertical velocity. */
  'good5-vertical': {
    ...good5,
    label: 'good receiver, 5 Hz, with vertical velocity',
    verticalVelocity: { noiseMps: 0.12, lagS: 0.25 },
  },
  good10: {
    ...good5,
    label: 'good receiver, 10 Hz',
    rateHz: 10,
    velocity: { noiseMps: 0.07, driftMps: 0.02, lagS: 0.14 },
  },
  camera18: {
    ...handheld,
    label: 'camera, 18 Hz, poor height',
    rateHz: 18.169,
    position: [
      { sigmaM: 2.6, tauS: 110 },
      { sigmaM: 0.4, tauS: 8 },
    ],
    positionNoiseM: 0.08,
    positionLagS: 0.35,
    height: [
      { sigmaM: 5.5, tauS: 100 },
      { sigmaM: 1.4, tauS: 12 },
    ],
    heightNoiseM: 0.12,
    heightLagS: 0.9,
    heightOffsetSigmaM: 6,
    heightDatum: 'ellipsoid',
    velocity: { noiseMps: 0.14, driftMps: 0.04, lagS: 0.4 },
    freezesAtRest: false,
    missing: 0,
    duplicate: 0,
    firstFixS: 40,
    writesBeforeFix: true,
    steps: { positionDeg: 1e-7, heightM: 0.001, speedMps: 0.001, verticalSpeedMps: 0.01 },
  },
  camera10: {
    ...handheld,
    label: 'camera, 10 Hz',
    rateHz: 10,
    height: [
      { sigmaM: 4.5, tauS: 120 },
      { sigmaM: 1.4, tauS: 12 },
    ],
    heightNoiseM: 0.1,
    heightLagS: 0.7,
    heightOffsetSigmaM: 5,
    velocity: { noiseMps: 0.11, driftMps: 0.03, lagS: 0.35 },
    freezesAtRest: false,
    missing: 0,
    duplicate: 0,
    firstFixS: 30,
    writesBeforeFix: true,
    steps: { positionDeg: 1e-7, heightM: 0.001, speedMps: 0.001, verticalSpeedMps: 0.01 },
  },
  phone: {
    ...handheld,
    label: 'telephone, 1 Hz',
    position: [
      { sigmaM: 2.8, tauS: 90 },
      { sigmaM: 0.9, tauS: 12 },
    ],
    positionNoiseM: 0.3,
    positionLagS: 0.5,
    height: [
      { sigmaM: 4.5, tauS: 110 },
      { sigmaM: 1.2, tauS: 15 },
    ],
    heightNoiseM: 0.9,
    heightLagS: 0.8,
    heightDatum: 'ellipsoid',
    velocity: { noiseMps: 0.17, driftMps: 0.05, lagS: 0.5 },
    freezesAtRest: false,
    gap: 0.35,
    steps: { positionDeg: 1e-6, heightM: 0.1, speedMps: 0.01, verticalSpeedMps: 0.01 },
  },
  /** Glider-type logger: positions to a thousandth of a minute, whole metres, pressure altitude, no speed. */
  logger: {
    ...handheld,
    label: 'logger, 1 Hz, coarse positions, pressure altitude',
    velocity: undefined,
    position: [
      { sigmaM: 1.8, tauS: 150 },
      { sigmaM: 0.3, tauS: 12 },
    ],
    positionNoiseM: 0.1,
    positionLagS: 0.2,
    heightLagS: 0.3,
    heightDatum: 'ellipsoid',
    freezesAtRest: false,
    pressure: { offsetSigmaM: 10, noiseM: 0.4, lagS: 0.4, cabinPerQ: 0.004 },
    claims: { horizontalM: 3.5, verticalM: 5, speedMps: 0.1 },
    steps: { positionDeg: 0.001 / 60, heightM: 1, speedMps: 0, verticalSpeedMps: 0 },
  },
  panel: {
    ...handheld,
    label: 'panel recorder, 1 Hz, air and engine data',
    position: good5.position,
    positionNoiseM: 0.1,
    positionLagS: 0.15,
    height: good5.height,
    heightNoiseM: 0.2,
    heightLagS: 0.3,
    velocity: { noiseMps: 0.08, driftMps: 0.03, lagS: 0.25 },
    verticalVelocity: { noiseMps: 0.1, lagS: 0.8 },
    freezesAtRest: false,
    firstFixS: 4,
    pressure: { offsetSigmaM: 6, noiseM: 0.4, lagS: 0.3, cabinPerQ: 0 },
    airData: true,
    engineData: true,
    steps: { positionDeg: 1e-6, heightM: 0.3048, speedMps: 0.0514, verticalSpeedMps: 0.05 },
  },
  /** Telephone film with the velocity vector and its own statement of accuracy, 1 Hz. */
  'film-vertical': {
    ...handheld,
    label: 'film, 1 Hz, with vertical velocity',
    position: [
      { sigmaM: 2.4, tauS: 90 },
      { sigmaM: 0.6, tauS: 12 },
    ],
    heightDatum: 'ellipsoid',
    velocity: { noiseMps: 0.1, driftMps: 0.04, lagS: 0.4 },
    verticalVelocity: { noiseMps: 0.15, lagS: 0.4 },
    freezesAtRest: false,
    missing: 0.001,
    duplicate: 0,
    claims: { horizontalM: 3, verticalM: 4.5, speedMps: 0.15 },
    steps: { positionDeg: 1e-9, heightM: 0.001, speedMps: 0.001, verticalSpeedMps: 0.001 },
  },
  /** The same at 10 Hz: the best consumer record of a lift-off. */
  'film-vertical-10': {
    ...good5,
    label: 'film, 10 Hz, with vertical velocity',
    rateHz: 10,
    heightDatum: 'ellipsoid',
    velocity: { noiseMps: 0.08, driftMps: 0.03, lagS: 0.3 },
    verticalVelocity: { noiseMps: 0.12, lagS: 0.3 },
    duplicate: 0,
    claims: { horizontalM: 1.5, verticalM: 2.5, speedMps: 0.1 },
    steps: { positionDeg: 1e-9, heightM: 0.001, speedMps: 0.001, verticalSpeedMps: 0.001 },
  },
  /** 5 Hz samples whose written times are cut to whole seconds. */
  'whole-seconds': { ...good5, label: '5 Hz, times in whole seconds', wholeSeconds: true },
} as const satisfies Record<string, ReceiverKind>;

export const receiverKinds = {
  ...kinds,
  /** The cameras again, with what their accelerometers felt. */
  'camera18-force': {
    ...kinds.camera18,
    label: 'camera, 18 Hz, poor height, with accelerometer',
    accelerometer: cameraAccelerometer,
  },
  'camera10-force': {
    ...kinds.camera10,
    label: 'camera, 10 Hz, with accelerometer',
    accelerometer: cameraAccelerometer,
  },
} as const satisfies Record<string, ReceiverKind>;

export type ReceiverName = keyof typeof receiverKinds;

/** Kinds that are drawn where none is asked for. */
export const drawnReceivers = Object.keys(kinds) as (keyof typeof kinds)[];
