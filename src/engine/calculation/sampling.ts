/**
 * A sampled check of the linear uncertainty (JCGM 101:2008): every source is drawn from its own distribution, what
 * rests on it is worked out again, many times. Typed ± as a standard or 95 % is drawn normal, as limits uniform
 * (6.4.7, 6.4.2); the scatter of a fit as Student's t (6.4.9).
 */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import { Random } from './random.ts';
import { literalsOf } from './typed-spread.ts';
import { DIVISOR } from './read.ts';
import { planOf, type Step } from './sampling-plan.ts';
import type { Sites } from './sites.ts';
import { VALUE } from './storage.ts';
import type { Sweep } from './sweep.ts';

export interface Sample {
  readonly name: string;
  /** One value a draw, SI; NaN where there was none. */
  readonly values: Float64Array;
}

/** Everything that is calculated, and the names to be sampled with their nodes and the places in these. */
export interface Drawable {
  readonly book: Book;
  readonly sites: Sites;
  readonly sweep: Sweep;
  readonly targets: readonly { readonly name: string; readonly node: GraphNode; readonly offset: number }[];
}

/**
 * A sampled run for some cells or fields of records, of an engine or of a workbook; undefined for a name that has no
 * value. To be drawn, then finished.
 */
export function sampling(
  of: { drawable(names: readonly string[]): Drawable | undefined },
  names: readonly string[],
  draws: number,
  seed: number,
): Sampling | undefined {
  const drawable = of.drawable(names);
  return drawable && new Sampling(drawable, draws, seed);
}

/** One typed value that is drawn: puts a draw in its place. */
type Drawn = (random: Random) => void;

export class Sampling {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sweep: Sweep;
  readonly #random: Random;
  readonly #slots: number[];
  readonly #steps: readonly Step[];
  readonly #drawn: Drawn[] = [];
  readonly #restore: (() => void)[] = [];
  readonly #samples: Sample[];
  #done = 0;

  constructor({ book, sites, sweep, targets }: Drawable, draws: number, seed: number) {
    this.#book = book;
    this.#sites = sites;
    this.#sweep = sweep;
    this.#random = new Random(seed);
    this.#slots = targets.map((t) => t.node.slot + t.offset);
    this.#samples = targets.map((t) => ({ name: t.name, values: new Float64Array(draws).fill(NaN) }));
    const needed = new Set<number>(targets.map((t) => t.node.id));
    for (const id of needed) for (const from of book.nodes[id]?.references ?? []) needed.add(from);
    const drawn = new Set<GraphNode>();
    for (const id of needed) if (this.#typed(book.node(id))) drawn.add(book.node(id));
    this.#steps = planOf(
      book,
      sites,
      targets.map(({ node }) => ({ node, row: -1 })),
      (node) => drawn.has(node),
    ).steps;
  }

  /** Whether the node is drawn. */
  #typed(node: GraphNode): boolean {
    const { values } = this.#book.storage;
    if (node.kind === 'cell' && !node.formula && node.plusMinus !== undefined) {
      const nominal = values[node.slot]!;
      const draw = drawer(node.meaning, node.plusMinus / DIVISOR[node.meaning]);
      this.#drawn.push((random) => {
        this.#book.storage.values[node.slot] = nominal + draw(random);
      });
      this.#restore.push(() => {
        this.#book.storage.values[node.slot] = nominal;
      });
      return true;
    }
    const isColumn = node.kind === 'column' && this.#typedColumn(node);
    return this.#literals(node) || isColumn;
  }

  /** Numbers with ± inside a formula. */
  #literals(node: GraphNode): boolean {
    const { storage } = this.#book;
    const literals = literalsOf(this.#book, node);
    for (const { slot, u } of literals) {
      const nominal = storage.values[slot]!;
      const draw = drawer(node.meaning, u);
      this.#drawn.push((random) => {
        storage.values[slot] = nominal + draw(random);
      });
      this.#restore.push(() => {
        storage.values[slot] = nominal;
      });
    }
    return literals.length > 0;
  }

  #typedColumn(node: GraphNode): boolean {
    const data = node.data;
    const field = data?.fields[0];
    if (!data || !field || (data.plusMinus.size === 0 && !node.each && !node.shared)) return false;
    const nominal = field.values.slice();
    const rows: { readonly row: number; readonly draw: (random: Random) => number }[] = [];
    for (let row = 0; row < data.rows; row++) {
      // Of a formula's rows those that were typed over.
      if (field.states[row] !== VALUE || (node.formula && !data.overrides.has(row))) continue;
      const half = data.plusMinus.get(row);
      const each = node.each && (node.each.relative ? Math.abs(nominal[row]!) : 1) * node.each.size;
      const u = half === undefined ? (each ?? 0) : half / DIVISOR[node.meaning];
      if (u > 0) rows.push({ row, draw: drawer(node.meaning, u) });
    }
    const { shared } = node;
    this.#drawn.push((random) => {
      field.values.set(nominal);
      for (const { row, draw } of rows) field.values[row]! += draw(random);
      if (!shared) return;
      const error = drawer(node.meaning, shared.size)(random);
      for (let row = 0; row < data.rows; row++)
        field.values[row]! += shared.relative ? error * nominal[row]! : error;
    });
    this.#restore.push(() => {
      field.values.set(nominal);
    });
    return true;
  }

  get done(): number {
    return this.#done;
  }

  /** Takes up to `count` more draws. */
  draw(count: number): void {
    const { values, states } = this.#book.storage;
    const total = this.#samples[0]?.values.length ?? 0;
    const end = Math.min(total, this.#done + count);
    this.#sites.deviate = (dof, count) => this.#random.jointStudent(dof, count);
    for (; this.#done < end; this.#done++) {
      for (const put of this.#drawn) put(this.#random);
      for (const { rank, rows, odd } of this.#steps) this.#sweep.again(rank, rows, odd);
      this.#slots.forEach((slot, k) => {
        if (states[slot] === VALUE) this.#samples[k]!.values[this.#done] = values[slot]!;
      });
    }
    this.#sites.deviate = undefined;
  }

  /** Puts everything back as it was, and gives what was drawn. */
  finish(): readonly Sample[] {
    for (const put of this.#restore) put();
    for (const { rank, rows, odd } of this.#steps) this.#sweep.again(rank, rows, odd);
    return this.#samples.map((s) => ({ name: s.name, values: s.values.subarray(0, this.#done) }));
  }
}

function drawer(meaning: GraphNode['meaning'], u: number): (random: Random) => number {
  const half = u * Math.sqrt(3);
  return meaning === 'limits'
    ? (random) => (2 * random.uniform() - 1) * half
    : (random) => random.normal() * u;
}
