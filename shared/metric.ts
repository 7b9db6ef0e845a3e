import type { QuantityKind } from './format.ts';

/**
 * The names of metrics, as written in a spec and in machine-readable output, with what a reader needs to know of each.
 * `distance-over` is a family: the height, in whole metres, ends the name (`distance-over-15m` is 50 ft).
 */
export interface MetricFacts {
  readonly name: string;
  /** Heading, sentence case. */
  readonly title: string;
  /** One sentence: what it is. */
  readonly doc: string;
  readonly kind: QuantityKind;
  readonly better: 'smaller' | 'larger' | 'neither';
  /** What must be written beside the name: a height, a rate, or nothing. */
  readonly needs?: 'height' | 'rate';
}

export const metricFacts: readonly MetricFacts[] = [
  {
    name: 'ground-roll',
    title: 'Ground roll',
    doc: 'Distance along the runway from brake release until the main wheels leave the ground.',
    kind: 'length',
    better: 'smaller',
  },
  {
    name: 'ground-roll-at-equal-speed',
    title: 'Ground roll at equal lift-off speed',
    doc: 'The ground roll as if the aeroplane always left the ground at the same airspeed for its weight: what acceleration did. Notes of the wind and technique hardly touch it; a change of the lift-off speed itself (wing, flaps, technique) is not in it.',
    kind: 'length',
    better: 'smaller',
  },
  {
    name: 'distance-over',
    title: 'Distance over an obstacle',
    doc: 'Distance along the ground from brake release until the wheels are at the stated height above the point of lift-off.',
    kind: 'length',
    better: 'smaller',
    needs: 'height',
  },
  {
    name: 'liftoff-speed',
    title: 'Lift-off speed',
    doc: 'True airspeed at lift-off, or ground speed when as flown: a matter of technique as much as of the aeroplane.',
    kind: 'speed',
    better: 'neither',
  },
  {
    name: 'time-to-liftoff',
    title: 'Time to lift-off',
    doc: 'Time from brake release to lift-off.',
    kind: 'time',
    better: 'smaller',
  },
  {
    name: 'rate-of-climb',
    title: 'Rate of climb',
    doc: 'Rate of climb at the reference density altitude, corrected for gain or loss of speed.',
    kind: 'vertical-speed',
    better: 'larger',
  },
  {
    name: 'best-minute-climb',
    title: 'Best sustained minute of climb',
    doc: 'The highest mean rate of climb over any one minute of a climb.',
    kind: 'vertical-speed',
    better: 'larger',
  },
  {
    name: 'climb-gradient',
    title: 'Climb gradient',
    doc: 'Height gained for distance covered.',
    kind: 'ratio',
    better: 'larger',
  },
  {
    name: 'climb-held-to',
    title: 'Climb held to',
    doc: 'Density altitude up to which the stated rate of climb is held.',
    kind: 'altitude',
    better: 'larger',
    needs: 'rate',
  },
  {
    name: 'service-ceiling',
    title: 'Service ceiling',
    doc: 'Density altitude at which the rate of climb has fallen to 100 ft/min; nearly always an extrapolation.',
    kind: 'altitude',
    better: 'larger',
  },
  {
    name: 'level-speed',
    title: 'Level speed',
    doc: 'True airspeed in steady level flight at the noted power setting.',
    kind: 'speed',
    better: 'larger',
  },
  {
    name: 'fuel-flow',
    title: 'Fuel flow',
    doc: 'Fuel flow in steady level flight at the noted power setting.',
    kind: 'fuel-flow',
    better: 'smaller',
  },
  {
    name: 'fuel-burn',
    title: 'Fuel burn',
    doc: 'Fuel used over the whole flight for each hour of it.',
    kind: 'fuel-flow',
    better: 'smaller',
  },
  {
    name: 'landing-roll',
    title: 'Landing roll',
    doc: 'Distance along the runway from touchdown to the end of the roll.',
    kind: 'length',
    better: 'smaller',
  },
  {
    name: 'empty-weight',
    title: 'Empty weight',
    doc: 'Empty weight of the configuration, as weighed.',
    kind: 'mass',
    better: 'smaller',
  },
];

/** `distance-over-15m` for 15.24 m. */
export function distanceOverName(heightM: number): `distance-over-${number}m` {
  return `distance-over-${Math.round(heightM)}m`;
}

/** The facts of a metric by its full name, `distance-over-15m` included; undefined for an unknown name. */
export function factsOf(metric: string): MetricFacts | undefined {
  const family = /^distance-over-\d+m$/.test(metric) ? 'distance-over' : metric;
  return metricFacts.find((facts) => facts.name === family);
}
