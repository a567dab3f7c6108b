/**
 * The engine: named cells and tables go in, states come out. Definitions are gathered until `recalculate`, which
 * settles what is new, works out what is affected, and says what changed.
 */
import { parseUnit, type UnitProblem } from '../quantity/index.ts';
import { isDiagnostic, type Diagnostic } from '../formula/diagnostic.ts';
import { infer } from '../formula/infer.ts';
import type { FunctionLibrary } from '../formula/library.ts';
import { parse } from '../formula/parse.ts';
import { quantityType, READING, TEXT, type Type } from '../formula/type.ts';
import { unitMismatch } from '../formula/mismatch.ts';
import { Book } from './book.ts';
import { unfinished, type DeferredTask } from './deferred.ts';
import { enter, isTyped, type Entered } from './entry.ts';
import type { CellDefinition, GraphNode, TableDefinition } from './node.ts';
import { readCell, readRow, type FieldName } from './read.ts';
import type { Drawable } from './sampling.ts';
import { settle } from './settle.ts';
import { Sites } from './sites.ts';
import { LazyNames } from './lazy-names.ts';
import type { CellState, Changes } from './state.ts';
import { sameList, Tables, typeOfUnit } from './tables.ts';
import { Chance } from './chance.ts';
import { budgetOf, type Budget } from './budget.ts';
import { Uncertainty } from './uncertainty.ts';
import { BLANK, FAULT, VALUE, WAITING } from './storage.ts';
import { Sweep } from './sweep.ts';

export class Engine {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sweep: Sweep;
  readonly #tables: Tables;
  readonly #uncertainty: Uncertainty;
  /** Of the last recalculation. */
  #names: LazyNames | undefined;

  constructor(library: FunctionLibrary) {
    this.#book = new Book(library);
    this.#sites = new Sites(this.#book);
    this.#sweep = new Sweep(this.#book, this.#sites);
    this.#tables = new Tables(this.#book, this.#sites);
    this.#uncertainty = new Uncertainty(this.#book, this.#sites, (rank, rows, odd) => {
      this.#sweep.again(rank, rows, odd);
    });
    this.#sites.chance = new Chance(this.#book, this.#uncertainty);
  }

  get library(): FunctionLibrary {
    return this.#book.library;
  }

  /** Adds or replaces a named cell. */
  defineCell(definition: CellDefinition): void {
    const book = this.#book;
    const node = book.intern(definition.name);
    if (node.kind === 'column' || node.kind === 'aggregate')
      throw new Error(`${definition.name} is not the name of a cell`);
    const text = definition.text;
    const unit = definition.unit ?? '';
    const formula = definition.type === 'number' ? !isTyped(text, unit) : text.trimStart().startsWith('=');
    const sameKind = node.kind === 'cell' && node.entryType === definition.type && node.unit === unit;
    const meaning = definition.plusMinus ?? 'standard';
    if (node.meaning !== meaning && node.plusMinus !== undefined) book.changedSources.add(node.id);
    node.meaning = meaning;
    if (
      sameKind &&
      formula === node.formula &&
      text === node.text &&
      sameList(node.choices, definition.choices)
    )
      return;
    const wasTyped = sameKind && !node.formula && node.status === undefined && node.type !== undefined;
    const wasFormula = node.formula;
    node.kind = 'cell';
    node.entryType = definition.type;
    node.unit = unit;
    node.choices = definition.choices;
    node.formula = formula;
    node.text = text;
    node.plusMinus = undefined;
    if (formula) {
      // What was typed, perhaps since the last recalculation, must not pass for a result that did not change.
      if (!wasFormula && node.slot >= 0) put(book, node.slot, { value: NaN, state: WAITING });
      book.stale.add(node.id);
      return;
    }
    const type = node.type;
    node.ownSpread = false;
    node.readsSpreads = false;
    node.defers = false;
    this.#enterCell(node);
    if (wasTyped && node.type === type && node.status === undefined) book.changedSources.add(node.id);
    else book.stale.add(node.id);
  }

  #enterCell(node: GraphNode): void {
    const book = this.#book;
    const unit = parseUnit(node.unit);
    book.giveSlots(node, 1);
    if ('problem' in unit) {
      node.type = undefined;
      node.status = { invalid: unitDiagnostic(node.text, unit) };
      return;
    }
    const given = node.unit === '' ? undefined : unit;
    const entered = enter(book.storage, node.entryType, node.text, given, node.choices);
    node.status = undefined;
    node.type = node.entryType === 'number' ? typeOfUnit(given ?? entered.unit) : TEXT;
    node.plusMinus = entered.plusMinus;
    put(book, node.slot, entered);
  }

  removeCell(name: string): void {
    const node = this.#book.byKey.get(name);
    if (node?.kind === 'cell') this.#book.forget(node);
  }

  /** Adds or replaces a table with all its columns; columns that stay as they are keep their code. */
  defineTable(definition: TableDefinition): void {
    this.#tables.define(definition);
  }

  removeTable(name: string): void {
    this.#tables.remove(name);
  }

  /** Replaces the typed text of one row. */
  setEntry(table: string, column: string, row: number, text: string | undefined): void {
    this.#tables.setEntry(table, column, row, text);
  }

  recalculate(): Changes {
    const book = this.#book;
    const seeds = new Set([...book.changedSources, ...book.mustRun, ...book.stale]);
    const structural = book.stale.size > 0;
    if (structural) {
      // What was dropped gives its number to others, so names that nobody asked for yet are found first.
      this.#names?.set();
      settle(book);
    }
    const spread = this.#uncertainty.forget(seeds, book.changedRows);
    if (structural) this.#uncertainty.forgetAll();
    const ids = this.#sweep.run();
    const names = new LazyNames(book, ids.slice(), spread, [...book.removed]);
    this.#names = names;
    book.removed.clear();
    const rows = new Map<string, readonly [number, number]>();
    for (const [id, range] of this.#sweep.rows) {
      const key = book.nodes[id]?.key;
      if (key !== undefined) rows.set(key, range);
    }
    return {
      get names() {
        return names.set();
      },
      rows,
    };
  }

  /** Answers of deferred functions that are wanted in full. */
  unfinished(): DeferredTask[] {
    return unfinished(this.#book, this.#sites);
  }

  /** Has cells that ask deferred functions worked out again at the next recalculation, with what is known by then. */
  askAgain(): void {
    for (const node of this.#book.nodes) if (node?.defers) this.#book.mustRun.add(node.id);
  }

  /** The state of a cell, or of a field of the record it holds: `q50`, `fit.exponent`. */
  read(name: string): CellState {
    const node = this.#book.byKey.get(name);
    if (node) return readCell(this.#book, node, undefined, this.#uncertainty);
    const dot = name.indexOf('.');
    const record = dot > 0 ? this.#book.byKey.get(name.slice(0, dot)) : undefined;
    if (record) return readCell(this.#book, record, name.slice(dot + 1), this.#uncertainty);
    return {
      state: 'invalid',
      diagnostic: { code: 'unknown-name', message: `nothing is named ${name}`, span: { start: 0, end: 0 } },
    };
  }

  readRow(table: string, column: string, row: number, field?: FieldName): CellState {
    const node = this.#book.tables.get(table)?.columns.get(column);
    if (!node) return this.read(`${table}.${column}`);
    return readRow(this.#book, node, row, field, this.#uncertainty);
  }

  /** Whether a cell is a value or a blank: thousands are asked, without a look at what they say. */
  isSound(name: string): boolean {
    const node = this.#book.byKey.get(name);
    if (!node || node.kind === 'unknown' || node.status !== undefined || node.slot < 0) return false;
    const state = this.#book.storage.states[node.slot];
    return state === BLANK || (state === VALUE && Number.isFinite(this.#book.storage.values[node.slot]));
  }

  /** Whether a column is invalid, or some row of it is faulty or waits, so that reading each is worth while. */
  hasFaults(table: string, column: string): boolean {
    const node = this.#book.tables.get(table)?.columns.get(column);
    return node?.data === undefined || node.status !== undefined || node.data.causes.size > 0;
  }

  /** The type of a cell or a column, where it has one. */
  typeOf(name: string): Type | undefined {
    return this.#book.byKey.get(name)?.type;
  }

  /** Checks a formula as if it stood at that place; nothing is stored. */
  check(
    text: string,
    place: { readonly table?: string; readonly unit?: string } = {},
  ): Diagnostic | undefined {
    if (place.table === undefined && isTyped(text, place.unit ?? ''))
      return this.checkEntry(text, place.unit);
    const typed = this.#typed(text, place.table);
    if (isDiagnostic(typed)) return typed;
    if ('waitingFor' in typed || place.unit === undefined || place.unit === '') return undefined;
    const unit = parseUnit(place.unit);
    if ('problem' in unit) return unitDiagnostic(text, unit);
    const wanted = unit.reading ? READING : quantityType(unit.dimension);
    return typed.type === wanted ? undefined : unitMismatch(text, typed.type, wanted, place.unit);
  }

  /** What a formula would yield if it stood in a cell, or in a row of `table`; undefined where that cannot be told. */
  typeIn(text: string, table?: string): Type | undefined {
    const typed = this.#typed(text, table);
    return 'type' in typed ? typed.type : undefined;
  }

  #typed(text: string, table: string | undefined): ReturnType<typeof infer> {
    const expression = parse(text);
    if (isDiagnostic(expression)) return expression;
    const row = table === undefined ? undefined : this.#book.tables.get(table);
    return infer(expression, text, this.#book.scope(row));
  }

  /** Checks a typed value as if it stood in a place with that unit. */
  checkEntry(text: string, unitText: string | undefined): Diagnostic | undefined {
    const unit = parseUnit(unitText ?? '');
    const known = 'problem' in unit || unitText === undefined || unitText === '' ? undefined : unit;
    const entered = enter(this.#book.storage, 'number', text, known, undefined);
    const why = entered.state === FAULT ? entered.cause?.fault : undefined;
    if (!why) return undefined;
    return {
      code: 'entry',
      message: why.fault,
      span: { start: 0, end: text.length },
      ...(why.suggestion === undefined ? {} : { suggestion: why.suggestion }),
    };
  }

  /** Where the ± of a cell, a record's field or a row comes from; nothing where it has no value. */
  budget(name: string, row?: number): Budget | undefined {
    return budgetOf(this.#book, this.#uncertainty, name, row);
  }

  /** What a sampled run of some cells or fields of records needs; undefined for a name that has no value. */
  drawable(names: readonly string[]): Drawable | undefined {
    const targets = names.map((name) => {
      const [first = '', field] = name.split('.');
      const node = this.#book.byKey.get(first);
      const fields = node?.type?.kind === 'record' ? [...node.type.fields.keys()] : [''];
      const offset = fields.indexOf(field ?? '');
      return node && node.slot >= 0 && offset >= 0 ? { name, node, offset } : undefined;
    });
    const found = targets.filter((t) => t !== undefined);
    if (found.length < names.length) return undefined;
    return { book: this.#book, sites: this.#sites, sweep: this.#sweep, targets: found };
  }

  /** Names that a cell or `table.column` reads, shared aggregates seen through. */
  precedents(name: string): string[] {
    const found = new Set<string>();
    const add = (node: GraphNode | undefined): void => {
      for (const id of node?.references ?? []) {
        const from = this.#book.nodes[id];
        if (!from) continue;
        if (from.hidden) add(from);
        else found.add(from.key);
      }
    };
    add(this.#book.byKey.get(name));
    return [...found];
  }

  dependents(name: string): string[] {
    const found = new Set<string>();
    const add = (id: number): void => {
      for (const node of this.#book.nodes) {
        if (!node?.references.includes(id)) continue;
        if (node.hidden) add(node.id);
        else found.add(node.key);
      }
    };
    const node = this.#book.byKey.get(name);
    if (node) add(node.id);
    return [...found];
  }
}

function put(book: Book, slot: number, entered: Entered): void {
  const { values, states, causes } = book.storage;
  values[slot] = entered.state === VALUE ? entered.value : NaN;
  states[slot] = entered.state;
  if (entered.cause) causes.set(slot, entered.cause);
  else causes.delete(slot);
}

function unitDiagnostic(text: string, unit: UnitProblem): Diagnostic {
  return {
    code: 'unit',
    message: unit.problem,
    span: { start: 0, end: text.length },
    ...(unit.suggestion === undefined ? {} : { suggestion: unit.suggestion }),
  };
}
