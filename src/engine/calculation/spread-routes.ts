/** When there is a route of uncertainties (spread-route.ts): as wide and as often as one of values; and what is asked of it. */
import type { Book } from './book.ts';
import type { Seeds, Within } from './cell-spreads.ts';
import type { Leaves } from './leaves.ts';
import type { GraphNode } from './node.ts';
import { routeCode } from './route-code.ts';
import { REPEATED, WIDE } from './routes.ts';
import type { Spread } from './sources.ts';
import type { SpreadRoute } from './spread-route.ts';

export class SpreadRoutes {
  readonly #book: Book;
  readonly #leaves: Leaves;
  readonly #spreadOf: (node: GraphNode) => Spread;
  #route: SpreadRoute | undefined;
  #found = 0;
  #times = 0;
  /** It was no use. */
  #refused = false;

  constructor(book: Book, leaves: Leaves, spreadOf: (node: GraphNode) => Spread) {
    this.#book = book;
    this.#leaves = leaves;
    this.#spreadOf = spreadOf;
  }

  /** So many spreads were found otherwise. */
  found(count: number): void {
    this.#found += count;
  }

  /** Something is about to change; `known` are the nodes with spreads found otherwise, by id. */
  next(known: Uint8Array): void {
    const formulas = this.#route?.formulas ?? 0;
    if (this.#found >= Math.max(WIDE, formulas / 4)) this.#times++;
    else if (this.#found > 0) this.#times = 0;
    this.#found = 0;
    if (this.#times < REPEATED || this.#refused) return;
    const code = routeCode();
    if (!code) return;
    this.#times = 0;
    const least = Math.max(WIDE, formulas + 1);
    const ids = [...this.#book.nodeAt].filter((id) => known[id] !== 0);
    const plan = code.spreadPlan(this.#book, this.#leaves, ids, this.#spreadOf, least);
    this.#route = plan && new code.SpreadRoute(this.#book, this.#leaves, this.#spreadOf, plan);
    this.#refused = !plan;
  }

  /** What rests on these nodes is another now. */
  forget(ids: Int32Array): void {
    this.#route?.forget(ids);
  }

  /** Formulas came or went, or a ± where there was none. */
  forgetAll(): void {
    this.#route = undefined;
    this.#times = 0;
    this.#refused = false;
  }

  /** Whether somebody was told of a node. */
  has(id: number): boolean {
    return this.#route?.has(id) ?? false;
  }

  /** Standard uncertainty of a cell; undefined where no route tells it. */
  of(id: number): number | undefined {
    return this.#route?.of(id);
  }

  /** As `SpreadRoute.reaches`; undefined where no route tells. */
  reaches(at: number, seeds: Seeds, end: number, times: number, distance: number): Within | undefined {
    return this.#route?.reaches(at, seeds, end, times, distance);
  }
}
