import type { Aeroplane } from './aeroplane.ts';

/**
 * Engine and propeller: thrust, engine speed and fuel flow from throttle, airspeed and density.
 *
 * Power with density of a normally aspirated engine: P/P0 = 1.1324 s - 0.1324 (SFTE reference handbook, 2013, ch. 10),
 * with s taken from the dry part of the air, since water vapour does not burn. Fixed pitch: thrust and power
 * coefficients fall with the advance ratio (shape chosen by hand to give a peak efficiency near 0.8). Constant speed:
 * thrust from momentum theory with a share of the power lost.
 */
const seaLevelDensity = 1.225;
const inertiaKgM2 = 0.9;
const idleRpm = 850;

/** Share of rated power at full throttle and rated rpm. */
export function powerFactor(aeroplane: Aeroplane, dryDensityKgM3: number, heightM: number): number {
  const critical = aeroplane.engine.criticalAltitudeM;
  const sigma = dryDensityKgM3 / seaLevelDensity;
  const aspirated = 1.1324 * sigma - 0.1324;
  if (critical === undefined) return aspirated;
  if (heightM <= critical) return 1;
  return Math.min(1, aspirated / (1.1324 * (1 - 6.8755856e-6 * (critical / 0.3048)) ** 4.25588 - 0.1324));
}

/** Thrust coefficient and power coefficient of the fixed-pitch propeller at an advance ratio. */
export function propellerCoefficients(
  pitchToDiameter: number,
  advanceRatio: number,
): { thrust: number; power: number } {
  const zeroThrust = 1.12 * pitchToDiameter + 0.12;
  const x = advanceRatio / zeroThrust;
  return {
    thrust: 0.096 * (1 - 0.2 * x - 0.8 * x * x),
    power: 0.0535 * (pitchToDiameter / 0.715) * Math.max(0.15, 1 - 0.63 * x * x),
  };
}

export class Powerplant {
  thrustN = 0;
  shaftPowerW = 0;
  fuelFlowM3ps = 0;
  rpm = idleRpm;
  private readonly disc: number;

  constructor(readonly aeroplane: Aeroplane) {
    this.disc = (Math.PI * aeroplane.propeller.diameterM ** 2) / 4;
  }

  /** `throttle` 0..1; `rpmWanted` matters to the constant-speed propeller only. */
  advance(
    stepS: number,
    throttle: number,
    airspeedMps: number,
    densityKgM3: number,
    dryDensityKgM3: number,
    heightM: number,
    rpmWanted = this.aeroplane.engine.ratedRpm,
  ): void {
    const { engine, propeller } = this.aeroplane;
    const available = engine.ratedPowerW * powerFactor(this.aeroplane, dryDensityKgM3, heightM);
    if (propeller.kind === 'fixed-pitch') {
      const omega = (this.rpm * Math.PI) / 30;
      const ratedOmega = (engine.ratedRpm * Math.PI) / 30;
      // Torque is nearly flat with engine speed; the throttle sets its size, with a little left at idle.
      const torque =
        (available / ratedOmega) * (0.035 + 0.965 * throttle) * (1.12 - 0.12 * (omega / ratedOmega)) -
        (1 - throttle) * 0.03 * (engine.ratedPowerW / ratedOmega) * (omega / ratedOmega);
      const turns = this.rpm / 60;
      const diameter = propeller.diameterM;
      const c = propellerCoefficients(propeller.pitchM / diameter, airspeedMps / (turns * diameter));
      const load = (c.power * densityKgM3 * turns * turns * diameter ** 5) / (2 * Math.PI);
      this.rpm = Math.max(500, this.rpm + ((torque - load) / inertiaKgM2) * stepS * (30 / Math.PI));
      this.thrustN = c.thrust * densityKgM3 * turns * turns * diameter ** 4;
      this.shaftPowerW = Math.max(0, load * omega);
    } else {
      const wanted = throttle < 0.12 ? idleRpm + throttle * 6000 : rpmWanted;
      this.rpm += (wanted - this.rpm) * Math.min(1, stepS / 0.8);
      this.shaftPowerW = available * throttle * (this.rpm / engine.ratedRpm) ** 0.9;
      this.thrustN = momentumThrust(this.shaftPowerW, airspeedMps, densityKgM3, this.disc, propeller);
      // A windmilling propeller drags when the throttle is closed.
      if (throttle < 0.1)
        this.thrustN -= 0.06 * (1 - throttle / 0.1) * 0.5 * densityKgM3 * airspeedMps ** 2 * this.disc;
    }
    this.fuelFlowM3ps = engine.idleFuelM3ps + engine.fuelM3PerJ * this.shaftPowerW * (throttle > 0.95 ? 1.16 : 1);
  }
}

/** Thrust that absorbs `power` at `airspeed` by momentum theory, less the losses; Newton's method. */
export function momentumThrust(
  powerW: number,
  airspeedMps: number,
  densityKgM3: number,
  discM2: number,
  propeller: { readonly staticMerit: number; readonly cruiseMerit: number },
): number {
  if (powerW <= 0) return 0;
  const x = Math.min(1, airspeedMps / 60);
  const merit = propeller.staticMerit + (propeller.cruiseMerit - propeller.staticMerit) * (2 * x - x * x);
  const useful = powerW * merit;
  let thrust = Math.min((2 * densityKgM3 * discM2 * useful * useful) ** (1 / 3), useful / Math.max(1, airspeedMps));
  for (let i = 0; i < 4; i++) {
    const root = Math.sqrt((airspeedMps * airspeedMps) / 4 + thrust / (2 * densityKgM3 * discM2));
    const value = thrust * (airspeedMps / 2 + root) - useful;
    const slope = airspeedMps / 2 + root + thrust / (4 * densityKgM3 * discM2 * root);
    thrust -= value / slope;
  }
  return thrust;
}
