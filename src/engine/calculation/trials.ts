/**
 * Whether what is flat may turn a comparison or a corner after all (rule U4). Where the slope lets nothing through,
 * nothing is known of how far the value goes, so everything between it and its sources is worked out again with the
 * sources moved, and put back. The sources are moved, not what the formula reads: it is then all one over how many
 * cells a formula is split. This costs some hundred runs of what the formula rests on, and is done only there.
 */
import { OP } from '../formula/tape.ts';
import type { Book } from './book.ts';
import { sumOf } from './cell-spreads.ts';
import type { GraphNode } from './node.ts';
import { isSource } from './reach.ts';
import { planOf, type Place, type Step } from './sampling-plan.ts';
import { movementOf } from './second-order.ts';
import type { Sites } from './sites.ts';
import type { Sources, Spread } from './sources.ts';
import { isComparison, switchAt } from './switches.ts';
import { literalsOf } from './typed-spread.ts';

/** So many standard uncertainties are within reach, as where the slope tells. */
const REACH = 2;
/** Shifts, in roundings of the value, that move nothing but the last digits of what is worked out from it. */
const HAIR = [4, -4, 7, -9];
/** What the rounding of the arithmetic may make more of than it did in those few. */
const MARGIN = 16;

/** A typed value, and what its sources do to it. */
interface Typed {
  readonly values: Float64Array;
  readonly at: number;
  readonly nominal: number;
  readonly ids: ArrayLike<number>;
  readonly parts: ArrayLike<number>;
}

/** What a trial takes from the rest of the engine. */
export interface TrialHost {
  /** Works one node out again, whatever changed. */
  again(rank: number, rows: readonly number[], odd: Uint8Array): void;
  /** Runs a formula, and gives the places of the instructions that were run. */
  forward(node: GraphNode): readonly number[];
  /** Of a typed value. */
  spread(node: GraphNode, row: number): Spread;
}

export class Trials {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sources: Sources;
  readonly #host: TrialHost;

  constructor(book: Book, sites: Sites, sources: Sources, host: TrialHost) {
    this.#book = book;
    this.#sites = sites;
    this.#sources = sources;
    this.#host = host;
  }

  /** Whether the switch at `pc` of a formula may turn; its temporaries stand afterwards as they did before. */
  turns(node: GraphNode, row: number, pc: number): boolean {
    if (this.#stays(node, pc)) return false;
    const place = { node, row };
    const plan = planOf(
      this.#book,
      this.#sites,
      [place],
      isSource,
      (other) => other !== node && this.#stays(other),
    );
    const typed = plan.places.flatMap((each) => this.#typed(each));
    const before = plan.steps.filter((step) => step.rank !== this.#book.rankOf[node.id]!);
    const run = (): boolean => {
      for (const { rank, rows, odd } of before) this.#host.again(rank, rows, odd);
      if (row >= 0) this.#sites.enterRow(node.inputs, row);
      return this.#host.forward(node).includes(pc);
    };
    const scattered = this.#scattered(plan.steps, run);
    if (typed.length === 0 && scattered === 0) return false;
    try {
      return this.#turns(typed, scattered, run, pc);
    } finally {
      this.#sites.deviate = undefined;
      for (const { values, at, nominal } of typed) values[at] = nominal;
      for (const { rank, rows, odd } of before) this.#host.again(rank, rows, odd);
      if (row >= 0) this.#sites.enterRow(node.inputs, row);
      else this.#host.again(this.#book.rankOf[node.id]!, [], new Uint8Array(0));
      this.#host.forward(node);
    }
  }

  #turns(typed: readonly Typed[], scattered: number, run: () => boolean, pc: number): boolean {
    const { code, storage } = this.#book;
    const { values } = storage;
    run();
    const here = switchAt(code, values, pc);
    if (!here || Number.isNaN(here.distance)) return false;
    const result = code[pc + 1]!;
    const isYesOrNo = isComparison(code[pc]!);
    const nominal = values[result]!;
    /** Of the trials in which it turned. */
    let turned = 0;
    /** What the switch turns by; not a number where it stands in a branch that is not taken. */
    const margin = (): number => {
      if (!run()) return NaN;
      return sumOf(here.seeds, values);
    };
    const rounding = this.#rounding(typed, margin);
    // Of typed sources the order does not depend on which was made first.
    const ids = [...new Set(typed.flatMap((each) => Array.from(each.ids)))].sort((a, b) =>
      this.#sources.get(a).key < this.#sources.get(b).key ? -1 : 1,
    );
    const place = new Map(ids.map((id, k) => [id, k]));
    const start = margin();
    const movement = movementOf(
      ids.length + scattered,
      (times) => {
        for (const { values: into, at, nominal: middle, ids: own, parts } of typed) {
          let by = 0;
          for (let k = 0; k < own.length; k++) by += parts[k]! * times[place.get(own[k]!)!]!;
          into[at] = middle + by;
        }
        let drawn = ids.length;
        if (scattered > 0)
          this.#sites.deviate = (_, count) => Array.from({ length: count }, () => times[drawn++] ?? 0);
        const found = margin();
        if (isYesOrNo && Math.abs(found - start) > rounding && values[result] !== nominal) turned++;
        return found;
      },
      rounding,
    );
    const { shift, uncertainty } = movement;
    // Where no trial came lower, as with a square, it does not go lower, whatever the two moments make of it.
    const down = movement.down > 0 ? Math.max(movement.down, REACH * uncertainty - shift) : 0;
    const up = movement.up > 0 ? Math.max(movement.up, REACH * uncertainty + shift) : 0;
    return turned > 0 || down > here.down || up > here.up;
  }

  /** How far the margin goes by rounding alone: where terms cancel (x − x), that is all it does. */
  #rounding(typed: readonly Typed[], margin: () => number): number {
    const start = margin();
    let most = 0;
    for (const roundings of HAIR) {
      typed.forEach(({ values, at, nominal }, k) => {
        values[at] = nominal * (1 + (k % 2 === 0 ? 1 : -1) * roundings * Number.EPSILON);
      });
      const by = Math.abs(margin() - start);
      if (by > most) most = by;
    }
    for (const { values, at, nominal } of typed) values[at] = nominal;
    return MARGIN * most;
  }

  /** What asks for spreads, has its full answer later or takes a value alone is not tried with other values. */
  #stays(node: GraphNode, end = node.codeEnd): boolean {
    if (node.readsSpreads || node.defers) return true;
    const { code } = this.#book;
    for (let pc = node.codeStart; pc < end; pc += 4) if (code[pc] === OP.nominal) return true;
    return false;
  }

  #typed({ node, row }: Place): Typed[] {
    const { storage } = this.#book;
    const data = node.data;
    if (node.formula && !data?.overrides.has(row))
      return literalsOf(this.#book, node).map(({ slot, key, label, u }) => {
        const { id } = this.#sources.intern(key, 'typed', label, u);
        return { values: storage.values, at: slot, nominal: storage.values[slot]!, ids: [id], parts: [u] };
      });
    if (node.kind === 'aggregate' || !isSource(node)) return [];
    const { set, parts } = this.#host.spread(node, row);
    if (parts.length === 0) return [];
    const values = row < 0 ? storage.values : data!.fields[0]!.values;
    const at = row < 0 ? node.slot : row;
    return [{ values, at, nominal: values[at]!, ids: set.ids, parts }];
  }

  /** How many components of scatter are drawn in a run. */
  #scattered(steps: readonly Step[], run: () => boolean): number {
    const { nodeAt } = this.#book;
    if (!steps.some(({ rank }) => this.#book.node(nodeAt[rank]!).ownSpread)) return 0;
    let count = 0;
    this.#sites.deviate = (_, components) => {
      count += components;
      return Array.from({ length: components }, () => 0);
    };
    run();
    this.#sites.deviate = undefined;
    return count;
  }
}
