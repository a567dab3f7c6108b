/** One table on the screen: which cell is active, what is selected, and what the keys do. */
import { tick } from 'svelte';
import type { Unit } from '../../engine/index.ts';
import {
  pasteInto,
  readPaste,
  type Column,
  type EntryChange,
  type Pasted,
  type Row,
  type Table,
} from '../../workbook/index.ts';
import { plainText, shownUnit } from '../display.ts';
import { insertRows, newRow, removeRows, setEntries, together } from '../edits.ts';
import { inShownUnit, textToEdit, textToStore } from '../entry.ts';
import type { Revealing, Session } from '../session.svelte.ts';
import { shownColumns, shownRows, shownValue } from '../shown-rows.ts';
import { gridCommand, type GridCommand, type Key } from './grid-keys.ts';
import { writeBlock } from './block.ts';
import { ALL_ROWS, ROW_HEIGHT } from './window.ts';

/** A pasted block, placed but not applied yet. */
export type PastePlan = Pasted;

export interface Position {
  /** Among the rows shown; the one after the last adds a row. */
  readonly row: number;
  readonly column: number;
}

export class Grid implements Revealing {
  readonly session: Session;
  readonly #table: () => Table;
  /** The element that scrolls when the table is long. */
  box: HTMLElement | undefined;

  active = $state.raw<Position>({ row: 0, column: 0 });
  anchor = $state.raw<Position>();
  /** Name of a column that was asked for and has no place in the grid. */
  #asked = $state<string>();
  /** On a phone: position of the row that lies open as a card. */
  opened = $state<number>();
  /** The text being typed into the active cell, if any. */
  editing = $state.raw<{ readonly seed?: string }>();
  /** The person began to type over a calculated cell and is asked first. */
  asking = $state.raw<{ readonly seed?: string }>();
  pasting = $state.raw<PastePlan>();

  readonly table: Table = $derived.by(() => this.#table());
  readonly columns: Column[] = $derived.by(() => shownColumns(this.session, this.table));
  /** Indices into the table's rows. */
  readonly rows: number[] = $derived.by(() => shownRows(this.session, this.table));
  readonly units: (Unit | undefined)[] = $derived(this.columns.map((column) => this.#unitOf(column)));
  /** The column whose formula is shown under the grid. */
  readonly looked: Column | undefined = $derived.by(
    () => this.table.columns.find(({ name }) => name === this.#asked) ?? this.columns[this.active.column],
  );
  readonly range = $derived.by(() => {
    const from = this.anchor ?? this.active;
    const to = this.active;
    return {
      top: Math.min(from.row, to.row),
      bottom: Math.max(from.row, to.row),
      left: Math.min(from.column, to.column),
      right: Math.max(from.column, to.column),
    };
  });

  constructor(session: Session, table: () => Table) {
    this.session = session;
    this.#table = table;
  }

  column(position: Position): Column | undefined {
    return this.columns[position.column];
  }

  row(position: Position): Row | undefined {
    const index = this.rows[position.row];
    return index === undefined ? undefined : this.table.rows[index];
  }

  isCalculated(position: Position): boolean {
    const column = this.column(position);
    return column?.formula !== undefined && this.row(position)?.entries[column.id] === undefined;
  }

  isSelected(row: number, column: number): boolean {
    const { top, bottom, left, right } = this.range;
    return this.anchor !== undefined && row >= top && row <= bottom && column >= left && column <= right;
  }

  /** The text the editor of a cell begins with. */
  textOf(position: Position): string {
    const column = this.column(position);
    const stored = column && this.row(position)?.entries[column.id];
    return stored === undefined ? '' : textToEdit(stored, this.#unitsOf(position));
  }

  reveal(column: string | undefined, row: number | undefined): void {
    const at = Math.max(
      0,
      this.columns.findIndex((each) => each.name === column),
    );
    const position = row === undefined ? this.#firstFault(column) : this.rows.indexOf(row);
    this.opened = Math.max(0, position);
    void this.moveTo({ row: Math.max(0, position), column: at });
    this.#asked = this.columns.some(({ name }) => name === column) ? undefined : column;
  }

  key(event: Key): boolean {
    const command = gridCommand(event);
    if (!command) return false;
    this.#do(command);
    return true;
  }

  async moveTo(to: Position, extend = false): Promise<void> {
    this.#asked = undefined;
    this.anchor = extend ? (this.anchor ?? this.active) : undefined;
    this.active = {
      row: Math.max(0, Math.min(this.rows.length, to.row)),
      column: Math.max(0, Math.min(this.columns.length - 1, to.column)),
    };
    this.editing = undefined;
    this.asking = undefined;
    await this.focus();
  }

  async focus(): Promise<void> {
    await tick();
    this.#scrollTo(this.active.row);
    const { row, column } = this.active;
    const cell = this.box?.querySelector<HTMLElement>(`[data-at="${row}:${column}"]`);
    cell?.focus({ preventScroll: true });
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  edit(seed?: string): void {
    const column = this.column(this.active);
    if (!column) return;
    const editing = seed === undefined ? {} : { seed };
    if (!this.isCalculated(this.active)) this.editing = editing;
    else if (this.row(this.active)) this.asking = editing;
  }

  /** The person agreed to type over the calculated cell in this row. */
  override(): void {
    this.editing = this.asking ?? {};
    this.asking = undefined;
  }

  /** Stores what was typed and moves on; Tab at the end of a row goes on to the next row. */
  async commit(text: string, move: { rows: number; columns: number }): Promise<void> {
    const at = this.active;
    this.store(text, at);
    let row = at.row + move.rows;
    let column = at.column + move.columns;
    if (column >= this.columns.length) [row, column] = [row + 1, 0];
    if (column < 0) [row, column] = [row - 1, this.columns.length - 1];
    await this.moveTo({ row, column });
  }

  async cancel(): Promise<void> {
    this.editing = undefined;
    this.asking = undefined;
    await this.focus();
  }

  /** Puts a typed text into a cell; into the last, empty line as a new row. */
  store(text: string, at: Position): void {
    const column = this.column(at);
    if (!column) return;
    const row = this.row(at);
    const stored = textToStore(text, this.textOf(at), this.#unitsOf(at));
    if (stored === undefined) return;
    if (row) this.session.apply(setEntries(this.table, [{ row: row.id, column: column.id, text: stored }]));
    else if (stored !== '') this.#append({ [column.id]: stored });
  }

  clear(): void {
    const entries: EntryChange[] = this.#each((row, column) =>
      row.entries[column.id] === undefined ? [] : [{ row: row.id, column: column.id }],
    );
    if (entries.length > 0) this.session.apply(setEntries(this.table, entries));
  }

  async insertRow(): Promise<void> {
    const index = this.rows[this.active.row];
    const at = index === undefined ? this.table.rows.length : index + 1;
    this.session.apply(insertRows(this.table, at, [newRow(this.table, this.#belonging())]));
    await this.moveTo({ row: this.active.row + (index === undefined ? 0 : 1), column: this.active.column });
  }

  async removeSelected(): Promise<void> {
    const { top, bottom } = this.range;
    const rows = this.rows.slice(top, bottom + 1);
    if (rows.length === 0) return;
    this.session.apply(removeRows(this.table, rows));
    this.session.announcement = rows.length === 1 ? 'Row removed' : `${rows.length} rows removed`;
    await this.moveTo({ row: top, column: this.active.column });
  }

  /** Typed cells as they were typed, calculated ones as numbers a spreadsheet can read. */
  copy(): string {
    const { top, bottom, left, right } = this.range;
    const rows = this.rows.slice(top, bottom + 1);
    return writeBlock(
      rows.map((row) => this.columns.slice(left, right + 1).map((column) => this.#plain(row, column))),
    );
  }

  /** One cell goes in at once; a block is shown first. */
  paste(text: string): void {
    const block = readPaste(text);
    const [first = []] = block;
    if (block.length === 1 && first.length === 1) {
      const only = (first[0] ?? '').trim();
      if (this.isCalculated(this.active)) this.edit(only);
      else this.store(only, this.active);
      return;
    }
    const placed = pasteInto(
      {
        table: this.table,
        rows: this.rows.flatMap((index) => this.table.rows[index] ?? []),
        columns: this.columns,
        row: this.active.row,
        column: this.active.column,
        preset: this.#belonging(),
      },
      block,
    );
    this.pasting = placed.headings ? placed : this.#asShown(placed);
  }

  /** Without headings a bare number means the unit that stands above its column on the screen. */
  #asShown(placed: Pasted): Pasted {
    const units = new Map(
      this.columns.flatMap(({ id, type }, column) =>
        type === 'number' ? [[id, this.#unitsOf({ row: 0, column })] as const] : [],
      ),
    );
    const text = (column: string, typed: string) => {
      const both = units.get(column);
      return both ? inShownUnit(typed, both) : typed;
    };
    const entries = placed.entries.map((entry) =>
      entry.text === undefined ? entry : { ...entry, text: text(entry.column, entry.text) },
    );
    const added = placed.added.map((row) => ({
      ...row,
      entries: Object.fromEntries(
        Object.entries(row.entries).map(([column, typed]) => [column, text(column, typed)]),
      ),
    }));
    return { ...placed, entries, added };
  }

  /** Applies the block that was shown, as one step. */
  applyPaste(): void {
    const plan = this.pasting;
    this.pasting = undefined;
    if (!plan) return;
    const edits = plan.entries.length === 0 ? [] : [setEntries(this.table, plan.entries)];
    if (plan.added.length > 0) edits.push(insertRows(this.table, this.table.rows.length, plan.added));
    if (edits.length > 0) this.session.apply(together('paste', edits));
    void this.focus();
  }

  #do(command: GridCommand): void {
    const { row, column } = this.active;
    const lastRow = this.rows.length;
    const lastColumn = this.columns.length - 1;
    switch (command.kind) {
      case 'move':
        void this.moveTo({ row: row + command.rows, column: column + command.columns }, command.extend);
        return;
      case 'jump': {
        const ends = { first: 0, last: command.row === undefined ? lastColumn : lastRow };
        const toRow = command.row === undefined ? row : ends[command.row];
        const toColumn = command.column === undefined ? column : command.column === 'first' ? 0 : lastColumn;
        void this.moveTo({ row: toRow, column: toColumn }, command.extend);
        return;
      }
      case 'page':
        void this.moveTo({ row: row + command.direction * this.#page(), column }, command.extend);
        return;
      case 'edit':
        this.edit();
        return;
      case 'type':
        this.edit(command.text);
        return;
      case 'clear':
        this.clear();
        return;
      case 'insert row':
        void this.insertRow();
        return;
      case 'remove rows':
        void this.removeSelected();
        return;
      case 'select all':
        this.anchor = { row: 0, column: 0 };
        this.active = { row: Math.max(0, lastRow - 1), column: lastColumn };
        void this.focus();
    }
  }

  #page(): number {
    const height = this.box?.clientHeight ?? 300;
    return Math.max(1, Math.floor(Math.min(height, window.innerHeight) / ROW_HEIGHT) - 2);
  }

  #scrollTo(row: number): void {
    const { box } = this;
    if (!box || this.rows.length <= ALL_ROWS) return;
    const top = row * ROW_HEIGHT;
    const head = box.querySelector('thead')?.clientHeight ?? 0;
    if (top < box.scrollTop) box.scrollTop = top;
    else if (top + ROW_HEIGHT + head > box.scrollTop + box.clientHeight) {
      box.scrollTop = top + ROW_HEIGHT + head - box.clientHeight;
    }
  }

  #append(entries: Readonly<Record<string, string>>): void {
    const row = newRow(this.table, { ...this.#asLast(), ...this.#belonging(), ...entries });
    this.session.apply(insertRows(this.table, this.table.rows.length, [row]));
  }

  /** A new row belongs to what is shown now. */
  #belonging(): Record<string, string> {
    const value = shownValue(this.session, this.table);
    const chooser = this.table.columns.find((column) => column.name === this.table.shownBy?.column);
    return value === undefined || !chooser ? {} : { [chooser.id]: value };
  }

  /** Choices go on as in the row above: the next reading is usually taken with the same range. */
  #asLast(): Record<string, string> {
    const last = this.row({ row: this.rows.length - 1, column: 0 });
    const choices = this.columns.filter((column) => column.type === 'choice' && column.formula === undefined);
    return Object.fromEntries(
      choices.flatMap((column) => {
        const text = last?.entries[column.id];
        return text === undefined ? [] : [[column.id, text]];
      }),
    );
  }

  #each<T>(of: (row: Row, column: Column) => T[]): T[] {
    const { top, bottom, left, right } = this.range;
    return this.rows
      .slice(top, bottom + 1)
      .flatMap((index) => this.table.rows[index] ?? [])
      .flatMap((row) => this.columns.slice(left, right + 1).flatMap((column) => of(row, column)));
  }

  #plain(row: number, column: Column): string {
    const typed = this.table.rows[row]?.entries[column.id];
    if (typed !== undefined) {
      const at = { row: 0, column: this.columns.indexOf(column) };
      return column.type === 'number' ? textToEdit(typed, this.#unitsOf(at)) : typed;
    }
    return plainText(this.session.columnState(this.table.name, column.name, row), column);
  }

  #unitsOf(position: Position): { own: string; shown: string } {
    const own = this.column(position)?.unit ?? '';
    return { own, shown: this.units[position.column]?.text ?? own };
  }

  #unitOf(column: Column): Unit | undefined {
    const states = column.unit === '' ? this.rows.slice(0, 20) : [];
    const typed = states
      .map((row) => this.session.columnState(this.table.name, column.name, row))
      .find((state) => state.state === 'value');
    return shownUnit(column, typed?.state === 'value' ? typed.type : undefined, this.session.system);
  }

  #firstFault(column: string | undefined): number {
    if (column === undefined) return 0;
    return this.rows.findIndex((row) => {
      const { state } = this.session.columnState(this.table.name, column, row);
      return state === 'invalid' || state === 'fault';
    });
  }
}
