/** Tables going in: columns are made, kept or dropped; rows are typed. */
import { parseUnit, readEntry, type Unit } from '../quantity/index.ts';
import { NUMBER, quantityType, READING, TEXT, type Type } from '../formula/type.ts';
import type { Book, TableData } from './book.ts';
import { enter } from './entry.ts';
import {
  newField,
  type ColumnDefinition,
  type GraphNode,
  type TableDefinition,
  type InstrumentSpread,
  type PlusMinusMeaning,
} from './node.ts';
import { DIVISOR } from './read.ts';
import { enterOverride } from './override.ts';
import type { Sites } from './sites.ts';
import { VALUE } from './storage.ts';

export class Tables {
  readonly #book: Book;
  readonly #sites: Sites;

  constructor(book: Book, sites: Sites) {
    this.#book = book;
    this.#sites = sites;
  }

  /** Adds or replaces a table with all its columns; columns that stay as they are keep their code. */
  define(definition: TableDefinition): void {
    const book = this.#book;
    let table = book.tables.get(definition.name);
    if (!table) {
      table = { name: definition.name, rows: 0, columns: new Map() };
      book.tables.set(definition.name, table);
      this.#rereadMentions(definition.name);
      book.rereadMessages();
    }
    const resized = table.rows !== definition.rows;
    table.rows = definition.rows;
    const wanted = new Set(definition.columns.map((c) => c.name));
    /** Names of columns that came or went. */
    const others = new Set<string>();
    for (const [name, node] of table.columns)
      if (!wanted.has(name)) {
        table.columns.delete(name);
        book.forget(node);
        others.add(name);
      }
    const order = [...table.columns.keys()].join();
    for (const column of definition.columns) {
      if (this.#defineColumn(table, column)) others.add(column.name);
      // Messages list the columns as they stand in the table.
      const node = table.columns.get(column.name)!;
      table.columns.delete(column.name);
      table.columns.set(column.name, node);
    }
    if (others.size > 0 || order !== [...table.columns.keys()].join()) book.rereadMessages();
    for (const node of book.nodes) {
      if (node?.table !== table.name || node.kind !== 'column') continue;
      if (node.hidden) this.#resize(node, table.rows);
      // A new column may carry a name that a row formula took from elsewhere until now.
      if (node.formula && !node.hidden && mayName(node.text, others)) book.stale.add(node.id);
      if (resized && node.formula) book.mustRun.add(node.id);
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
    const meaning = definition.plusMinus ?? 'standard';
    const each = instrumentSpread(definition.each, unit, meaning);
    const shared = instrumentSpread(definition.shared, unit, meaning);
    const sameSpread =
      node.meaning === meaning && sameInstrument(node.each, each) && sameInstrument(node.shared, shared);
    node.meaning = meaning;
    node.each = each;
    node.shared = shared;
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
        overrides: new Set(),
      };
      table.columns.set(definition.name, node);
      book.stale.add(node.id);
      if (!formula) this.#typeColumn(node);
    }
    const data = node.data!;
    if (same && sameSpread && data.rows === table.rows && sameList(data.entries, definition.entries))
      return false;
    this.#resize(node, table.rows);
    const typedOver = data.overrides.size > 0;
    data.entries = definition.entries.slice();
    data.overrides.clear();
    data.plusMinus.clear();
    if (!formula) data.causes.clear();
    for (let row = 0; row < table.rows; row++) this.#enterRow(node, row, definition.entries[row]);
    if (!same || !formula || typedOver || data.overrides.size > 0)
      book.changedRows.set(node.id, [0, table.rows]);
    if (formula) book.mustRun.add(node.id);
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
    this.#book.changedRows.set(node.id, [0, rows]);
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
    if (node.formula) {
      if (text === undefined || text === '') return;
      data.overrides.add(row);
      enterOverride(this.#book, node, row, text);
      return;
    }
    const unit = parseUnit(node.unit);
    const entered = enter(
      this.#book.storage,
      node.entryType,
      text,
      'problem' in unit ? undefined : unit,
      node.choices,
    );
    const field = data.fields[0]!;
    field.values[row] = entered.state === VALUE ? entered.value : NaN;
    field.states[row] = entered.state;
    if (entered.cause) data.causes.set(row, entered.cause);
    else data.causes.delete(row);
    if (entered.plusMinus !== undefined) data.plusMinus.set(row, entered.plusMinus);
    else data.plusMinus.delete(row);
  }

  /** Replaces the typed text of one row. */
  setEntry(table: string, column: string, row: number, text: string | undefined): void {
    const node = this.#book.tables.get(table)?.columns.get(column);
    const data = node?.data;
    if (!node || !data || row < 0 || row >= data.rows)
      throw new Error(`there is no row ${row + 1} in ${table}.${column}`);
    data.entries[row] = text;
    if (node.formula) {
      data.overrides.delete(row);
      data.plusMinus.delete(row);
      this.#book.mustRun.add(node.id);
    }
    this.#enterRow(node, row, text);
    const known = this.#book.changedRows.get(node.id);
    this.#book.changedRows.set(
      node.id,
      known ? [Math.min(known[0], row), Math.max(known[1], row + 1)] : [row, row + 1],
    );
  }

  remove(name: string): void {
    const table = this.#book.tables.get(name);
    if (!table) return;
    this.#book.tables.delete(name);
    for (const node of this.#book.nodes)
      if (node?.table === name && node.kind === 'column') this.#book.forget(node);
    this.#rereadMentions(name);
    // One without columns leaves nothing else to settle, and may have been suggested somewhere.
    this.#book.rereadMessages();
  }

  /** A name became a table, or stopped being one: whoever reads it, or its columns, resolves afresh. */
  #rereadMentions(name: string): void {
    const book = this.#book;
    const found = new Set<number>();
    for (const node of book.nodes) {
      if (!node) continue;
      const { id, key, hidden } = node;
      if (key === name || key.includes(`${name}.`) || (hidden && key.startsWith(`${name}: `))) found.add(id);
    }
    if (found.size === 0) return;
    // A shared aggregate stands for what its formula reads, and walks the table that it found first.
    const mentions = (id: number): boolean =>
      found.has(id) || (book.nodes[id]?.hidden === true && book.nodes[id].references.some(mentions));
    for (const node of book.nodes)
      if (node && node.kind !== 'unknown' && node.references.some(mentions)) book.stale.add(node.id);
  }
}

export function typeOfUnit(unit: Unit | undefined): Type {
  return unit === undefined ? NUMBER : unit.reading ? READING : quantityType(unit.dimension);
}

/** Whether a formula may hold one of these names, which other signs may spell too. */
function mayName(formula: string, names: ReadonlySet<string>): boolean {
  if (names.size > 0 && /[^ -~\s]/u.test(formula)) return true;
  for (const name of names) if (formula.includes(name)) return true;
  return false;
}

function sameInstrument(a: InstrumentSpread | undefined, b: InstrumentSpread | undefined): boolean {
  return a?.size === b?.size && a?.relative === b?.relative;
}

type Texts = readonly (string | undefined)[];

export function sameList(a: Texts | undefined, b: Texts | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  return a.length === b.length && a.every((x, i) => x === b[i]);
}

/** `0.3 Pa` or `2 %`, as a standard uncertainty. */
function instrumentSpread(
  text: string | undefined,
  unitText: string,
  meaning: PlusMinusMeaning,
): InstrumentSpread | undefined {
  if (text === undefined || text.trim() === '') return undefined;
  const percent = /^\s*([\d.]+)\s*%\s*$/.exec(text);
  if (percent && unitText !== '%')
    return { size: Number(percent[1]) / 100 / DIVISOR[meaning], relative: true };
  const unit = parseUnit(unitText);
  const entry = readEntry(`0 ± ${text}`, 'problem' in unit || unitText === '' ? undefined : unit);
  const half = 'literal' in entry ? entry.literal.plusMinus : undefined;
  return half === undefined ? undefined : { size: half / DIVISOR[meaning], relative: false };
}
