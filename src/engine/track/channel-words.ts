import type { ChannelName } from './track.ts';

/** Channels in the words of the trade. */
export const channelWords: Readonly<Record<string, string>> = {
  indicatedAirspeedMps: 'indicated airspeed',
  trueAirspeedMps: 'true airspeed',
  outsideAirTemperatureK: 'outside air temperature',
  engineSpeedRpm: 'engine speed',
  manifoldPressurePa: 'manifold pressure',
  fuelFlowM3ps: 'fuel flow',
  fuelQuantityM3: 'fuel quantity',
  fuelUsedM3: 'fuel used',
  pitchRad: 'pitch',
  rollRad: 'bank',
  headingRad: 'heading',
  engineNoise: 'engine noise',
  windSpeedMps: 'wind speed',
  windFromRad: 'wind direction',
  accelerationForwardMps2: 'acceleration',
  accelerationUpMps2: 'vertical acceleration',
} satisfies Record<ChannelName, string>;
