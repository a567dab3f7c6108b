/** When there is a route for values (route.ts), and which one. */
import type { Book } from './book.ts';
import { routeCode } from './route-code.ts';
import type { Route } from './route.ts';

/** A route costs as much as some dozen edits, so it is made for an edit that changed so many cells … */
export const WIDE = 256;
/** … so many times in a row: a slider is drawn, a target is solved for. */
export const REPEATED = 6;
/** Routes that are kept at a time. */
const KEPT = 4;

export class Routes {
  readonly #book: Book;
  /** None where there can be none, or where it was mostly walked for nothing. */
  readonly #kept = new Map<number, Route | undefined>();
  /** The source of the last runs, and how many of them were wide and went without a route. */
  #last = -1;
  #times = 0;
  /** The order of calculation that all this is about. */
  #order: Int32Array | undefined;

  constructor(book: Book) {
    this.#book = book;
  }

  /** The one cell that the coming run starts from; -1 where there are others, or rows. */
  source(): number {
    const { nodeAt, changedSources, mustRun, changedRows } = this.#book;
    if (this.#order !== nodeAt) {
      this.#order = nodeAt;
      this.#last = -1;
      this.#kept.clear();
    }
    if (changedSources.size !== 1 || mustRun.size > 0 || changedRows.size > 0) return -1;
    const [id = -1] = changedSources;
    return this.#book.nodes[id]?.kind === 'cell' ? id : -1;
  }

  /** The route from a source, made where it is worth it. */
  of(source: number): Route | undefined {
    if (source < 0) return undefined;
    const kept = this.#kept.get(source);
    if (kept && kept.values !== this.#book.storage.values) this.#kept.delete(source);
    else if (this.#kept.has(source)) return kept;
    if (source !== this.#last || this.#times < REPEATED) return undefined;
    const code = routeCode();
    if (!code) return undefined;
    const route = code.routeFrom(this.#book, this.#book.rankOf[source]!);
    for (const oldest of this.#kept.keys()) {
      if (this.#kept.size < KEPT) break;
      this.#kept.delete(oldest);
    }
    this.#kept.set(source, route);
    return route;
  }

  /** After a run that changed so many nodes. */
  note(source: number, changed: number): void {
    if (source !== this.#last) this.#times = 0;
    this.#last = source;
    const route = this.#kept.get(source);
    this.#times = !route && source >= 0 && changed >= WIDE ? this.#times + 1 : 0;
    if (route && changed < route.ids.length / 2) this.#kept.set(source, undefined);
  }
}
