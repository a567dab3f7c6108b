/**
 * What is worked out first when a workbook is opened: what the first worksheet and the title block show, and all that
 * this reads, column by column. The rest follows, worksheet by worksheet; in the end the engine holds what it would
 * hold had everything been there from the start.
 */
import type { Changes, Engine } from '../engine/index.ts';
import type { Cell, Item, Sheet, Table, WorkbookDocument } from './document.ts';
import { feed, underColumn, type ListOf } from './feed.ts';
import { holdsFormula, pathsIn } from './formula-names.ts';
import { liveTextsOn, textParts } from './live-text.ts';
import { namesOf } from './locate.ts';

/** Small worksheets go together: every stage orders the whole graph anew. */
const SHARE = 100;

export class Opening {
  readonly #engine: Engine;
  readonly #listOf: ListOf;
  readonly #recalculate: () => Changes;
  /** Names that were worked out after the first worksheet. */
  readonly added = new Set<string>();
  #document: WorkbookDocument;
  #named: ReadonlyMap<string, Cell | Table>;
  /** How many worksheets there are so far. */
  #sheets = 0;
  readonly #cells = new Set<string>();
  /** Names of the columns that are there, by their table's. */
  readonly #columns = new Map<string, Set<string>>();
  /** Cells and columns of the stage that is being made. */
  #size = 0;
  readonly #newCells = new Set<string>();
  readonly #newTables = new Set<string>();
  /** Formulas and choices of which the names are still to be looked for, each with the table whose row it reads. */
  #unread: { readonly text: string; readonly own?: Table }[] = [];

  constructor(engine: Engine, document: WorkbookDocument, listOf: ListOf, recalculate: () => Changes) {
    this.#engine = engine;
    this.#listOf = listOf;
    this.#recalculate = recalculate;
    this.#document = document;
    this.#named = namesOf(document);
    const { says, ...roles } = document.titleBlock ?? {};
    for (const name of Object.values(roles)) this.#include(name);
    if (says !== undefined) this.#includeText(says);
    this.#stage();
  }

  /** Whether all worksheets are there. */
  get isOver(): boolean {
    return this.#sheets >= this.#document.sheets.length;
  }

  /** Whether a cell (`q50`, `fit.exponent`), a column (`readings.flow`) or what stands under one is there. */
  has(path: string): boolean {
    const [first = '', column] = (underColumn(path) ?? path).split('.');
    const item = this.#named.get(first);
    // What does not exist is not waited for.
    if (item === undefined) return true;
    if (item.kind === 'cell') return this.#cells.has(first);
    const there = this.#columns.get(first);
    return (
      there !== undefined && (column === undefined ? there.size === item.columns.length : there.has(column))
    );
  }

  /** After an edit of what is typed in rows: what is not there yet is given as it stands now. */
  follow(document: WorkbookDocument): void {
    this.#document = document;
    this.#named = namesOf(document);
  }

  /** Goes on until a cell or a column is there. */
  reach(path: string): void {
    while (!this.isOver && !this.has(path)) this.proceed();
  }

  finish(): void {
    while (!this.isOver) this.proceed();
  }

  /** Works out what the next worksheets show. */
  proceed(): void {
    if (this.isOver) return;
    for (const name of this.#stage().names) this.added.add(name);
  }

  #stage(): Changes {
    for (this.#size = 0; this.#size < SHARE && !this.isOver; this.#sheets++) {
      const sheet = this.#document.sheets[this.#sheets];
      if (sheet) this.#includeSheet(sheet);
      while (this.#unread.length > 0) this.#read();
    }
    for (const table of this.#newTables) this.#feed(table);
    for (const cell of this.#newCells) this.#feed(cell);
    this.#newTables.clear();
    this.#newCells.clear();
    return this.#recalculate();
  }

  #feed(name: string): void {
    const item = this.#named.get(name);
    if (item?.kind === 'cell') feed(this.#engine, item, this.#listOf);
    else if (item) feed(this.#engine, this.#known(item), this.#listOf);
  }

  #known(table: Table): Table {
    const there = this.#columns.get(table.name);
    return { ...table, columns: table.columns.filter(({ name }) => there?.has(name)) };
  }

  #includeSheet(sheet: Sheet): void {
    for (const { text } of liveTextsOn(sheet)) this.#includeText(text);
    for (const { items } of sheet.sections) for (const item of items) this.#includeItem(item);
  }

  #includeItem(item: Item): void {
    if (item.kind === 'figure') for (const path of Object.values(item.bindings)) this.#include(path);
    if (item.kind === 'table' && item.shownBy) this.#include(item.shownBy.cell);
    if ('name' in item) this.#include(item.name);
  }

  #includeText(text: string): void {
    for (const part of textParts(text)) if (part.kind === 'name') this.#include(part.name);
  }

  #include(path: string): void {
    const [first = '', column] = path.split('.');
    const item = this.#named.get(first);
    if (item?.kind === 'cell') this.#includeCell(item);
    else if (item) this.#includeColumns(item, column);
  }

  #includeCell(cell: Cell): void {
    if (this.#cells.has(cell.name)) return;
    this.#cells.add(cell.name);
    this.#size++;
    this.#newCells.add(cell.name);
    if (holdsFormula(cell)) this.#unread.push({ text: cell.text });
    if (typeof cell.choices === 'string') this.#unread.push({ text: cell.choices });
  }

  /** All of them where none is named, or one that does not exist: then at least the table does. */
  #includeColumns(table: Table, wanted?: string): void {
    let there = this.#columns.get(table.name);
    if (!there) {
      this.#columns.set(table.name, (there = new Set()));
      this.#newTables.add(table.name);
    }
    for (const column of table.columns) {
      if ((wanted !== undefined && column.name !== wanted) || there.has(column.name)) continue;
      there.add(column.name);
      this.#size++;
      this.#newTables.add(table.name);
      if (column.formula !== undefined) this.#unread.push({ text: column.formula, own: table });
      if (typeof column.choices === 'string') this.#unread.push({ text: column.choices });
    }
  }

  #read(): void {
    const [next] = this.#unread.splice(-1);
    if (!next) return;
    const { text, own } = next;
    for (const { parts } of pathsIn(text)) {
      const [first, second] = parts;
      if (first === undefined) continue;
      const isOwn = own?.columns.some(({ name }) => name === first.text);
      if (own && isOwn) this.#includeColumns(own, first.text);
      else this.#include(second === undefined ? first.text : `${first.text}.${second.text}`);
    }
  }
}
