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
    table.rows = definition.rows;
    const wanted = new Set(definition.columns.map((c) => c.name));
    let shape = false;
    for (const [name, node] of table.columns)
      if (!wanted.has(name)) {
        table.columns.delete(name);
        book.forget(node);
        shape = true;
      }
    const order = [...table.columns.keys()].join();
    for (const column of definition.columns) {
      shape = this.#defineColumn(table, column) || shape;
      // Messages list the columns as they stand in the table.
      const node = table.columns.get(column.name)!;
      table.columns.delete(column.name);
      table.columns.set(column.name, node);
    }
    if (shape || order !== [...table.columns.keys()].join()) book.rereadMessages();
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
    node.each = instrumentSpread(definition.each, unit, node.meaning);
    node.shared = instrumentSpread(definition.shared, unit, node.meaning);
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
    this.#resize(node, table.rows);
    const data = node.data!;
    const typedOver = data.overrides.size > 0;
    data.entries = definition.entries.slice();
    data.overrides.clear();
    data.plusMinus.clear();
    if (!formula) data.causes.clear();
    for (let row = 0; row < table.rows; row++) this.#enterRow(node, row, definition.entries[row]);
    if (!same || !formula || typedOver || data.overrides.size > 0)
      book.changedRows.set(node.id, [0, table.rows]);
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
    const mentions = (id: number): boolean => {
      const from = book.nodes[id];
      if (!from) return false;
      const { key } = from;
      if (key === name || key.startsWith(`${name}.`) || key.includes(`${name}.`)) return true;
      // A shared aggregate stands for what its formula reads, and walks the table that it found first.
      return from.hidden && (key.startsWith(`${name}: `) || from.references.some(mentions));
    };
    for (const node of book.nodes)
      if (node && node.kind !== 'unknown' && node.references.some(mentions)) book.stale.add(node.id);
  }
}

export function typeOfUnit(unit: Unit | undefined): Type {
  return unit === undefined ? NUMBER : unit.reading ? READING : quantityType(unit.dimension);
}

export function sameList(a: readonly string[] | undefined, b: readonly string[] | undefined): boolean {
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
