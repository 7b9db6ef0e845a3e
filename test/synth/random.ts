/**
 * The simulator's own source of chance: a small fast counter generator (sfc32) seeded from text or a number, so that a
 * flight is the same on every machine. Separate from anything the engine uses.
 */
export class Random {
  private a: number;
  private b: number;
  private c: number;
  private counter = 1;
  private spare = Number.NaN;

  constructor(private readonly seed: string | number) {
    // FNV-1a over the seed's text, then three further rounds for the three words of state.
    let hash = 0x811c9dc5;
    const mix = (text: string): number => {
      for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
      return hash >>> 0;
    };
    this.a = mix(`${seed}`);
    this.b = mix('/b');
    this.c = mix('/c');
    for (let i = 0; i < 12; i++) this.next();
  }

  /** Uniform in [0, 1). */
  next(): number {
    const sum = (((this.a + this.b) | 0) + this.counter) | 0;
    this.counter = (this.counter + 1) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = (this.c << 21) | (this.c >>> 11);
    this.c = (this.c + sum) | 0;
    return (sum >>> 0) / 4294967296;
  }

  uniform(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** Whole number from `low` to `high`, both included. */
  integer(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  pick<T>(values: readonly T[]): T {
    return values[Math.floor(this.next() * values.length)];
  }

  /** Normal deviate (Marsaglia's polar method). */
  normal(mean = 0, sigma = 1): number {
    if (!Number.isNaN(this.spare)) {
      const value = this.spare;
      this.spare = Number.NaN;
      return mean + sigma * value;
    }
    for (;;) {
      const u = 2 * this.next() - 1;
      const v = 2 * this.next() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * Math.log(s)) / s);
        this.spare = v * factor;
        return mean + sigma * u * factor;
      }
    }
  }

  /** Normal deviate kept within `limit` sigmas: a pilot's scatter has no wild tails. */
  bounded(mean: number, sigma: number, limit = 2.5): number {
    return mean + sigma * Math.max(-limit, Math.min(limit, this.normal()));
  }

  /** An independent stream for one purpose, so that adding a use elsewhere does not change this one. */
  fork(purpose: string): Random {
    return new Random(`${this.seed}/${purpose}`);
  }
}

/** A first-order Gauss-Markov (Ornstein-Uhlenbeck) process with standard deviation `sigma` and correlation time `tauS`. */
export class GaussMarkov {
  value: number;

  constructor(
    private readonly random: Random,
    readonly sigma: number,
    readonly tauS: number,
  ) {
    this.value = sigma > 0 ? random.normal(0, sigma) : 0;
  }

  /** Exact discretisation for any step. */
  advance(stepS: number): number {
    if (this.sigma === 0) return 0;
    const keep = Math.exp(-stepS / this.tauS);
    this.value = keep * this.value + this.sigma * Math.sqrt(1 - keep * keep) * this.random.normal();
    return this.value;
  }
}
