import { GrowingColumn } from '../samples/sample-table.ts';

/** Cameras sample 200 times a second; averages over a fortieth keep what an aeroplane and its wheels do. */
export const binS = 0.025;

/** A film longer than a day is not believed. */
const mostBins = (24 * 3600) / binS;

export type Force = readonly [x: number, y: number, z: number];

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

  /**
   * The average over a stretch of film time around an instant, weighed by a raised cosine (Hann): even averages let
   * the engine through, 20 to 80 times a second, this takes it down a hundredfold. `undefined` where most is missing.
   */
  around(videoS: number, halfWidthS: number): Force | undefined {
    let [x, y, z, weights, all] = [0, 0, 0, 0, 0];
    const first = Math.ceil((videoS - halfWidthS) / binS - 0.5);
    const last = Math.floor((videoS + halfWidthS) / binS - 0.5);
    for (let bin = first; bin <= last; bin++) {
      const weight = 1 + Math.cos((Math.PI * ((bin + 0.5) * binS - videoS)) / halfWidthS);
      all += weight;
      const count = bin >= 0 && bin < this.bins ? this.#counts.get(bin) : Number.NaN;
      if (!(count > 0)) continue;
      weights += weight;
      x += (weight * this.#sumX.get(bin)) / count;
      y += (weight * this.#sumY.get(bin)) / count;
      z += (weight * this.#sumZ.get(bin)) / count;
    }
    return weights > 0.5 * all ? [x / weights, y / weights, z / weights] : undefined;
  }
}
