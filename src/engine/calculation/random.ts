/** Seeded draws, so that a sampled check gives the same numbers each time. */

export class Random {
  #a: number;
  #b = 0x9e3779b9;
  #c = 0x243f6a88;
  #counter = 1;
  #spare = NaN;

  constructor(seed: number) {
    this.#a = seed | 0;
    for (let i = 0; i < 12; i++) this.#next();
  }

  /** sfc32 (Chris Doty-Humphrey, PractRand): 32 random bits. */
  #next(): number {
    const t = (((this.#a + this.#b) | 0) + this.#counter) | 0;
    this.#counter = (this.#counter + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (this.#c << 21) | (this.#c >>> 11);
    this.#c = (this.#c + t) | 0;
    return t >>> 0;
  }

  /** Between 0 and 1, both left out. */
  uniform(): number {
    return (this.#next() * 2097152 + (this.#next() >>> 11) + 0.5) / 9007199254740992;
  }

  /** Standard normal, by the polar method (Marsaglia and Bray 1964). */
  normal(): number {
    if (!Number.isNaN(this.#spare)) {
      const kept = this.#spare;
      this.#spare = NaN;
      return kept;
    }
    for (;;) {
      const x = 2 * this.uniform() - 1;
      const y = 2 * this.uniform() - 1;
      const s = x * x + y * y;
      if (s >= 1 || s === 0) continue;
      const f = Math.sqrt((-2 * Math.log(s)) / s);
      this.#spare = y * f;
      return x * f;
    }
  }

  /**
   * Several Student variables that share one estimate of scatter: independent normals over the root of one mean
   * square (the multivariate t). Fractional degrees of freedom are taken down to a whole number.
   */
  jointStudent(dof: number, count: number): number[] {
    let scale = 1;
    if (dof < 10_000) {
      const n = Math.max(1, Math.floor(dof));
      let square = 0;
      for (let i = 0; i < n; i++) square += this.normal() ** 2;
      scale = Math.sqrt(n / square);
    }
    return Array.from({ length: count }, () => this.normal() * scale);
  }
}
