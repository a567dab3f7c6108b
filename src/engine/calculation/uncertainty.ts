/**
 * Spreads, found on demand and kept until something they rest on changes. A formula's tape is run backwards once
 * for its sensitivities; the spreads of what it reads are added up source by source, so correlation is exact
 * (JCGM 100:2008, 5.2.2, with every source independent).
 */
import { OP, run, type Tape } from '../formula/tape.ts';
import type { VectorProgram } from '../formula/compile.ts';
import { Affected } from './affected.ts';
import { contributing } from './aggregate.ts';
import { operands, stepBack } from './backward.ts';
import type { Book } from './book.ts';
import { derivatives, numberAt, rowAt } from './derivatives.ts';
import { Doubts } from './doubts.ts';
import type { GraphNode } from './node.ts';
import { PlainSpreads, type Seeds } from './plain-spread.ts';
import { Reach } from './reach.ts';
import { scatterParts } from './scatter.ts';
import type { Sites } from './sites.ts';
import type { LibrarySite } from './arguments.ts';
import { Accumulator, CERTAIN, Sources, type Spread } from './sources.ts';
import type { Doubt } from './switches.ts';
import { VALUE } from './storage.ts';
import { typedCell, typedRow } from './typed-spread.ts';
import { Upstream } from './upstream.ts';

/** Sensitivity of the formula at hand to a value with a spread of its own. */
interface Demand {
  readonly node: GraphNode;
  /** -1 for a cell. */
  readonly row: number;
  readonly offset: number;
  readonly sensitivity: number;
}

export class Uncertainty {
  readonly sources = new Sources();
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sum = new Accumulator();
  /** By node id, then by field; `#isKnown` says which are. */
  #cells: Spread[][] = [];
  #isKnown = new Uint8Array(0);
  #anyKnown = false;
  /** By node id, then by row and field. */
  readonly #rows = new Map<number, Map<number, Spread>>();
  readonly #plain: PlainSpreads;
  readonly #doubts: Doubts;
  readonly #reach: Reach;
  readonly #upstream: Upstream;
  readonly #affected: Affected;
  #slopes = new Float64Array(0);
  #demands: Demand[] = [];
  /** Contributions of scatter and of ± literals, which no node holds. */
  #own: { readonly id: number; readonly part: number }[] = [];
  #approximate = false;
  /** Of the formula at hand: its calls are told apart by their place in it, which is the same in every workbook. */
  #siteStart = 0;

  constructor(book: Book, sites: Sites) {
    this.#book = book;
    this.#sites = sites;
    this.#reach = new Reach(book);
    this.#affected = new Affected(book);
    this.#upstream = new Upstream(book);
    this.#plain = new PlainSpreads(book, sites, this.sources.sets, this.#reach, (id, offset) =>
      this.ofCell(book.node(id), offset),
    );
    this.#doubts = new Doubts(book, sites, this, this.#plain);
  }

  /** Forgets what rests on these nodes; gives the ids of all whose ± may be another now. */
  forget(ids: Iterable<number>): ArrayLike<number> {
    const seeds = new Set(ids);
    let appeared = false;
    for (const id of seeds) if (this.#reach.gains(id)) appeared = true;
    if (appeared) this.#plain.forget();
    if (!appeared && !this.#anyKnown && this.#rows.size === 0) return [];
    const affected = this.#affected.by(seeds);
    const changed = new Int32Array(affected.length);
    let count = 0;
    for (let k = 0; k < affected.length; k++) {
      const id = affected[k]!;
      if (this.#book.nodes[id]?.readsSpreads === true) this.#book.mustRun.add(id);
      if (appeared || this.#isUncertain(id)) changed[count++] = id;
      this.#isKnown[id] = 0;
      this.#plain.known[id] = undefined;
      if (this.#rows.size > 0) this.#rows.delete(id);
      this.#doubts.forget(id);
    }
    return changed.subarray(0, count);
  }

  #isUncertain(id: number): boolean {
    const uncertain = (spread: Spread): boolean => spread.parts.length > 0;
    if (this.#isKnown[id] === 1 && this.#cells[id]!.some(uncertain)) return true;
    return this.#rows.size > 0 && [...(this.#rows.get(id)?.values() ?? [])].some(uncertain);
  }

  forgetAll(): void {
    this.#cells = [];
    this.#isKnown.fill(0);
    this.#anyKnown = false;
    this.#rows.clear();
    this.#plain.forget();
    this.sources.sets.forget();
    this.#doubts.forgetAll();
    this.#reach.forget();
  }

  /** The spread of a cell's value (or of a field of its record). */
  ofCell(node: GraphNode, offset: number): Spread {
    if (!this.#reach.has(node.id)) return CERTAIN;
    if (this.#isKnown[node.id] !== 1) this.#findUpTo(node);
    const known = this.#cells[node.id]!;
    if (node.formula && node.width > 1) known[offset] ??= this.#field(node, offset);
    return known[offset] ?? CERTAIN;
  }

  /** Finds the spreads of cells and aggregates that this one rests on, and then its own, in order of calculation. */
  #findUpTo(node: GraphNode): void {
    const { nodes } = this.#book;
    if (this.#isKnown.length < nodes.length) {
      const known = new Uint8Array(2 * nodes.length);
      known.set(this.#isKnown);
      this.#isKnown = known;
    }
    this.#anyKnown = true;
    this.#upstream.each(
      node,
      (id) => this.#isKnown[id] === 1 || !this.#reach.has(id),
      (each) => {
        if (each.kind === 'column' || this.#isKnown[each.id] === 1) return;
        const found = this.#computeCell(each);
        this.#cells[each.id] = found;
        this.#isKnown[each.id] = 1;
        if (each.width === 1) this.#plain.known[each.id] = found[0];
      },
    );
  }

  #computeCell(node: GraphNode): Spread[] {
    if (node.type === undefined || node.slot < 0) return [CERTAIN];
    if (node.kind === 'aggregate') return [this.#aggregate(node)];
    if (!node.formula) return [typedCell(this.sources, node)];
    // Fields of a record only when asked for: those of a fit are costly.
    if (node.width > 1) return [];
    const known = this.#cells[node.id];
    const isPlain = this.#book.storage.states[node.slot] === VALUE && this.#plain.isPlain(node);
    const spread = isPlain ? this.#plain.of(node) : this.#field(node, 0);
    if (known?.length !== 1) return [spread];
    known[0] = spread;
    return known;
  }

  #field(node: GraphNode, offset: number): Spread {
    const isValue = node.slot >= 0 && this.#book.storage.states[node.slot + offset] === VALUE;
    return isValue
      ? this.spreadBefore(node, -1, [{ slot: node.slot + offset, slope: 1 }], Infinity)
      : CERTAIN;
  }

  #aggregate(node: GraphNode): Spread {
    const data = node.aggregate!;
    const column = this.#book.byKey.get(data.column)!;
    const { rows, factor } = contributing(data, column.data!, this.#book.storage.values[node.slot]!);
    const spreads = rows.map((row) => this.ofRow(column, row, data.offset));
    this.#sum.begin();
    for (const spread of spreads) this.#sum.add(spread, factor);
    return this.#sum.end(this.sources.sets);
  }

  ofRow(node: GraphNode, row: number, offset: number): Spread {
    if (!this.#reach.has(node.id)) return CERTAIN;
    let known = this.#rows.get(node.id);
    if (!known) {
      known = new Map();
      this.#rows.set(node.id, known);
    }
    const key = row * Math.max(1, node.width) + offset;
    let spread = known.get(key);
    if (!spread) {
      spread = this.#computeRow(node, row, offset);
      known.set(key, spread);
    }
    return spread;
  }

  #computeRow(node: GraphNode, row: number, offset: number): Spread {
    const data = node.data;
    if (!data || data.fields[offset]?.states[row] !== VALUE) return CERTAIN;
    if (!node.formula || data.overrides.has(row)) return typedRow(this.sources, node, row);
    for (const id of node.references) {
      const from = this.#book.nodes[id];
      if (from && from.kind !== 'column') this.ofCell(from, 0);
    }
    this.#sites.enterRow(node.inputs, row);
    return this.spreadBefore(node, row, [{ slot: node.rowResult + offset, slope: 1 }], Infinity);
  }

  doubt(node: GraphNode, row: number): Doubt | undefined {
    return this.#reach.has(node.id) ? this.#doubts.of(node, row) : undefined;
  }

  /** The spread of a sum of slots, of which each is taken so many times, as they stand before instruction `end`. */
  spreadBefore(node: GraphNode, row: number, seeds: Seeds, end: number): Spread {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    // First, since a formula that asks for spreads finds those of others on the way.
    const whole = this.forward(this.#book, node.text, node.codeStart, node.codeEnd);
    this.#demands = [];
    this.#own = [];
    this.#approximate = false;
    this.#siteStart = node.siteStart;
    this.#room(values.length);
    const path = end === Infinity ? whole : whole.filter((pc) => pc < end);
    for (const { slot, slope } of seeds) this.#slopes[slot]! += slope;
    this.#back(code, path, node.key, row);
    for (const input of node.inputs) this.#take(input.slot, this.#book.node(input.node), row, input.offset);
    for (const { slot } of seeds) if (!this.#book.storage.isTemporary(slot)) this.#takeSlot(slot);
    this.#takeCells(code, path);
    for (const { slot } of seeds) this.#slopes[slot] = 0;
    return this.#gatherDemands();
  }

  #room(size: number): void {
    if (this.#slopes.length < size) this.#slopes = new Float64Array(size);
  }

  /** Runs forward again, since temporaries are shared, and gives the places of the instructions that were run. */
  forward(tape: Tape, text: string, from: number, to: number): number[] {
    return this.#steps(tape, text, from, to, false) ?? this.#steps(tape, text, from, to, true) ?? [];
  }

  /** Undefined where the fast run meets what is no number, which only the careful run sees through (`otherwise`). */
  #steps(
    { code, origins }: Tape,
    text: string,
    from: number,
    to: number,
    careful: boolean,
  ): number[] | undefined {
    const { values } = this.#book.storage;
    const path: number[] = [];
    for (let pc = from; pc < to; pc += 4) {
      const op = code[pc]!;
      if (op === OP.jump) pc = from + code[pc + 3]! - 4;
      else if (op === OP.jumpIfNot) {
        if (values[code[pc + 2]!] === 0) pc = from + code[pc + 3]! - 4;
      } else {
        if (careful) this.#sites.careful.run(code, origins, text, pc, pc + 4);
        else {
          run(code, values, pc, pc + 4, this.#sites);
          if (!Number.isFinite(values[code[pc + 1]!])) return undefined;
        }
        path.push(pc);
      }
    }
    return path;
  }

  #back(code: Int32Array, path: readonly number[], owner: string, row: number): void {
    const { values } = this.#book.storage;
    for (let k = path.length - 1; k >= 0; k--) {
      const pc = path[k]!;
      if (code[pc] === OP.call) this.#call(code[pc + 2]!, owner, row);
      else stepBack(code, pc, values, this.#slopes);
    }
  }

  #takeCells(code: Int32Array, path: readonly number[]): void {
    const { storage } = this.#book;
    for (const pc of path) {
      if (code[pc] === OP.call) continue;
      const n = operands(code[pc]!);
      for (let k = 2; k < 2 + n; k++) {
        const slot = code[pc + k]!;
        if (this.#slopes[slot] !== 0 && !storage.isTemporary(slot)) this.#takeSlot(slot);
      }
    }
  }

  #takeSlot(slot: number): void {
    const owner = this.#book.ownerOf(slot);
    if (owner) this.#take(slot, owner, -1, slot - owner.slot);
    else {
      const literal = this.#book.literals.get(slot);
      const s = this.#slopes[slot]!;
      this.#slopes[slot] = 0;
      if (!literal) return;
      const source = this.sources.intern(literal.key, 'typed', literal.label, literal.u);
      this.#own.push({ id: source.id, part: s * literal.u });
    }
  }

  #take(slot: number, node: GraphNode, row: number, offset: number): void {
    const sensitivity = this.#slopes[slot]!;
    if (sensitivity === 0) return;
    this.#slopes[slot] = 0;
    this.#demands.push({ node, row, offset, sensitivity });
  }

  /** Only now, with the tape done, may other formulas run: they use the same temporaries. */
  #gatherDemands(): Spread {
    const own = this.#own;
    const approximate = this.#approximate;
    const parts = this.#demands.map((d) => ({
      spread: d.row < 0 ? this.ofCell(d.node, d.offset) : this.ofRow(d.node, d.row, d.offset),
      sensitivity: d.sensitivity,
    }));
    this.#sum.begin();
    for (const { spread, sensitivity } of parts) this.#sum.add(spread, sensitivity);
    for (const { id, part } of own) this.#sum.addOne(id, part);
    if (approximate) this.#sum.markApproximate();
    return this.#sum.end(this.sources.sets);
  }

  #call(index: number, owner: string, row: number): void {
    const site = this.#book.sites[index];
    if (site?.kind === 'library') this.#libraryCall(site, index, owner, row);
    else if (site?.kind === 'lookup') {
      const from = this.#sites.rowOf(site);
      for (let k = 0; k < site.width; k++) {
        const s = this.#slopes[site.result + k]!;
        this.#slopes[site.result + k] = 0;
        if (s !== 0 && from !== undefined)
          this.#demands.push({
            node: this.#book.node(site.resultNode),
            row: from,
            offset: site.resultOffset + k,
            sensitivity: s,
          });
      }
    } else if (site?.kind === 'spread') this.#slopes[site.result] = 0;
    else if (site?.kind === 'aggregate') {
      const s = this.#slopes[site.result]!;
      this.#slopes[site.result] = 0;
      if (s === 0 || site.name === 'count') return;
      const gathered = this.#sites.gather([site.vector]);
      if ('state' in gathered) return;
      const list = gathered.lists[0]!;
      const result = this.#book.storage.values[site.result]!;
      const extreme = site.name === 'min' || site.name === 'max';
      const only = extreme ? list.indexOf(result) : -1;
      gathered.rows.forEach((r, i) => {
        if (extreme && i !== only) return;
        this.#element(site.vector, r, site.name === 'mean' ? s / list.length : s);
      });
    }
  }

  /** One row of a column argument, backwards. */
  #element(vector: VectorProgram, row: number, sensitivity: number): void {
    this.#sites.load(vector.inputs, row);
    const path = this.forward(vector, vector.text, 0, vector.code.length);
    this.#slopes[vector.result] = sensitivity;
    this.#back(vector.code, path, '', row);
    this.#slopes[vector.result] = 0;
    for (const input of vector.inputs) this.#take(input.slot, this.#book.node(input.node), row, input.offset);
    this.#takeCells(vector.code, path);
  }

  #libraryCall(site: LibrarySite, index: number, owner: string, row: number): void {
    const names = site.type.kind === 'record' ? [...site.type.fields.keys()] : ['result'];
    const slopes = new Map<string, number>();
    names.forEach((name, k) => {
      const s = this.#slopes[site.result + k]!;
      this.#slopes[site.result + k] = 0;
      if (s !== 0 && Number.isFinite(s)) slopes.set(name, s);
    });
    // What takes seconds is not asked again for a difference: its answer is of the values as they are.
    if (slopes.size === 0 || site.definition.deferred) return;
    const given = this.#sites.arguments(site, false);
    if ('state' in given) return;
    const found = derivatives(site.definition, given.values, [...slopes.keys()]);
    const scalars: { readonly slot: number; readonly s: number }[] = [];
    const elements: { readonly vector: VectorProgram; readonly s: ReadonlyMap<number, number> }[] = [];
    site.arguments.forEach((argument, i) => {
      if (argument.kind === 'scalar') {
        let s = 0;
        for (const [name, slope] of slopes) s += slope * numberAt(found.get(name)?.by[i]);
        if (s !== 0) scalars.push({ slot: argument.slot, s });
        return;
      }
      const s = new Map<number, number>();
      given.rows[i]!.forEach((r, k) => {
        let sum = 0;
        for (const [name, slope] of slopes) sum += slope * rowAt(found.get(name)?.by[i], k);
        if (sum !== 0) s.set(r, sum);
      });
      elements.push({ vector: argument.vector, s });
    });
    for (const d of found.values()) if (!d.exact) this.#approximate = true;
    for (const { slot, s } of scalars) this.#slopes[slot]! += s;
    for (const { slot } of scalars) if (!this.#book.storage.isTemporary(slot)) this.#takeSlot(slot);
    for (const { vector, s } of elements) for (const [r, slope] of s) this.#element(vector, r, slope);
    const where = row < 0 ? owner : `${owner}, row ${row + 1}`;
    const place = index - this.#siteStart;
    this.#own.push(...scatterParts(this.sources, site, where, place, given.values, slopes));
  }
}
