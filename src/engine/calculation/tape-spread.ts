/**
 * The spread of any formula: its tape is run backwards once for its sensitivities, through calls, jumps and rows, and
 * the spreads of what it reads are added up source by source (JCGM 100:2008, 5.2.2, every source independent).
 */
import { OP, run, type Tape, operands } from '../formula/tape.ts';
import type { VectorProgram } from '../formula/compile.ts';
import { stepBack } from './backward.ts';
import type { Book } from './book.ts';
import { derivatives, numberAt, rowAt } from './derivatives.ts';
import type { GraphNode } from './node.ts';
import { sumOf, type Seeds, type Within } from './cell-spreads.ts';
import type { Reach } from './reach.ts';
import { scatterParts } from './scatter.ts';
import type { Sites } from './sites.ts';
import type { LibrarySite } from './arguments.ts';
import { displacedBy, displacement, flatMovement } from './displaced.ts';
import { pathReads } from './path-reads.ts';
import { Accumulator, flatSpread, type Sources, type Spread } from './sources.ts';

/** Sensitivity of the formula at hand to a value with a spread of its own. */
export interface Demand {
  readonly node: GraphNode;
  /** -1 for a cell. */
  readonly row: number;
  readonly offset: number;
  readonly sensitivity: number;
}

/** What a sum of slots hangs on. */
export interface Sensitivities {
  readonly demands: readonly Demand[];
  /** Contributions of scatter and of ± literals, which no node holds. */
  readonly own: readonly { readonly id: number; readonly part: number }[];
  /** Functions whose sensitivities were found by differences, not exactly. */
  readonly byDifferences: ReadonlySet<string>;
}

/** Where a cell's formula writes its result. */
function ownSlots(node: GraphNode): number[] {
  return node.kind === 'cell' ? Array.from({ length: node.width }, (_, k) => node.slot + k) : [];
}

/** Whoever keeps the spreads of what a formula reads. */
interface Kept {
  ofCell(node: GraphNode, offset: number): Spread;
  ofRow(node: GraphNode, row: number, offset: number): Spread;
  plusMinus(node: GraphNode, offset: number): number | undefined;
  rowPlusMinus(node: GraphNode, row: number, offset: number): number | undefined;
}

export class TapeSpreads {
  readonly sources: Sources;
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #reach: Reach;
  readonly #kept: Kept;
  readonly #sum: Accumulator;
  #slopes = new Float64Array(0);
  #demands: Demand[] = [];
  #own: { readonly id: number; readonly part: number }[] = [];
  #byDifferences = new Set<string>();
  /** Of the formula at hand: its calls are told apart by their place in it, which is the same in every workbook. */
  #siteStart = 0;

  constructor(book: Book, sites: Sites, sources: Sources, reach: Reach, kept: Kept) {
    this.#book = book;
    this.#sites = sites;
    this.sources = sources;
    this.#sum = new Accumulator(sources.sets);
    this.#reach = reach;
    this.#kept = kept;
  }

  /** The spread of a result of a formula, of the row at hand in a column (-1 in a cell). */
  of(node: GraphNode, row: number, slot: number): Spread {
    // First, since a formula that asks for spreads finds those of others on the way.
    const path = this.forward(this.#book, node.text, node.codeStart, node.codeEnd);
    const found = this.sensitivities(node, row, path, path.length, [{ slot, slope: 1 }]);
    const spread = this.#gather(found);
    // What asks for spreads, or has its full answer later, is not tried with other values.
    if (spread.uncertainty !== 0 || node.readsSpreads || node.defers) return spread;
    const moved = this.movement(node, row, [{ slot, slope: 1 }]);
    return moved === 0 && !spread.flat ? spread : flatSpread(moved);
  }

  /** What one result of a formula hangs on itself. */
  directly(node: GraphNode, row: number, slot: number): Sensitivities {
    if (row >= 0) this.#sites.enterRow(node.inputs, row);
    const path = this.forward(this.#book, node.text, node.codeStart, node.codeEnd);
    return this.sensitivities(node, row, path, path.length, [{ slot, slope: 1 }]);
  }

  /** How far a sum of slots of a formula, without any contribution, moves when what the formula reads does. */
  movement(node: GraphNode, row: number, seeds: Seeds): number {
    if (node.readsSpreads || node.defers) return 0;
    if (row >= 0) this.#sites.enterRow(node.inputs, row);
    const run = (): readonly number[] => this.forward(this.#book, node.text, node.codeStart, node.codeEnd);
    const path = run();
    const { values, states } = this.#book.storage;
    const nominal = sumOf(seeds, values);
    const { places, literals } = pathReads(this.#book, this.#sites, this.#reach, node, row, path);
    const read = places.flatMap(({ node: from, row: at, offset }) => {
      const spread = at < 0 ? this.#kept.ofCell(from, offset) : this.#kept.ofRow(from, at, offset);
      const by = displacement(spread);
      if (by === 0) return [];
      const into = at < 0 ? values : from.data!.fields[offset]!.values;
      const place = at < 0 ? from.slot + offset : at;
      return [{ into, place, value: into[place]!, by, flat: spread.flat }];
    });
    for (const place of literals) {
      const by = this.#book.literals.get(place)!.u;
      read.push({ into: values, place, value: values[place]!, by, flat: false });
    }
    if (read.length === 0) return 0;
    const own = ownSlots(node).map((slot) => ({ slot, value: values[slot]!, state: states[slot]! }));
    const moved = flatMovement(nominal, (times) => {
      for (const { into, place, value, by, flat } of read) into[place] = value + displacedBy(by, flat, times);
      if (row >= 0) this.#sites.enterRow(node.inputs, row);
      run();
      return sumOf(seeds, values);
    });
    for (const { into, place, value } of read) into[place] = value;
    for (const { slot, value, state } of own) {
      values[slot] = value;
      states[slot] = state;
    }
    return moved;
  }

  /**
   * What a sum of slots, of which each is taken so many times, hangs on as they stand after so many steps of the path;
   * the path was run last.
   */
  sensitivities(
    node: GraphNode,
    row: number,
    path: readonly number[],
    steps: number,
    seeds: Seeds,
  ): Sensitivities {
    const { code, storage } = this.#book;
    this.#demands = [];
    this.#own = [];
    this.#byDifferences = new Set();
    this.#siteStart = node.siteStart;
    this.#room(storage.values.length);
    for (const { slot, slope } of seeds) this.#slopes[slot]! += slope;
    this.#back(code, path, steps, node.key, row);
    for (const input of node.inputs) this.#take(input.slot, this.#book.node(input.node), row, input.offset);
    for (const { slot } of seeds) if (!storage.isTemporary(slot)) this.#takeSlot(slot);
    this.#takeCells(code, path, steps);
    for (const { slot } of seeds) this.#slopes[slot] = 0;
    return { demands: this.#demands, own: this.#own, byDifferences: this.#byDifferences };
  }

  /** Whether so many standard uncertainties of what has these sensitivities come up to a distance, by the slope. */
  reaches(found: Sensitivities, times: number, distance: number): Within {
    // No sum is less certain than its terms are together, and where they cancel no further away.
    let most = 0;
    let anyFlat = false;
    for (const d of found.demands) {
      const u = this.#plusMinus(d);
      if (u === 0) anyFlat = true;
      most += Math.abs(d.sensitivity) * (u ?? 0);
    }
    for (const { part } of found.own) most += Math.abs(part);
    if (most > 0 && distance >= times * most * (1 + 1e-9) && !anyFlat) return 'no';
    const { uncertainty } = this.#gather(found);
    if (distance < times * uncertainty) return 'yes';
    return uncertainty === 0 ? 'flat' : 'no';
  }

  #plusMinus({ node, row, offset }: Demand): number | undefined {
    return row < 0 ? this.#kept.plusMinus(node, offset) : this.#kept.rowPlusMinus(node, row, offset);
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

  #back(code: Int32Array, path: readonly number[], steps: number, owner: string, row: number): void {
    const { values } = this.#book.storage;
    for (let k = steps - 1; k >= 0; k--) {
      const pc = path[k]!;
      if (code[pc] === OP.call) this.#call(code[pc + 2]!, owner, row);
      else stepBack(code, pc, values, this.#slopes);
    }
  }

  #takeCells(code: Int32Array, path: readonly number[], steps: number): void {
    const { storage } = this.#book;
    for (let i = 0; i < steps; i++) {
      const pc = path[i]!;
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
    if (this.#reach.has(node.id)) this.#demands.push({ node, row, offset, sensitivity });
  }

  /** Only now, with the tape done, may other formulas run: they use the same temporaries. */
  #gather({ demands, own, byDifferences }: Sensitivities): Spread {
    const spreads = demands.map((d) =>
      d.row < 0 ? this.#kept.ofCell(d.node, d.offset) : this.#kept.ofRow(d.node, d.row, d.offset),
    );
    this.#sum.begin();
    spreads.forEach((spread, k) => {
      this.#sum.add(spread, demands[k]!.sensitivity);
    });
    for (const { id, part } of own) this.#sum.addOne(id, part);
    if (byDifferences.size > 0) this.#sum.markApproximate();
    return this.#sum.end();
  }

  #call(index: number, owner: string, row: number): void {
    const site = this.#book.sites[index];
    if (site?.kind === 'library') this.#libraryCall(site, index, owner, row);
    else if (site?.kind === 'lookup') {
      const from = this.#sites.rowOf(site);
      for (let k = 0; k < site.width; k++) {
        const s = this.#slopes[site.result + k]!;
        this.#slopes[site.result + k] = 0;
        if (s !== 0 && from !== undefined && this.#reach.has(site.resultNode))
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
    this.#back(vector.code, path, path.length, '', row);
    this.#slopes[vector.result] = 0;
    for (const input of vector.inputs) this.#take(input.slot, this.#book.node(input.node), row, input.offset);
    this.#takeCells(vector.code, path, path.length);
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
    // Of what is certain the derivative does not matter.
    if (this.#reach.feeds(index) && [...found.values()].some((d) => !d.exact))
      this.#byDifferences.add(site.definition.name);
    for (const { slot, s } of scalars) this.#slopes[slot]! += s;
    for (const { slot } of scalars) if (!this.#book.storage.isTemporary(slot)) this.#takeSlot(slot);
    for (const { vector, s } of elements) for (const [r, slope] of s) this.#element(vector, r, slope);
    const where = row < 0 ? owner : `${owner}, row ${row + 1}`;
    const place = index - this.#siteStart;
    this.#own.push(...scatterParts(this.sources, site, where, place, given.values, slopes));
  }
}
