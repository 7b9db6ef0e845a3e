import { GrowingColumn } from '../samples/sample-table.ts';

/** Cameras sample 200 times a second; averages over a twentieth keep what an aeroplane does and little of its vibration. */
export const binS = 0.05;

/** A film longer than a day is not believed. */
const mostBins = (24 * 3600) / binS;

/** Specific force in the camera's axes, m/s2, averaged over bins of film time. */
export class BinnedForce {
  readonly #sumX = new GrowingColumn();
  readonly #sumY = new GrowingColumn();
  readonly #sumZ = new GrowingColumn();
  readonly #counts = new GrowingColumn();
  bins = 0;
  samples = 0;

  add(videoS: number, x: number, y: number, z: number): void {
    const bin = Math.floor(videoS / binS);
    if (!(bin >= 0 && bin < mostBins) || !Number.isFinite(x + y + z)) return;
    const held = this.#counts.get(bin);
    const fresh = Number.isNaN(held);
    this.#sumX.set(bin, fresh ? x : this.#sumX.get(bin) + x);
    this.#sumY.set(bin, fresh ? y : this.#sumY.get(bin) + y);
    this.#sumZ.set(bin, fresh ? z : this.#sumZ.get(bin) + z);
    this.#counts.set(bin, fresh ? 1 : held + 1);
    this.bins = Math.max(this.bins, bin + 1);
    this.samples++;
  }

  /** The average of a bin; `undefined` where there is none. */
  at(bin: number): [number, number, number] | undefined {
    const count = bin >= 0 && bin < this.bins ? this.#counts.get(bin) : Number.NaN;
    if (!(count > 0)) return undefined;
    return [this.#sumX.get(bin) / count, this.#sumY.get(bin) / count, this.#sumZ.get(bin) / count];
  }

  /** The average over a stretch of film time around an instant. */
  around(videoS: number, halfWidthS: number): [number, number, number] | undefined {
    const sum = [0, 0, 0];
    let count = 0;
    for (let bin = Math.floor((videoS - halfWidthS) / binS); bin <= Math.floor((videoS + halfWidthS) / binS); bin++) {
      const force = this.at(bin);
      if (!force) continue;
      for (let axis = 0; axis < 3; axis++) sum[axis] += force[axis];
      count++;
    }
    return count === 0 ? undefined : [sum[0] / count, sum[1] / count, sum[2] / count];
  }
}
