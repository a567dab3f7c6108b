import type { CuttingJob, Plan } from './cutting-job.ts';

/** A stick being filled, with the room left in it; the kerf is counted to each piece. */
interface Open {
  stock: number;
  /** Indices of the pieces it holds, longest first, each as often as it is there. */
  readonly held: number[];
  room: number;
}

/**
 * A good plan at once: the cheapest of first-fit decreasing and best-fit decreasing, each opened with every stock
 * length in turn, and of filling stick by stick where a stick costs least for what it holds. Every stick is then
 * taken from the cheapest stock that holds it. Undefined when the stock that there is does not suffice.
 */
export function quickPlan(job: CuttingJob): Plan | undefined {
  let best: readonly Open[] | undefined;
  let least = Infinity;
  const consider = (sticks: readonly Open[] | undefined): void => {
    if (!sticks) return;
    const cheapest = fromCheapestStock(job, sticks);
    const cost = cheapest.reduce((sum, { stock }) => sum + (job.stocks[stock]?.cost ?? 0), 0);
    if (cost < least) {
      best = cheapest;
      least = cost;
    }
  };
  for (let preferred = 0; preferred < job.stocks.length; preferred++) {
    consider(firstFit(job, preferred));
    consider(bestFit(job, preferred));
  }
  consider(cheapestFill(job));
  return best && gathered(job, best);
}

/** First-fit decreasing with one stock length where it fits: the plan that a saw makes without planning. */
export function firstFitPlan(job: CuttingJob, preferred: number): Plan | undefined {
  const sticks = firstFit(job, preferred);
  return sticks && gathered(job, sticks);
}

/** Equal sticks as one pattern, cut so many times. */
function gathered(job: CuttingJob, sticks: readonly Open[]): Plan {
  const uses = new Map<string, { stick: Open; times: number }>();
  for (const stick of sticks) {
    const key = `${stick.stock}:${stick.held.join()}`;
    const known = uses.get(key);
    if (known) known.times++;
    else uses.set(key, { stick, times: 1 });
  }
  return [...uses.values()].map(({ stick: { stock, held }, times }) => {
    const counts = job.pieces.map(() => 0);
    for (const i of held) counts[i] = (counts[i] ?? 0) + 1;
    return { pattern: { stock, counts }, times };
  });
}

/** Stocks in the order in which they are opened: the preferred one, then the cheapest for its length. */
function order(job: CuttingJob, preferred: number): number[] {
  const rate = (s: number) => (job.stocks[s]?.cost ?? 0) / (job.stocks[s]?.length ?? 1);
  const rest = job.stocks.map((_, s) => s).filter((s) => s !== preferred);
  return [preferred, ...rest.sort((a, b) => rate(a) - rate(b))];
}

/** Pieces that are still to be cut. What is used up is stepped over: thousands of lengths must not take seconds. */
class Remaining {
  readonly #pieces: CuttingJob['pieces'];
  readonly #kerf: number;
  readonly #counts: number[];
  /** For each piece one at or after it, the nearer to one that is left the more often it was asked. */
  readonly #next: number[];

  constructor({ pieces, kerf }: CuttingJob) {
    this.#pieces = pieces;
    this.#kerf = kerf;
    this.#counts = pieces.map(({ demand }) => demand);
    this.#next = [...pieces.map((_, i) => i), pieces.length];
  }

  /** The longest piece left from this one on; the number of pieces where there is none. */
  from(first: number): number {
    let at = first;
    for (;;) {
      const next = this.#next[at] ?? at;
      if (next !== at) this.#next[at] = this.#next[next] ?? next;
      else if (at < this.#pieces.length && (this.#counts[at] ?? 0) === 0) this.#next[at] = at + 1;
      else return at;
      at = this.#next[at] ?? at;
    }
  }

  /** The longest pieces that still fit one stick, each as often as it does, and the room left; nothing is taken. */
  fill(capacity: number): { readonly held: number[]; readonly room: number } {
    const held: number[] = [];
    let room = capacity;
    for (
      let i = this.from(this.#firstWithin(room));
      i < this.#pieces.length;
      i = this.from(Math.max(i + 1, this.#firstWithin(room)))
    ) {
      const weight = (this.#pieces[i]?.length ?? 0) + this.#kerf;
      const count = Math.min(this.#counts[i] ?? 0, Math.floor(room / weight));
      for (let n = 0; n < count; n++) held.push(i);
      room -= count * weight;
    }
    return { held, room };
  }

  take(held: readonly number[]): void {
    for (const i of held) this.#counts[i] = (this.#counts[i] ?? 0) - 1;
  }

  /** The longest piece that fits this room. */
  #firstWithin(room: number): number {
    let low = 0;
    let high = this.#pieces.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.#pieces[middle]?.length ?? 0) + this.#kerf > room) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** Pieces longest first, each into the first stick with room: the same as filling one stick after the other. */
function firstFit(job: CuttingJob, preferred: number): Open[] | undefined {
  const stocks = order(job, preferred);
  const left = new Remaining(job);
  const free = job.stocks.map((stock) => stock.limit);
  const sticks: Open[] = [];
  for (let i = left.from(0); i < job.pieces.length; i = left.from(i)) {
    const length = job.pieces[i]?.length ?? 0;
    const stock = stocks.find((s) => (free[s] ?? 0) > 0 && (job.stocks[s]?.length ?? 0) >= length);
    if (stock === undefined) return undefined;
    const filled = left.fill((job.stocks[stock]?.length ?? 0) + job.kerf);
    left.take(filled.held);
    free[stock] = (free[stock] ?? 0) - 1;
    sticks.push({ stock, ...filled });
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
        stick = { stock, held: [], room: (job.stocks[stock]?.length ?? 0) + job.kerf };
      }
      stick.held.push(i);
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
  const left = new Remaining(job);
  const free = job.stocks.map((stock) => stock.limit);
  const sticks: Open[] = [];
  for (let i = left.from(0); i < job.pieces.length; i = left.from(i)) {
    let best: Open | undefined;
    let least = Infinity;
    for (const [s, stock] of job.stocks.entries()) {
      if ((free[s] ?? 0) < 1 || stock.length < (job.pieces[i]?.length ?? 0)) continue;
      const filled = left.fill(stock.length + job.kerf);
      const rate = stock.cost / (stock.length + job.kerf - filled.room);
      if (rate < least) {
        best = { stock: s, ...filled };
        least = rate;
      }
    }
    if (!best) return undefined;
    left.take(best.held);
    free[best.stock] = (free[best.stock] ?? 0) - 1;
    sticks.push(best);
  }
  return sticks;
}

/** Every stick from the cheapest stock that holds its pieces, the fullest sticks first. */
function fromCheapestStock(job: CuttingJob, sticks: readonly Open[]): Open[] {
  const byCost = job.stocks.map((_, s) => s);
  byCost.sort((a, b) => (job.stocks[a]?.cost ?? 0) - (job.stocks[b]?.cost ?? 0));
  const free = job.stocks.map((stock) => stock.limit);
  for (const stick of sticks) free[stick.stock] = (free[stick.stock] ?? 0) - 1;
  const capacity = (s: number) => (job.stocks[s]?.length ?? 0) + job.kerf;
  const taken = sticks.map((stick) => ({ stick, length: capacity(stick.stock) - stick.room }));
  taken.sort((a, b) => b.length - a.length);
  return taken.map(({ stick, length }) => {
    free[stick.stock] = (free[stick.stock] ?? 0) + 1;
    const stock = byCost.find((s) => (free[s] ?? 0) > 0 && capacity(s) >= length) ?? stick.stock;
    free[stock] = (free[stock] ?? 0) - 1;
    return { stock, held: stick.held, room: capacity(stock) - length };
  });
}
