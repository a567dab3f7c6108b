/**
 * A cutting job in whole numbers: lengths in one small unit, costs in one small coin, so that every sum is exact.
 * A kerf lies between neighbouring pieces only: sum(length) + kerf × (pieces − 1) ≤ usable length of the stick,
 * which is the same as sum(length + kerf) ≤ usable length + kerf.
 */

export interface CuttingPiece {
  readonly length: number;
  readonly demand: number;
}

export interface CuttingStock {
  /** Usable length: what is left after the ends are squared. */
  readonly length: number;
  readonly cost: number;
  /** How many there are; Infinity for what can be bought. */
  readonly limit: number;
}

export interface CuttingJob {
  /** Distinct lengths, longest first. */
  readonly pieces: readonly CuttingPiece[];
  readonly stocks: readonly CuttingStock[];
  readonly kerf: number;
}

/** One way to cut one stick: how many of each piece. */
export interface Pattern {
  readonly stock: number;
  readonly counts: readonly number[];
}

export interface PatternUse {
  readonly pattern: Pattern;
  readonly times: number;
}

export type Plan = readonly PatternUse[];

/** Length that pieces take with a kerf for each; a stick holds its usable length and one kerf. */
export function takenLength(job: CuttingJob, counts: readonly number[]): number {
  let taken = 0;
  counts.forEach((count, i) => {
    taken += count * ((job.pieces[i]?.length ?? 0) + job.kerf);
  });
  return taken;
}

export function planCost(job: CuttingJob, plan: Plan): number {
  return plan.reduce((sum, { pattern, times }) => sum + times * (job.stocks[pattern.stock]?.cost ?? 0), 0);
}

/** What is wrong with a plan, in words; nothing when every piece is cut and every stick fits. */
export function planProblems(job: CuttingJob, plan: Plan): string[] {
  const problems: string[] = [];
  const cut = job.pieces.map(() => 0);
  const used = job.stocks.map(() => 0);
  for (const { pattern, times } of plan) {
    const stock = job.stocks[pattern.stock];
    if (!stock) {
      problems.push(`there is no stock ${pattern.stock}`);
      continue;
    }
    if (!Number.isInteger(times) || times < 1) problems.push(`a pattern is cut ${times} times`);
    if (pattern.counts.some((count) => !Number.isInteger(count) || count < 0))
      problems.push('a stick holds a part of a piece');
    used[pattern.stock] = (used[pattern.stock] ?? 0) + times;
    pattern.counts.forEach((count, i) => {
      cut[i] = (cut[i] ?? 0) + count * times;
    });
    if (takenLength(job, pattern.counts) > stock.length + job.kerf)
      problems.push(`a stick of ${stock.length} does not hold its pieces`);
  }
  job.pieces.forEach((piece, i) => {
    if (cut[i] !== piece.demand)
      problems.push(`of length ${piece.length} ${piece.demand} are asked for and ${cut[i] ?? 0} are cut`);
  });
  job.stocks.forEach((stock, s) => {
    if ((used[s] ?? 0) > stock.limit)
      problems.push(`of stock ${stock.length} there are ${stock.limit} and ${used[s] ?? 0} are cut`);
  });
  return problems;
}

/** Takes out what is cut beyond the demand, and gathers equal sticks. */
export function tidied(job: CuttingJob, plan: Plan): Plan {
  const left = job.pieces.map((piece) => piece.demand);
  const sticks = new Map<string, { pattern: Pattern; times: number }>();
  for (const { pattern, times } of plan) {
    for (let n = 0; n < times; n++) {
      const counts = pattern.counts.map((count, i) => Math.min(count, left[i] ?? 0));
      counts.forEach((count, i) => {
        left[i] = (left[i] ?? 0) - count;
      });
      if (counts.every((count) => count === 0)) continue;
      const key = `${pattern.stock}:${counts.join()}`;
      const known = sticks.get(key);
      if (known) known.times++;
      else sticks.set(key, { pattern: { stock: pattern.stock, counts }, times: 1 });
    }
  }
  return [...sticks.values()];
}
