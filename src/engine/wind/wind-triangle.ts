/** A horizontal velocity, east and north, m/s. A wind is where the air goes. */
export interface Velocity {
  readonly eastMps: number;
  readonly northMps: number;
}

const turn = 2 * Math.PI;

/** An angle brought into 0..2 pi. */
export function wholeTurn(rad: number): number {
  return ((rad % turn) + turn) % turn;
}

/** Velocity of motion in a true direction. */
export function velocityTowards(directionRad: number, speedMps: number): Velocity {
  return { eastMps: speedMps * Math.sin(directionRad), northMps: speedMps * Math.cos(directionRad) };
}

/** Velocity of the air of a wind that blows from a direction. */
export function velocityOfWind(fromRad: number, speedMps: number): Velocity {
  return velocityTowards(fromRad + Math.PI, speedMps);
}

/** Direction of motion, true, radians 0..2 pi. */
export function directionOf({ eastMps, northMps }: Velocity): number {
  return wholeTurn(Math.atan2(eastMps, northMps));
}

/** Direction a wind blows from and its speed. */
export function windOfVelocity(air: Velocity): { readonly fromRad: number; readonly speedMps: number } {
  return { fromRad: wholeTurn(directionOf(air) + Math.PI), speedMps: Math.hypot(air.eastMps, air.northMps) };
}

/**
 * Ground speed and heading on a course: GS = W.t + sqrt(TAS^2 - |W|^2 + (W.t)^2); the wind triangle of FAA-H-8083-25C ch. 16.
 * `NaN` where the wind does not let the course be flown.
 */
export function solveCourse(
  courseRad: number,
  trueAirspeedMps: number,
  air: Velocity,
): { readonly groundSpeedMps: number; readonly headingRad: number } {
  const along = air.eastMps * Math.sin(courseRad) + air.northMps * Math.cos(courseRad);
  const across = air.eastMps * Math.cos(courseRad) - air.northMps * Math.sin(courseRad);
  const groundSpeedMps = along + Math.sqrt(trueAirspeedMps ** 2 - across ** 2);
  const headingRad = wholeTurn(courseRad - Math.asin(across / trueAirspeedMps));
  return groundSpeedMps > 0 ? { groundSpeedMps, headingRad } : { groundSpeedMps: Number.NaN, headingRad: Number.NaN };
}

/** Velocity of the air from what was flown: ground velocity less air velocity. */
export function airFromTriangle(
  trackRad: number,
  groundSpeedMps: number,
  headingRad: number,
  trueAirspeedMps: number,
): Velocity {
  const ground = velocityTowards(trackRad, groundSpeedMps);
  const through = velocityTowards(headingRad, trueAirspeedMps);
  return { eastMps: ground.eastMps - through.eastMps, northMps: ground.northMps - through.northMps };
}
