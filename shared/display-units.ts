/** In which units results are shown. SI stays inside; these are used by `format.ts` alone. */
export interface DisplayUnits {
  /** Along the ground: rolls, distances over an obstacle. */
  readonly length: 'm' | 'ft';
  readonly altitude: 'm' | 'ft';
  readonly speed: 'm/s' | 'kt' | 'mph' | 'km/h';
  readonly verticalSpeed: 'm/s' | 'ft/min';
  readonly mass: 'kg' | 'lb';
  readonly volume: 'L' | 'US gal' | 'imp gal';
  readonly temperature: 'degC' | 'degF';
  readonly pressure: 'hPa' | 'inHg';
}

/**
 * Ready-made sets. `icao`: metres on the ground, feet in the air, knots (the non-SI alternatives that ICAO Annex 5
 * permits for altitude, speed and vertical speed; from memory). `us`: as flown in the United States. `metric`: SI and
 * the units used with it.
 */
export const displayUnitSets = {
  icao: {
    length: 'm',
    altitude: 'ft',
    speed: 'kt',
    verticalSpeed: 'ft/min',
    mass: 'kg',
    volume: 'L',
    temperature: 'degC',
    pressure: 'hPa',
  },
  us: {
    length: 'ft',
    altitude: 'ft',
    speed: 'kt',
    verticalSpeed: 'ft/min',
    mass: 'lb',
    volume: 'US gal',
    temperature: 'degC',
    pressure: 'inHg',
  },
  metric: {
    length: 'm',
    altitude: 'm',
    speed: 'km/h',
    verticalSpeed: 'm/s',
    mass: 'kg',
    volume: 'L',
    temperature: 'degC',
    pressure: 'hPa',
  },
} as const satisfies Record<string, DisplayUnits>;

export type DisplayUnitSet = keyof typeof displayUnitSets;

export const defaultDisplayUnits: DisplayUnits = displayUnitSets.icao;

/** The words each kind of quantity may be shown in, for menus, completion and checks. */
export const displayUnitChoices: { readonly [K in keyof DisplayUnits]: readonly DisplayUnits[K][] } = {
  length: ['m', 'ft'],
  altitude: ['ft', 'm'],
  speed: ['kt', 'mph', 'km/h', 'm/s'],
  verticalSpeed: ['ft/min', 'm/s'],
  mass: ['kg', 'lb'],
  volume: ['L', 'US gal', 'imp gal'],
  temperature: ['degC', 'degF'],
  pressure: ['hPa', 'inHg'],
};
