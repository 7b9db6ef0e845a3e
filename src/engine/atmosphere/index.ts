export * from './airspeed.ts';
export * from './constants.ts';
export * from './density.ts';
export * from './density-altitude.ts';
export { densityAltitudeNwsM } from './density-altitude-nws.ts';
export * from './pressure-altitude.ts';
export * from './pressure-rate.ts';
export * from './standard-atmosphere.ts';
export * from './vapour-pressure.ts';
