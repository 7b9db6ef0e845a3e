import type { Random } from './random.ts';

/**
 * What the wheels send up from an uneven ground: a quarter of a vehicle (ordinary practice of vehicle dynamics): sprung
 * mass on a leg of little damping, a wheel, a soft tyre. The ground is a random profile whose slope is white along the
 * way, `G(n) = G(n0) (n / n0)^-2` with n0 = 0.1 a metre (ISO 8608, from memory). As the wing takes the weight the tyre
 * skips and sends less; in the air nothing more comes, and what still swings dies away.
 */
export class WheelShake {
  private ground = 0;
  private wheel = 0;
  private wheelMps = 0;
  private body = 0;
  private bodyMps = 0;
  private readonly legHz: number;
  private readonly legDamping: number;

  /** @param roughnessM3 G(n0), displacement, one-sided, m3 */
  constructor(
    private readonly roughnessM3: number,
    private readonly random: Random,
  ) {
    this.legHz = random.uniform(1.8, 2.8);
    this.legDamping = random.uniform(0.1, 0.3);
  }

  /** Upward acceleration of the body after a step, m/s2. */
  advance(stepS: number, speedMps: number, loadShare: number): number {
    const omega = 2 * Math.PI * this.legHz;
    const leg = omega * omega;
    const damping = 2 * this.legDamping * omega;
    const wheelMass = 0.06;
    const tyre = wheelMass * (2 * Math.PI * 14) ** 2 - leg;
    const contact = Math.min(1, loadShare / skippingBelow);
    const substeps = 2;
    const dt = stepS / substeps;
    let acceleration = 0;
    for (let i = 0; i < substeps; i++) {
      // Spectral density of the vertical speed of the ground under the wheel, one-sided: (2 pi n0)^2 G(n0) V.
      const density = (2 * Math.PI * 0.1) ** 2 * this.roughnessM3 * Math.abs(speedMps);
      this.ground += this.random.normal() * Math.sqrt((density / 2) * dt) - 2 * Math.PI * 0.2 * this.ground * dt;
      const legForce = leg * (this.wheel - this.body) + damping * (this.wheelMps - this.bodyMps);
      const tyreForce = contact * (tyre * (this.ground - this.wheel) - 0.5 * this.wheelMps);
      acceleration = legForce;
      this.bodyMps += legForce * dt;
      this.wheelMps += ((tyreForce - legForce) / wheelMass) * dt;
      this.body += this.bodyMps * dt;
      this.wheel += this.wheelMps * dt;
    }
    if (contact === 0) {
      // Nothing holds the body up here: the flight does, which the motion contains already.
      this.bodyMps *= Math.exp(-stepS / 0.3);
      this.body *= Math.exp(-stepS / 0.3);
      this.wheelMps *= Math.exp(-stepS / 0.3);
      this.ground *= Math.exp(-stepS / 0.3);
    }
    return acceleration;
  }
}

/** With less of the weight than this on them the wheels skip (own choice). */
const skippingBelow = 0.2;
