import { planCost, takenLength, tidied, type CuttingJob, type Plan, type PatternUse } from './cutting-job.ts';

/** A stick being filled: room left with the kerf counted to each piece. */
interface Open {
  stock: number;
  counts: number[];
  room: number;
}

/**
 * A good plan at once: the cheapest of first-fit decreasing and best-fit decreasing, each opened with every stock
 * length in turn, and of filling stick by stick where a stick costs least for what it holds. Every stick is then
 * taken from the cheapest stock that holds it. Undefined when the stock that there is does not suffice.
 */
export function quickPlan(job: CuttingJob): Plan | undefined {
  let best: Plan | undefined;
  let least = Infinity;
  const consider = (sticks: readonly Open[] | undefined): void => {
    if (!sticks) return;
    const plan = tidied(job, cheapestStock(job, sticks));
    const cost = planCost(job, plan);
    if (cost < least) {
      best = plan;
      least = cost;
    }
  };
  for (let preferred = 0; preferred < job.stocks.length; preferred++) {
    consider(firstFit(job, preferred));
    consider(bestFit(job, preferred));
  }
  consider(cheapestFill(job));
  return best;
}

/** First-fit decreasing with one stock length where it fits: the plan that a saw makes without planning. */
export function firstFitPlan(job: CuttingJob, preferred: number): Plan | undefined {
  const sticks = firstFit(job, preferred);
  return sticks && tidied(job, sticks.map(asUse));
}

function asUse(stick: Open): PatternUse {
  return { pattern: { stock: stick.stock, counts: stick.counts }, times: 1 };
}

/** Stocks in the order in which they are opened: the preferred one, then the cheapest for its length. */
function order(job: CuttingJob, preferred: number): number[] {
  const rate = (s: number) => (job.stocks[s]?.cost ?? 0) / (job.stocks[s]?.length ?? 1);
  const rest = job.stocks.map((_, s) => s).filter((s) => s !== preferred);
  return [preferred, ...rest.sort((a, b) => rate(a) - rate(b))];
}

/** Fills a stick with the longest pieces that still fit; gives the room left. */
function fill(job: CuttingJob, capacity: number, left: readonly number[], counts: number[]): number {
  let room = capacity;
  job.pieces.forEach((piece, i) => {
    const weight = piece.length + job.kerf;
    const count = Math.min(left[i] ?? 0, Math.floor(room / weight));
    counts[i] = count;
    room -= count * weight;
  });
  return room;
}

/** Pieces longest first, each into the first stick with room: the same as filling one stick after the other. */
function firstFit(job: CuttingJob, preferred: number): Open[] | undefined {
  const stocks = order(job, preferred);
  const left = job.pieces.map((piece) => piece.demand);
  const free = job.stocks.map((stock) => stock.limit);
  const sticks: Open[] = [];
  for (let i = 0; i < left.length; i++)
    while ((left[i] ?? 0) > 0) {
      const length = job.pieces[i]?.length ?? 0;
      const stock = stocks.find((s) => (free[s] ?? 0) > 0 && (job.stocks[s]?.length ?? 0) >= length);
      if (stock === undefined) return undefined;
      const counts: number[] = [];
      const room = fill(job, (job.stocks[stock]?.length ?? 0) + job.kerf, left, counts);
      counts.forEach((count, k) => {
        left[k] = (left[k] ?? 0) - count;
      });
      free[stock] = (free[stock] ?? 0) - 1;
      sticks.push({ stock, counts, room });
    }
  return sticks;
}

/** Pieces longest first, each into the stick that it leaves least room in. */
function bestFit(job: CuttingJob, preferred: number): Open[] | undefined {
  const stocks = order(job, preferred);
  const free = job.stocks.map((stock) => stock.limit);
  /** Sticks by room, least first. */
  const byRoom: Open[] = [];
  for (const [i, piece] of job.pieces.entries()) {
    const weight = piece.length + job.kerf;
    for (let n = 0; n < piece.demand; n++) {
      const at = firstWith(byRoom, weight);
      let stick = byRoom[at];
      if (stick) byRoom.splice(at, 1);
      else {
        const stock = stocks.find((s) => (free[s] ?? 0) > 0 && (job.stocks[s]?.length ?? 0) >= piece.length);
        if (stock === undefined) return undefined;
        free[stock] = (free[stock] ?? 0) - 1;
        stick = {
          stock,
          counts: job.pieces.map(() => 0),
          room: (job.stocks[stock]?.length ?? 0) + job.kerf,
        };
      }
      stick.counts[i] = (stick.counts[i] ?? 0) + 1;
      stick.room -= weight;
      byRoom.splice(firstWith(byRoom, stick.room), 0, stick);
    }
  }
  return byRoom;
}

/** Index of the first stick with at least that room. */
function firstWith(byRoom: readonly Open[], room: number): number {
  let low = 0;
  let high = byRoom.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((byRoom[middle]?.room ?? 0) < room) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Stick by stick, each time the stock that costs least for the length it cuts. */
function cheapestFill(job: CuttingJob): Open[] | undefined {
  const left = job.pieces.map((piece) => piece.demand);
  const free = job.stocks.map((stock) => stock.limit);
  const sticks: Open[] = [];
  for (let i = 0; i < left.length; i++)
    while ((left[i] ?? 0) > 0) {
      let best: Open | undefined;
      let least = Infinity;
      for (const [s, stock] of job.stocks.entries()) {
        if ((free[s] ?? 0) < 1 || stock.length < (job.pieces[i]?.length ?? 0)) continue;
        const counts: number[] = [];
        const room = fill(job, stock.length + job.kerf, left, counts);
        const rate = stock.cost / (stock.length + job.kerf - room);
        if (rate < least) {
          best = { stock: s, counts, room };
          least = rate;
        }
      }
      if (!best) return undefined;
      best.counts.forEach((count, k) => {
        left[k] = (left[k] ?? 0) - count;
      });
      free[best.stock] = (free[best.stock] ?? 0) - 1;
      sticks.push(best);
    }
  return sticks;
}

/** Takes every stick from the cheapest stock that holds its pieces, the fullest sticks first. */
function cheapestStock(job: CuttingJob, sticks: readonly Open[]): Plan {
  const byCost = job.stocks.map((_, s) => s);
  byCost.sort((a, b) => (job.stocks[a]?.cost ?? 0) - (job.stocks[b]?.cost ?? 0));
  const free = job.stocks.map((stock) => stock.limit);
  for (const stick of sticks) free[stick.stock] = (free[stick.stock] ?? 0) - 1;
  const taken = sticks.map((stick) => ({ stick, length: takenLength(job, stick.counts) }));
  taken.sort((a, b) => b.length - a.length);
  return taken.map(({ stick, length }) => {
    free[stick.stock] = (free[stick.stock] ?? 0) + 1;
    const stock =
      byCost.find((s) => (free[s] ?? 0) > 0 && (job.stocks[s]?.length ?? 0) + job.kerf >= length) ??
      stick.stock;
    free[stock] = (free[stock] ?? 0) - 1;
    return { pattern: { stock, counts: stick.counts }, times: 1 };
  });
}
