/** Invented trim jobs, the same for the same seed: what a house asks of one moulding. */
import type { CuttingJob } from '../../src/trade/trim/cutting-job.ts';

/** Whole numbers from a seed (mulberry32). */
function randomOf(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * below);
  };
}

/** Parts of an inch in which lengths are held. */
export const GRID = 32;
const FEET = [8, 10, 12, 14, 16, 18];

/**
 * 10 to 40 lengths, 30 to 300 pieces, 2 to 6 stock lengths at a price a foot that rises a little with the length,
 * kerf 3/32 or 1/8 in, 1/2 to 1 1/2 in of end trim. Costs are cents.
 */
export function trimJob(seed: number): CuttingJob {
  const random = randomOf(seed * 7919 + 17);
  const between = (low: number, high: number) => low + random(high - low + 1);
  const feet = [...FEET];
  const kinds = between(2, 6);
  while (feet.length > kinds) feet.splice(random(feet.length), 1);
  const endTrim = between(2, 6) * (GRID / 4);
  const centsAFoot = between(60, 320);
  const stocks = feet.map((ft) => ({
    length: ft * 12 * GRID - endTrim,
    cost: Math.round((ft * centsAFoot * (1 + 0.01 * between(0, 4) * (ft - 8))) / 5) * 5,
    limit: Infinity,
  }));
  const longest = Math.max(...stocks.map((stock) => stock.length));
  const lengths = new Map<number, number>();
  const distinct = between(10, 40);
  // Returns and short walls, openings, long runs: the mixture differs from moulding to moulding.
  const short = between(0, 4);
  const middle = between(2, 6);
  const long = between(0, 4);
  while (lengths.size < distinct) {
    const at = random(short + middle + long);
    const inches = at < short ? between(4, 36) : at < short + middle ? between(30, 100) : between(90, 210);
    const length = Math.min(longest, inches * GRID + random(GRID));
    lengths.set(length, 1);
  }
  const all = [...lengths.keys()];
  const pieces = Math.max(distinct, between(30, 300));
  for (let n = distinct; n < pieces; n++) {
    const length = all[random(all.length)] ?? longest;
    lengths.set(length, (lengths.get(length) ?? 0) + 1);
  }
  return {
    kerf: random(2) === 0 ? GRID / 8 : (GRID * 3) / 32,
    pieces: all.sort((a, b) => b - a).map((length) => ({ length, demand: lengths.get(length) ?? 0 })),
    stocks,
  };
}
