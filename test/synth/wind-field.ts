import { GaussMarkov, type Random } from './random.ts';

/**
 * The moving air of one flight: a mean that grows and veers with height, slow changes over minutes, gusts of the length
 * of the Dryden form (first order along the path), thermals up to the mixing height and a slow wave. Own choice of
 * sizes; the shape near the ground is the logarithmic law over short grass (roughness 0.03 m, common practice).
 */
export interface WindPlan {
  /** True direction from which it blows at 10 m, and its speed there. */
  readonly fromRad: number;
  readonly speedMps: number;
  /** Speed at 1,000 m above the field over that at 10 m. */
  readonly upperFactor: number;
  /** Turning to the right from the ground to 1,000 m. */
  readonly veerRad: number;
  readonly gustSigmaMps: number;
  readonly gustLengthM: number;
  readonly slowSigmaMps: number;
  readonly slowTauS: number;
  readonly thermalSigmaMps: number;
  readonly mixingHeightM: number;
  readonly waveSigmaMps: number;
}

export const stillAir: WindPlan = {
  fromRad: 0,
  speedMps: 0,
  upperFactor: 1,
  veerRad: 0,
  gustSigmaMps: 0,
  gustLengthM: 200,
  slowSigmaMps: 0,
  slowTauS: 600,
  thermalSigmaMps: 0,
  mixingHeightM: 1000,
  waveSigmaMps: 0,
};

const roughnessM = 0.03;
const logAtTen = Math.log(10 / roughnessM);
const surfaceLayerM = 80;
const logTop = Math.log(surfaceLayerM / roughnessM) / logAtTen;

/** Mean speed at a height above ground over the speed at 10 m. */
export function profileFactor(heightM: number, upperFactor: number): number {
  const lowest = Math.max(heightM, 0.5);
  if (lowest < surfaceLayerM) return Math.log(lowest / roughnessM) / logAtTen;
  const upper = Math.max(upperFactor, logTop);
  return logTop + (upper - logTop) * Math.min(1, (lowest - surfaceLayerM) / (1000 - surfaceLayerM));
}

export class WindField {
  /** Where the air goes, m/s. */
  eastMps = 0;
  northMps = 0;
  upMps = 0;
  private readonly slowEast: GaussMarkov;
  private readonly slowNorth: GaussMarkov;
  private readonly wave: GaussMarkov;
  private gustEast = 0;
  private gustNorth = 0;
  private gustUp = 0;
  private thermal = 0;
  private sinceSlowS = 1;

  constructor(
    readonly plan: WindPlan,
    private readonly random: Random,
  ) {
    this.slowEast = new GaussMarkov(random.fork('slow-east'), plan.slowSigmaMps, plan.slowTauS);
    this.slowNorth = new GaussMarkov(random.fork('slow-north'), plan.slowSigmaMps, plan.slowTauS);
    this.wave = new GaussMarkov(random.fork('wave'), plan.waveSigmaMps, 240);
    this.gustEast = random.normal(0, plan.gustSigmaMps);
    this.gustNorth = random.normal(0, plan.gustSigmaMps);
    this.advance(0, 10, 0);
  }

  /** Moves on by `stepS` and sets the wind at `heightM` above the ground for an aeroplane at `airspeedMps`. */
  advance(stepS: number, heightM: number, airspeedMps: number): void {
    const { plan } = this;
    this.sinceSlowS += stepS;
    if (this.sinceSlowS >= 1) {
      this.slowEast.advance(this.sinceSlowS);
      this.slowNorth.advance(this.sinceSlowS);
      this.wave.advance(this.sinceSlowS);
      this.sinceSlowS = 0;
    }
    const factor = profileFactor(heightM, plan.upperFactor);
    const fromRad = plan.fromRad + plan.veerRad * Math.min(1, Math.max(0, heightM) / 1000);
    const speed = plan.speedMps * factor;
    // Near the ground slow changes shrink with the mean, and vertical motion dies out.
    const nearGround = Math.min(1, factor);
    this.eastMps = -speed * Math.sin(fromRad) + this.slowEast.value * nearGround;
    this.northMps = -speed * Math.cos(fromRad) + this.slowNorth.value * nearGround;
    this.upMps = 0;
    if (plan.gustSigmaMps > 0) {
      const tau = plan.gustLengthM / Math.max(4, airspeedMps, plan.speedMps);
      const keep = 1 - Math.min(0.5, stepS / tau);
      const kick = plan.gustSigmaMps * Math.sqrt(1 - keep * keep);
      this.gustEast = keep * this.gustEast + kick * this.random.normal();
      this.gustNorth = keep * this.gustNorth + kick * this.random.normal();
      this.gustUp = keep * this.gustUp + kick * this.random.normal();
      this.eastMps += this.gustEast * nearGround;
      this.northMps += this.gustNorth * nearGround;
      this.upMps += 0.6 * this.gustUp * Math.min(1, Math.max(0, heightM) / 100);
    }
    if (plan.thermalSigmaMps > 0) {
      const keep = 1 - Math.min(0.5, stepS / (900 / Math.max(15, airspeedMps)));
      this.thermal = keep * this.thermal + plan.thermalSigmaMps * Math.sqrt(1 - keep * keep) * this.random.normal();
      const relative = Math.max(0, heightM) / plan.mixingHeightM;
      // Strongest in the lower half of the mixed layer, gone above it.
      const shape = relative >= 1.1 ? 0 : Math.min(1, 4 * relative) * Math.min(1, 2.2 - 2 * relative);
      this.upMps += this.thermal * Math.max(0, shape);
    }
    this.upMps += this.wave.value * Math.min(1, Math.max(0, heightM) / 300);
  }
}
