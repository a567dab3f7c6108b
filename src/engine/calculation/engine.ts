/**
 * The engine: named cells and tables go in, states come out. Definitions are gathered until `recalculate`, which
 * settles what is new, works out what is affected, and says what changed.
 */
import { parseUnit, type Unit } from '../quantity/index.ts';
import { isDiagnostic, type Diagnostic } from '../formula/diagnostic.ts';
import { infer } from '../formula/infer.ts';
import type { FunctionLibrary } from '../formula/library.ts';
import { parse } from '../formula/parse.ts';
import { NUMBER, quantityType, READING, TEXT, type Type } from '../formula/type.ts';
import { unitMismatch } from '../formula/mismatch.ts';
import { Book, type TableData } from './book.ts';
import { enter, isTyped, type Entered } from './entry.ts';
import {
  newField,
  type CellDefinition,
  type ColumnDefinition,
  type GraphNode,
  type PlusMinusMeaning,
  type TableDefinition,
} from './node.ts';
import { readCell, readRow, type FieldName } from './read.ts';
import { settle } from './settle.ts';
import { Sites } from './sites.ts';
import type { CellState, Changes } from './state.ts';
import { FAULT, VALUE } from './storage.ts';
import { Sweep } from './sweep.ts';

export class Engine {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sweep: Sweep;

  constructor(library: FunctionLibrary) {
    this.#book = new Book(library);
    this.#sites = new Sites(this.#book);
    this.#sweep = new Sweep(this.#book, this.#sites);
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
    node.meaning = definition.plusMinus ?? 'standard';
    if (
      sameKind &&
      formula === node.formula &&
      text === node.text &&
      sameList(node.choices, definition.choices)
    )
      return;
    const wasTyped = sameKind && !node.formula && node.status === undefined && node.type !== undefined;
    node.kind = 'cell';
    node.entryType = definition.type;
    node.unit = unit;
    node.choices = definition.choices;
    node.formula = formula;
    node.text = text;
    node.plusMinus = undefined;
    if (formula) {
      book.stale.add(node.id);
      return;
    }
    const type = node.type;
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
      node.status = {
        invalid: {
          code: 'unit',
          message: unit.problem,
          span: { start: 0, end: node.text.length },
          ...(unit.suggestion === undefined ? {} : { suggestion: unit.suggestion }),
        },
      };
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
    const book = this.#book;
    let table = book.tables.get(definition.name);
    if (!table) {
      table = { name: definition.name, rows: 0, columns: new Map() };
      book.tables.set(definition.name, table);
      this.#rereadMentions(definition.name);
    }
    table.rows = definition.rows;
    const wanted = new Set(definition.columns.map((c) => c.name));
    let shape = false;
    for (const [name, node] of table.columns)
      if (!wanted.has(name)) {
        table.columns.delete(name);
        book.forget(node);
        shape = true;
      }
    for (const column of definition.columns) shape = this.#defineColumn(table, column) || shape;
    for (const node of book.nodes) {
      if (node?.table !== table.name || node.kind !== 'column') continue;
      if (node.hidden) this.#resize(node, table.rows);
      // A new column may carry a name that a row formula took from elsewhere until now.
      if (shape && node.formula && !node.hidden) book.stale.add(node.id);
      if (node.formula) book.mustRun.add(node.id);
    }
  }

  #defineColumn(table: TableData, definition: ColumnDefinition): boolean {
    const book = this.#book;
    const key = `${table.name}.${definition.name}`;
    const node = book.intern(key);
    const isNew = node.kind !== 'column' || !table.columns.has(definition.name);
    const unit = definition.unit ?? '';
    const formula = definition.formula !== undefined;
    const same =
      !isNew &&
      node.entryType === definition.type &&
      node.unit === unit &&
      node.formula === formula &&
      (!formula || node.text === definition.formula) &&
      sameList(node.choices, definition.choices);
    node.meaning = definition.plusMinus ?? 'standard';
    if (!same) {
      node.kind = 'column';
      node.table = table.name;
      node.entryType = definition.type;
      node.unit = unit;
      node.choices = definition.choices;
      node.formula = formula;
      node.text = definition.formula ?? '';
      node.data ??= {
        rows: 0,
        fields: [newField(0)],
        causes: new Map(),
        plusMinus: new Map(),
        entries: [],
        overrides: [],
      };
      table.columns.set(definition.name, node);
      book.stale.add(node.id);
      if (!formula) this.#typeColumn(node);
    }
    this.#resize(node, table.rows);
    const data = node.data!;
    data.entries = definition.entries.slice();
    data.overrides = [];
    data.plusMinus.clear();
    if (!formula) data.causes.clear();
    for (let row = 0; row < table.rows; row++) this.#enterRow(node, row, definition.entries[row]);
    if (!formula) book.changedRows.set(node.id, [0, table.rows]);
    return isNew;
  }

  #typeColumn(node: GraphNode): void {
    const unit = parseUnit(node.unit);
    node.status = undefined;
    if (node.entryType !== 'number') node.type = TEXT;
    else if ('problem' in unit) {
      node.type = undefined;
      node.status = { invalid: { code: 'unit', message: unit.problem, span: { start: 0, end: 0 } } };
    } else node.type = typeOfUnit(unit);
    node.data!.fields.length = 1;
    node.width = 1;
  }

  #resize(node: GraphNode, rows: number): void {
    const data = node.data!;
    if (data.rows === rows) return;
    data.rows = rows;
    data.fields = data.fields.map((field) => {
      const next = newField(rows);
      next.values.set(field.values.subarray(0, rows));
      next.states.set(field.states.subarray(0, rows));
      return next;
    });
    for (const row of [...data.causes.keys()]) if (row >= rows) data.causes.delete(row);
    this.#sites.columnChanged(data);
  }

  /** Reads the typed text of one row; in a computed column it overrides the formula. */
  #enterRow(node: GraphNode, row: number, text: string | undefined): void {
    const data = node.data!;
    if (node.formula && (text === undefined || text === '')) return;
    const unit = parseUnit(node.unit);
    const entered = enter(
      this.#book.storage,
      node.entryType,
      text,
      'problem' in unit || node.unit === '' ? undefined : unit,
      node.choices,
    );
    const field = data.fields[0]!;
    field.values[row] = entered.state === VALUE ? entered.value : NaN;
    field.states[row] = entered.state;
    if (entered.cause) data.causes.set(row, entered.cause);
    else data.causes.delete(row);
    if (entered.plusMinus !== undefined) data.plusMinus.set(row, entered.plusMinus);
    else data.plusMinus.delete(row);
    if (node.formula) data.overrides.push(row);
  }

  /** Replaces the typed text of one row. */
  setEntry(table: string, column: string, row: number, text: string | undefined): void {
    const node = this.#book.tables.get(table)?.columns.get(column);
    const data = node?.data;
    if (!node || !data || row < 0 || row >= data.rows)
      throw new Error(`there is no row ${row + 1} in ${table}.${column}`);
    data.entries[row] = text;
    if (node.formula) {
      data.overrides = data.overrides.filter((r) => r !== row);
      this.#enterRow(node, row, text);
      this.#book.mustRun.add(node.id);
      return;
    }
    this.#enterRow(node, row, text);
    const known = this.#book.changedRows.get(node.id);
    this.#book.changedRows.set(
      node.id,
      known ? [Math.min(known[0], row), Math.max(known[1], row + 1)] : [row, row + 1],
    );
  }

  removeTable(name: string): void {
    const table = this.#book.tables.get(name);
    if (!table) return;
    this.#book.tables.delete(name);
    for (const node of this.#book.nodes)
      if (node?.table === name && node.kind === 'column') this.#book.forget(node);
    this.#rereadMentions(name);
  }

  /** A name became a table, or stopped being one: whoever reads it, or its columns, resolves afresh. */
  #rereadMentions(name: string): void {
    const book = this.#book;
    for (const node of book.nodes) {
      if (!node || node.kind === 'unknown') continue;
      const reads = node.references.some((id) => {
        const key = book.nodes[id]?.key ?? '';
        return key === name || key.startsWith(`${name}.`) || key.includes(`${name}.`);
      });
      if (reads) book.stale.add(node.id);
    }
  }

  recalculate(): Changes {
    const book = this.#book;
    if (book.stale.size) settle(book);
    const ids = this.#sweep.run();
    const names = new LazyNames(book, ids.slice());
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

  /** The state of a cell, or of a field of the record it holds: `q50`, `fit.exponent`. */
  read(name: string): CellState {
    const node = this.#book.byKey.get(name);
    if (node) return readCell(this.#book, node, undefined);
    const dot = name.indexOf('.');
    const record = dot > 0 ? this.#book.byKey.get(name.slice(0, dot)) : undefined;
    if (record) return readCell(this.#book, record, name.slice(dot + 1));
    return {
      state: 'invalid',
      diagnostic: { code: 'unknown-name', message: `nothing is named ${name}`, span: { start: 0, end: 0 } },
    };
  }

  readRow(table: string, column: string, row: number, field?: FieldName): CellState {
    const node = this.#book.tables.get(table)?.columns.get(column);
    if (!node) return this.read(`${table}.${column}`);
    return readRow(this.#book, node, row, field);
  }

  /** Whether some row of a column is faulty or waits, so that reading each is worth while. */
  hasFaults(table: string, column: string): boolean {
    return (this.#book.tables.get(table)?.columns.get(column)?.data?.causes.size ?? 0) > 0;
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
    const expression = parse(text);
    if (isDiagnostic(expression)) return expression;
    const row = place.table === undefined ? undefined : this.#book.tables.get(place.table);
    const typed = infer(expression, text, this.#book.scope(row));
    if (isDiagnostic(typed)) return typed;
    if ('waitingFor' in typed || place.unit === undefined || place.unit === '') return undefined;
    const unit = parseUnit(place.unit);
    if ('problem' in unit) return undefined;
    const wanted = unit.reading ? READING : quantityType(unit.dimension);
    return typed.type === wanted ? undefined : unitMismatch(text, typed.type, wanted, place.unit);
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

/** Names are worked out when somebody asks: a wide edit changes thousands, of which a screen shows a few. */
class LazyNames {
  readonly #book: Book;
  readonly #ids: Int32Array;
  #names: Set<string> | undefined;

  constructor(book: Book, ids: Int32Array) {
    this.#book = book;
    this.#ids = ids;
  }

  set(): ReadonlySet<string> {
    if (!this.#names) {
      this.#names = new Set();
      for (const id of this.#ids) {
        const node = this.#book.nodes[id];
        if (node && !node.hidden) this.#names.add(node.key);
      }
    }
    return this.#names;
  }
}

function put(book: Book, slot: number, entered: Entered): void {
  const { values, states, causes } = book.storage;
  values[slot] = entered.state === VALUE ? entered.value : NaN;
  states[slot] = entered.state;
  if (entered.cause) causes.set(slot, entered.cause);
  else causes.delete(slot);
}

function typeOfUnit(unit: Unit | undefined): Type {
  return unit === undefined ? NUMBER : unit.reading ? READING : quantityType(unit.dimension);
}

function sameList(a: readonly string[] | undefined, b: readonly string[] | undefined): boolean {
  return (
    a === b || (a !== undefined && b !== undefined && a.length === b.length && a.every((x, i) => x === b[i]))
  );
}

export type { PlusMinusMeaning };
