/**
 * The most that a stick can hold: a bounded knapsack, worked out for all lengths at once. `best` of the table at
 * item i and room c is the largest worth of items i, i+1, … that fit into c, no item more often than it is needed.
 * Worths are whole numbers, so that every answer is exact.
 */
export class KnapsackTable {
  readonly #weights: readonly number[];
  readonly #bounds: readonly number[];
  readonly #capacity: number;
  readonly #best: Float64Array;

  /** `weights` above zero, `bounds` at least zero, `capacity` the longest room asked for. */
  constructor(weights: readonly number[], bounds: readonly number[], capacity: number) {
    this.#weights = weights;
    this.#bounds = bounds;
    this.#capacity = capacity;
    this.#best = new Float64Array((weights.length + 1) * (capacity + 1));
  }

  /** Fills the table for these worths. */
  solve(worths: readonly number[], bounds: readonly number[] = this.#bounds): void {
    const wide = this.#capacity + 1;
    for (let i = this.#weights.length - 1; i >= 0; i--) {
      const row = this.#best.subarray(i * wide, (i + 1) * wide);
      row.set(this.#best.subarray((i + 1) * wide, (i + 2) * wide));
      const weight = this.#weights[i] ?? 0;
      const worth = worths[i] ?? 0;
      if (worth <= 0) continue;
      // A count is a sum of 1, 2, 4, … and a rest, each taken or not.
      let left = Math.min(bounds[i] ?? 0, Math.floor(this.#capacity / weight));
      for (let part = 1; left > 0; part *= 2) {
        const count = Math.min(part, left);
        left -= count;
        const shift = count * weight;
        const gain = count * worth;
        for (let room = wide - 1; room >= shift; room--) {
          const value = row[room - shift]! + gain;
          if (value > row[room]!) row[room] = value;
        }
      }
    }
  }

  /** The largest worth that fits into a room, of items from `first` on. */
  best(room: number, first = 0): number {
    return this.#best[first * (this.#capacity + 1) + room] ?? 0;
  }

  /** Counts that reach the best worth in a room. */
  counts(room: number, worths: readonly number[], bounds: readonly number[] = this.#bounds): number[] {
    let left = room;
    return this.#weights.map((weight, i) => {
      const wanted = this.best(left, i);
      const most = Math.min(bounds[i] ?? 0, Math.floor(left / weight));
      for (let count = 0; count <= most; count++)
        if (this.best(left - count * weight, i + 1) + count * (worths[i] ?? 0) === wanted) {
          left -= count * weight;
          return count;
        }
      throw new Error('the table holds a worth that no counts reach');
    });
  }

  /**
   * Every pattern in a room whose worth is at least `least` and to which no piece can be added; undefined when there
   * are more than `limit`. Whatever it leaves out is worth less, or is a part of what it gives.
   */
  patterns(room: number, worths: readonly number[], least: number, limit: number): number[][] | undefined {
    const found: number[][] = [];
    const n = this.#weights.length;
    const counts = new Array<number>(n).fill(0);
    /** Smallest weight that could still be added, of the items passed. */
    const visit = (i: number, left: number, worth: number): boolean => {
      if (worth + this.best(left, i) < least) return true;
      if (i === n) {
        for (let k = 0; k < n; k++)
          if ((counts[k] ?? 0) < (this.#bounds[k] ?? 0) && (this.#weights[k] ?? 0) <= left) return true;
        if (found.length >= limit) return false;
        found.push(counts.slice());
        return true;
      }
      const weight = this.#weights[i] ?? 0;
      const most = Math.min(this.#bounds[i] ?? 0, Math.floor(left / weight));
      for (let count = most; count >= 0; count--) {
        counts[i] = count;
        if (!visit(i + 1, left - count * weight, worth + count * (worths[i] ?? 0))) return false;
      }
      counts[i] = 0;
      return true;
    };
    return visit(0, room, 0) ? found : undefined;
  }
}
