/** Works out call sites: functions of the library, aggregates that differ from row to row, lookups. */
import type { CallArgument, CallSite, VectorProgram } from '../formula/compile.ts';
import type { Span } from '../formula/diagnostic.ts';
import { bestAnswer, fault, invoke, isFault, type Argument, type Scalar } from '../formula/library.ts';
import { OP, run } from '../formula/tape.ts';
import type { Type } from '../formula/type.ts';
import type { Book } from './book.ts';
import { blankReason, chooses, inRow, overRows, whyBlank, type Gathered } from './aggregate.ts';
import { columnGroups, type LibrarySite } from './arguments.ts';
import { Careful, type CarefulHost } from './careful.ts';
import type { Chance, SpreadSite } from './chance.ts';
import type { ColumnData, GraphNode } from './node.ts';
import { BLANK, FAULT, NOT_KNOWN, VALUE, WAITING, type Cause } from './storage.ts';

export type LookupSite = CallSite & { readonly kind: 'lookup' };

export interface GivenArguments {
  readonly values: readonly Argument[];
  /** By argument: the rows that a column came from. */
  readonly rows: readonly (readonly number[])[];
}

type Outcome = { readonly state: typeof VALUE } | { readonly state: number; readonly cause?: Cause };
const FINE: Outcome = { state: VALUE };
const UNTOLD: Cause = {
  reason: 'the ± that it asks for cannot be told from the slope: check it by sampling',
};

interface Index {
  readonly rows: Map<number, number>;
  readonly twice: ReadonlySet<number>;
}

export class Sites implements CarefulHost {
  readonly #book: Book;
  readonly careful: Careful;
  /** In a sampled run: joint draws of Student's t, which share one estimate of scatter. */
  deviate: ((dof: number, count: number) => readonly number[]) | undefined;
  /** Knows spreads; set by the engine once it can. */
  chance: Chance | undefined;
  /** The row whose formula is being worked out. */
  #row = -1;
  /** The row of a column argument that was worked out last is no value because a condition leaves it out. */
  #isLeftOut = false;
  /** Key column to its index; dropped when the column changes. */
  readonly #indices = new Map<ColumnData, Index>();

  constructor(book: Book) {
    this.#book = book;
    this.careful = new Careful(book.storage, this);
  }

  call(site: number): void {
    this.#settle(site, undefined);
  }

  callCarefully(site: number, span: Span): void {
    this.#settle(site, span);
  }

  waitingFor(slot: number): string | undefined {
    const owner = this.#book.ownerOf(slot);
    // An aggregate that formulas share is a part of each.
    return owner?.hidden ? undefined : (owner?.key ?? 'another cell');
  }

  /** A key column changed: what was looked up in it must be looked up afresh. */
  columnChanged(data: ColumnData): void {
    this.#indices.delete(data);
  }

  /** Without a span this is the fast run: what is not a value becomes NaN, and nobody asks why yet. */
  #settle(index: number, span: Span | undefined): void {
    const site = this.#book.sites[index];
    if (!site) throw new Error(`no call site ${index}`);
    const { values, states, causes } = this.#book.storage;
    const outcome =
      site.kind === 'library'
        ? this.#library(site, span !== undefined)
        : site.kind === 'lookup'
          ? this.#lookup(site, span !== undefined)
          : site.kind === 'spread'
            ? this.#spread(site, span !== undefined)
            : this.#aggregate(site);
    const wide = site.kind === 'lookup' ? site.width : site.kind === 'library' ? resultWidth(site.type) : 1;
    if (outcome.state === VALUE) {
      if (span) for (let k = 0; k < wide; k++) markValue(values, states, causes, site.result + k);
      return;
    }
    for (let k = 0; k < wide; k++) {
      values[site.result + k] = NaN;
      if (!span) continue;
      states[site.result + k] = outcome.state;
      const cause = 'cause' in outcome ? outcome.cause : undefined;
      if (cause) causes.set(site.result + k, cause.fault ? { ...cause, span } : cause);
      else causes.delete(site.result + k);
    }
  }

  #library(site: LibrarySite, careful: boolean): Outcome {
    const given = this.arguments(site, careful);
    if ('state' in given) return given;
    // Drawn values are asked for once.
    const result =
      site.definition.deferred && !this.deviate
        ? bestAnswer(this.#book.library.answers, site.definition, given.values)
        : invoke(site.definition.compute, given.values);
    if (isFault(result)) return { state: FAULT, cause: { fault: result } };
    const outcome = this.#write(site, result);
    if (this.deviate) this.#deviateFrom(site, given.values, this.deviate);
    return outcome;
  }

  /** The arguments of a call as its function takes them, with the rows that its column arguments came from. */
  arguments(site: LibrarySite, careful: boolean): GivenArguments | Outcome {
    const { values } = this.#book.storage;
    for (const a of site.arguments)
      if (a.kind === 'scalar') {
        const bad = this.#scalarState(a.slot, careful);
        if (bad) return bad;
      }
    const lists: (readonly number[])[] = [];
    const rows: (readonly number[])[] = site.arguments.map(() => []);
    for (const group of columnGroups(site)) {
      const gathered = this.gather(group.map(({ vector }) => vector));
      if ('state' in gathered) return gathered;
      group.forEach(({ index }, k) => {
        lists[index] = gathered.lists[k]!;
        rows[index] = gathered.rows;
      });
    }
    const list = site.arguments.map((a: CallArgument, i): Argument => {
      if (a.kind === 'scalar') return this.#decode(values[a.slot]!, a.type);
      const column = lists[i]!;
      return a.vector.type.kind === 'text' ? column.map((n) => this.#book.storage.textOf(n)) : column;
    });
    return { values: list, rows };
  }

  /** In a sampled run a fit's results are moved by a draw of the scatter of its data. */
  #deviateFrom(
    site: LibrarySite,
    args: readonly Argument[],
    deviate: (dof: number, count: number) => readonly number[],
  ): void {
    const scatter = site.definition.scatter && invoke(site.definition.scatter, args);
    if (!scatter || site.type.kind !== 'record') return;
    const { values } = this.#book.storage;
    const draws = deviate(scatter.degreesOfFreedom, scatter.components.length);
    let k = site.result;
    for (const name of site.type.fields.keys()) {
      let shift = 0;
      for (let j = 0; j < draws.length; j++) shift += draws[j]! * (scatter.components[j]![name] ?? 0);
      values[k++]! += shift;
    }
  }

  #write(site: LibrarySite, result: Scalar | Readonly<Record<string, Scalar>>): Outcome {
    const { values } = this.#book.storage;
    if (site.type.kind !== 'record') {
      values[site.result] = this.#encode(result as Scalar);
      if (site.type.kind === 'text' && result === '') return { state: BLANK };
      if (Number.isFinite(values[site.result])) return FINE;
      return { state: BLANK, cause: { reason: site.definition.unavailable ?? NOT_KNOWN } };
    }
    let k = 0;
    for (const name of site.type.fields.keys())
      values[site.result + k++] = this.#encode((result as Readonly<Record<string, Scalar>>)[name] ?? NaN);
    return FINE;
  }

  #scalarState(slot: number, careful: boolean): Outcome | undefined {
    const { values, states, causes } = this.#book.storage;
    if (!careful) return Number.isNaN(values[slot]) ? { state: BLANK } : undefined;
    const state = states[slot]!;
    if (state === VALUE) return undefined;
    const cause = causes.get(slot);
    const root = state === FAULT && !this.#book.storage.isTemporary(slot) && this.waitingFor(slot);
    if (root) return { state: WAITING, cause: { waitingFor: root } };
    return cause ? { state, cause } : { state };
  }

  /** The rows of several column arguments side by side; a row in which one is blank is left out of all. */
  gather(vectors: readonly VectorProgram[]): Gathered | Outcome {
    const { values, causes } = this.#book.storage;
    let first: Gathered['blank'];
    const lists = vectors.map((): number[] => []);
    const used: number[] = [];
    const rows = this.#book.tables.get(vectors[0]!.table)?.rows ?? 0;
    const row = vectors.map(() => NaN);
    for (let j = 0; j < rows; j++) {
      let blank = false;
      for (let k = 0; k < vectors.length; k++) {
        const v = vectors[k]!;
        const state = this.#element(v, j);
        if (state === BLANK) {
          blank = true;
          if (!this.#isLeftOut) first ??= { row: j, cause: causes.get(v.result) };
          break;
        }
        if (state !== VALUE) return this.#badRow(v, j, state);
        row[k] = values[v.result]!;
      }
      if (blank) continue;
      used.push(j);
      for (let k = 0; k < lists.length; k++) lists[k]!.push(row[k]!);
    }
    return { lists, rows: used, blank: first };
  }

  /** Works out one row of a column argument into its result slot; gives the state. */
  #element(v: VectorProgram, row: number): number {
    const { values, states } = this.#book.storage;
    this.load(v.inputs, row);
    const { code } = v;
    const end = code.length;
    run(code, values, 0, end, this);
    if (Number.isFinite(values[v.result])) return VALUE;
    // A row that a condition leaves out: so are most, where a table is filtered.
    if (code[end - 4] === OP.where && values[code[end - 1]!] === 0) {
      states[v.result] = BLANK;
      this.#isLeftOut = true;
      return BLANK;
    }
    this.careful.run(v.code, v.origins, v.text, 0, end);
    this.#isLeftOut = chooses(code, 0, end) && !this.#book.storage.causes.has(v.result);
    return states[v.result]!;
  }

  /** A mistake in the argument itself is this formula's own; any other is waited for. */
  #badRow(v: VectorProgram, row: number, state: number): Outcome {
    const cause = this.#book.storage.causes.get(v.result);
    if (state === FAULT && cause?.fault)
      return { state: FAULT, cause: { fault: inRow(cause.fault, row, v.table) } };
    return { state: WAITING, cause: { waitingFor: cause?.waitingFor ?? `${v.table}, row ${row + 1}` } };
  }

  /** Begins the formula of one row: its inputs are loaded, and spreads asked for are this row's. */
  enterRow(inputs: VectorProgram['inputs'], row: number): void {
    this.#row = row;
    this.load(inputs, row);
  }

  /** Puts the values of one row into the slots that a row formula reads. */
  load(inputs: VectorProgram['inputs'], row: number): void {
    const { values, states, causes } = this.#book.storage;
    for (const input of inputs) {
      const node = this.#book.node(input.node);
      const field = node.data?.fields[input.offset];
      const state = node.type === undefined || !field ? WAITING : field.states[row]!;
      values[input.slot] = state === VALUE ? field!.values[row]! : NaN;
      states[input.slot] = state === FAULT ? WAITING : state;
      if (state === FAULT) causes.set(input.slot, { waitingFor: `${node.key}, row ${row + 1}` });
      else if (state !== VALUE) {
        const cause = node.data?.causes.get(row);
        if (cause) causes.set(input.slot, cause);
        else if (state === WAITING) causes.set(input.slot, { waitingFor: node.key });
        else causes.delete(input.slot);
      }
    }
  }

  #spread(site: SpreadSite, careful: boolean): Outcome {
    for (const side of site.sides) {
      const bad = this.#scalarState(side.slot, careful);
      if (bad) return bad;
    }
    const row = this.#row;
    const value = this.chance?.value(site, row) ?? NaN;
    this.#book.storage.values[site.result] = value;
    this.#row = row;
    return Number.isNaN(value) ? { state: BLANK, cause: UNTOLD } : FINE;
  }

  #aggregate(site: CallSite & { kind: 'aggregate' }): Outcome {
    const gathered = this.gather([site.vector]);
    if ('state' in gathered) return gathered;
    const { name, vector, result } = site;
    const { blank } = gathered;
    const value = name === 'full_sum' && blank ? undefined : overRows(name, gathered.lists[0]!);
    if (value === undefined) {
      const { code, inputs } = vector;
      const filtered = code[code.length - 4] === OP.where;
      const source = inputs.find(({ slot }) => slot === (filtered ? code[code.length - 2] : vector.result));
      const node = source && this.#book.node(source.node);
      const over = { table: vector.table, column: node?.key, typed: node?.formula === false, filtered };
      return { state: BLANK, cause: whyBlank(name, over, blank?.row ?? -1, blank?.cause) };
    }
    this.#book.storage.values[result] = value;
    return FINE;
  }

  #lookup(site: LookupSite, careful: boolean): Outcome {
    const bad = this.#scalarState(site.key, careful);
    if (bad) return bad;
    const { values } = this.#book.storage;
    const keys = this.#book.node(site.keyNode);
    const results = this.#book.node(site.resultNode);
    const key = values[site.key]!;
    const index = this.#index(keys, site.keyOffset);
    const row = index.rows.get(key);
    if (row === undefined || index.twice.has(key)) {
      const shown = site.keyType.kind === 'text' ? `"${this.#book.storage.textOf(key)}"` : 'this value';
      const column = keys.key.slice(site.table.length + 1);
      return {
        state: FAULT,
        cause: {
          fault:
            row === undefined
              ? fault(
                  `no row of ${site.table} has ${shown} as ${column}`,
                  `add that row, or correct the ${column}`,
                )
              : fault(
                  `${shown} stands in two rows of ${site.table} as ${column}`,
                  'give each row its own, so that one is meant',
                ),
        },
      };
    }
    const copyState = (state: number): Outcome => {
      if (state === BLANK) return { state: BLANK, cause: { reason: blankReason(results, row) } };
      return {
        state: WAITING,
        cause:
          results.data?.causes.get(row)?.waitingFor === undefined
            ? { waitingFor: `${results.key}, row ${row + 1}` }
            : results.data.causes.get(row)!,
      };
    };
    let worst: number = VALUE;
    let anyValue = false;
    for (let k = 0; k < site.width; k++) {
      const field = results.data?.fields[site.resultOffset + k];
      const state = field?.states[row] ?? BLANK;
      values[site.result + k] = state === VALUE ? field!.values[row]! : NaN;
      if (state === VALUE) anyValue = true;
      else if (state > worst) worst = state;
    }
    return anyValue || worst === VALUE ? FINE : copyState(worst);
  }

  /** Fills the slots of a formula afresh: its temporaries are shared with all others. */
  runForward(node: GraphNode): void {
    run(this.#book.code, this.#book.storage.values, node.codeStart, node.codeEnd, this);
  }

  /** The row that a lookup takes its result from, where there is exactly one. */
  rowOf(site: LookupSite): number | undefined {
    const key = this.#book.storage.values[site.key]!;
    const index = this.#index(this.#book.node(site.keyNode), site.keyOffset);
    return index.twice.has(key) ? undefined : index.rows.get(key);
  }

  #index(keys: GraphNode, offset: number): Index {
    const data = keys.data;
    if (!data) throw new Error(`${keys.key} has no values`);
    let index = this.#indices.get(data);
    if (!index) {
      const rows = new Map<number, number>();
      const twice = new Set<number>();
      const field = data.fields[offset]!;
      for (let j = 0; j < data.rows; j++) {
        if (field.states[j] !== VALUE) continue;
        const key = field.values[j]!;
        if (rows.has(key)) twice.add(key);
        else rows.set(key, j);
      }
      index = { rows, twice };
      this.#indices.set(data, index);
    }
    return index;
  }

  #decode(value: number, type: Type): Scalar {
    if (type.kind === 'text') return this.#book.storage.textOf(value);
    return type.kind === 'logical' ? value === 1 : value;
  }

  #encode(value: Scalar): number {
    if (typeof value === 'string') return this.#book.storage.wordsNumber(value);
    return typeof value === 'boolean' ? (value ? 1 : 0) : value;
  }
}

function resultWidth(type: Type): number {
  return type.kind === 'record' ? type.fields.size : 1;
}

/** A field without a number is unavailable: a blank with a reason. */
function markValue(values: Float64Array, states: Uint8Array, causes: Map<number, Cause>, slot: number): void {
  if (Number.isFinite(values[slot])) {
    states[slot] = VALUE;
    causes.delete(slot);
    return;
  }
  values[slot] = NaN;
  states[slot] = BLANK;
  causes.set(slot, { reason: NOT_KNOWN });
}
