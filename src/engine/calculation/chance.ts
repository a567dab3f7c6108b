/** Spreads asked for inside formulas: `uncertainty(x)` and `chance(x <= y)`. */
import { normalProbability, studentProbability } from '../quantity/index.ts';
import type { CallSite } from '../formula/compile.ts';
import type { Book } from './book.ts';
import type { Spreads } from './read.ts';
import { Accumulator, effectiveDof, type Sources, type Spread } from './sources.ts';

export type SpreadSite = CallSite & { readonly kind: 'spread' };

export class Chance {
  readonly #book: Book;
  readonly #spreads: Spreads & { readonly sources: Sources };
  readonly #sum: Accumulator;

  constructor(book: Book, spreads: Spreads & { readonly sources: Sources }) {
    this.#book = book;
    this.#spreads = spreads;
    this.#sum = new Accumulator(spreads.sources.sets);
  }

  /** The value of a spread site; its sides are known to be values. `row` is the row at hand, in a column. */
  value(site: SpreadSite, row: number): number {
    const { values, states } = this.#book.storage;
    const [first, second] = site.sides.map((side) => values[side.slot]!);
    const keptValues = values.slice(0, site.temporaries);
    const keptStates = states.slice(0, site.temporaries);
    const spreads = site.sides.map((side): Spread | undefined => {
      if (side.node === undefined) return undefined;
      const node = this.#book.node(side.node);
      return side.row ? this.#spreads.ofRow(node, row, side.offset) : this.#spreads.ofCell(node, side.offset);
    });
    values.set(keptValues);
    states.set(keptStates);
    this.#sum.begin();
    spreads.forEach((spread, k) => {
      if (spread) this.#sum.add(spread, k === 0 ? 1 : -1);
    });
    const joint = this.#sum.end();
    const u = joint.uncertainty;
    // A ± that cannot be told makes nothing certain (rule U3): what is asked of it is unavailable.
    if (u === 0 && spreads.some((spread) => spread?.flat)) return NaN;
    if (site.name === 'uncertainty') return u;
    const margin = (second ?? NaN) - (first ?? NaN);
    // Without any spread the comparison is certain; equality meets an "at most".
    if (u === 0) return margin >= 0 ? 1 : 0;
    const dof = effectiveDof(joint, this.#spreads.sources);
    return Number.isFinite(dof) ? studentProbability(margin / u, dof) : normalProbability(margin / u);
  }
}
