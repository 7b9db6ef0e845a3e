/** An invented airfield at sea. East and north are metres from the threshold at which `headingRad` begins. */
export interface Airfield {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
  /** True heading of the runway in its first direction; the other is its reciprocal. */
  readonly headingRad: number;
  readonly lengthM: number;
  /** Tangent, positive uphill along `headingRad`. */
  readonly slope: number;
  readonly surface: 'paved' | 'grass';
  readonly rollingFriction: number;
  readonly geoidHeightM: number;
}

/** One direction of use of the runway. */
export interface RunwayEnd {
  readonly name: string;
  readonly headingRad: number;
  readonly startEastM: number;
  readonly startNorthM: number;
  readonly elevationM: number;
  readonly slope: number;
}

export function runwayEnds(field: Airfield): readonly [RunwayEnd, RunwayEnd] {
  const { headingRad, lengthM, slope, elevationM } = field;
  const other = (headingRad + Math.PI) % (2 * Math.PI);
  return [
    { name: runwayName(headingRad), headingRad, startEastM: 0, startNorthM: 0, elevationM, slope },
    {
      name: runwayName(other),
      headingRad: other,
      startEastM: lengthM * Math.sin(headingRad),
      startNorthM: lengthM * Math.cos(headingRad),
      elevationM: elevationM + slope * lengthM,
      slope: -slope,
    },
  ];
}

function runwayName(headingRad: number): string {
  const tens = Math.round((headingRad * 180) / Math.PI / 10) % 36;
  return String(tens === 0 ? 36 : tens).padStart(2, '0');
}

/** Height of the ground: the plane of the sloping runway. */
export function groundHeight(field: Airfield, eastM: number, northM: number): number {
  const along = eastM * Math.sin(field.headingRad) + northM * Math.cos(field.headingRad);
  const onField = Math.max(-300, Math.min(field.lengthM + 300, along));
  return field.elevationM + field.slope * onField;
}

const degree = Math.PI / 180;

export const gullRock: Airfield = {
  name: 'Gull Rock',
  latDeg: -38.4127,
  lonDeg: -118.2064,
  elevationM: 64,
  headingRad: 77 * degree,
  lengthM: 900,
  slope: 0.004,
  surface: 'paved',
  rollingFriction: 0.022,
  geoidHeightM: -11.4,
};

export const samphireStrip: Airfield = {
  name: 'Samphire Strip',
  latDeg: 43.7731,
  lonDeg: -41.3052,
  elevationM: 212,
  headingRad: 146 * degree,
  lengthM: 650,
  slope: 0.021,
  surface: 'grass',
  rollingFriction: 0.06,
  geoidHeightM: 37.2,
};

export const cloudTerrace: Airfield = {
  name: 'Cloud Terrace',
  latDeg: -12.8809,
  lonDeg: -96.1177,
  elevationM: 2500,
  headingRad: 12 * degree,
  lengthM: 2600,
  slope: -0.006,
  surface: 'paved',
  rollingFriction: 0.023,
  geoidHeightM: 18.8,
};

export const longHaven: Airfield = {
  name: 'Long Haven',
  latDeg: 51.2204,
  lonDeg: -28.4418,
  elevationM: 9,
  headingRad: 238 * degree,
  lengthM: 1500,
  slope: 0,
  surface: 'paved',
  rollingFriction: 0.021,
  geoidHeightM: 59.6,
};

export const airfields = { gullRock, samphireStrip, cloudTerrace, longHaven } as const;
export type AirfieldName = keyof typeof airfields;
