/** One table on the screen: which cell is active, what is selected, and what the keys do. */
import { tick } from 'svelte';
import type { Unit } from '../../engine/index.ts';
import type { Column, Row, Table } from '../../workbook/index.ts';
import { asText, show, shownUnit, type Shown } from '../display.ts';
import { insertRows, newRow } from '../edits.ts';
import { textToOpen, textToStore, type Units } from '../entry.ts';
import type { Revealing } from '../on-screen.ts';
import type { Session } from '../session.svelte.ts';
import { shownColumns, shownRows, shownValue, type TableShape } from '../shown-rows.ts';
import { kept } from '../steady.ts';
import type { GridSurface, OpenPanel, Position, Range } from './grid-surface.ts';
import { gridCommand, type GridCommand, type Key } from './grid-keys.ts';
import { Pasting } from './pasting.svelte.ts';
import { askedOf } from './asked.ts';
import { isOpen, letThrough, type Filter, type Found } from './row-filter.ts';
import { leadingChoices } from './leading-choices.ts';
import { typeEntry } from './type-entry.ts';
import { runRowCommand } from './row-commands.ts';
import { TabRun } from './tab-run.ts';
import { ALL_ROWS, ROW_HEIGHT } from './window.ts';

export class Grid implements Revealing, GridSurface {
  readonly session: Session;
  readonly #table: () => Table;
  readonly pasting: Pasting;
  readonly #run = new TabRun();
  /** The element that scrolls when the table is long. */
  box: HTMLElement | undefined;

  active = $state.raw<Position>({ row: 0, column: 0 });
  anchor = $state.raw<Position>();
  /** Name of a column that was asked for and has no place in the grid. */
  #asked = $state<string>();
  /** On a phone: position of the row that lies open as a card. */
  opened = $state<number>();
  /** Opens a row on a phone and brings it into view. */
  open: ((row: number) => void) | undefined;
  /** The text being typed into the active cell, if any. */
  editing = $state.raw<{ readonly seed?: string }>();
  /** The person began to type over a calculated cell and is asked first. */
  asking = $state.raw<{ readonly seed?: string }>();
  panel = $state<OpenPanel>();
  #filters = $state.raw<ReadonlyMap<string, Filter>>(new Map());
  /** Ids of rows that stay in sight although the filter no longer lets them through: they were just typed in. */
  #kept = $state.raw<ReadonlySet<string>>(new Set());

  readonly table: Table = $derived.by(() => this.#table());
  #lastShape: TableShape | undefined;
  /** Of the table, without its rows: what reads no more than this need not look again when an entry changes. */
  readonly shape: TableShape = $derived.by(() => {
    const { table } = this;
    const last = this.#lastShape;
    const same =
      last?.name === table.name && last.columns === table.columns && last.reasonColumn === table.reasonColumn;
    return same ? last : (this.#lastShape = table);
  });
  #lastColumns: Column[] = [];
  #lastRows: number[] = [];
  readonly columns: Column[] = $derived.by(
    () => (this.#lastColumns = kept(this.#lastColumns, shownColumns(this.session, this.table))),
  );
  /** Indices into the table's rows, before the filter. */
  readonly all: number[] = $derived.by(() => shownRows(this.session, this.table));
  readonly #found: Found = $derived.by(() => this.#filtered());
  /** Indices into the table's rows. */
  readonly rows: number[] = $derived.by(() => (this.#lastRows = kept(this.#lastRows, this.#found.rows)));
  /** Rows left out because no number stands where the filter asks for one. */
  readonly blank: number = $derived(this.#found.blank);
  readonly units: (Unit | undefined)[] = $derived(this.columns.map((column) => this.unitOf(column)));
  /** The column whose formula is shown under the grid. */
  readonly looked: Column | undefined = $derived.by(
    () => this.table.columns.find(({ name }) => name === this.#asked) ?? this.columns[this.active.column],
  );
  readonly range: Range = $derived.by(() => {
    const from = this.anchor ?? this.active;
    const to = this.active;
    return {
      top: Math.max(0, Math.min(from.row, to.row)),
      bottom: Math.max(from.row, to.row),
      left: Math.min(from.column, to.column),
      right: Math.max(from.column, to.column),
    };
  });

  constructor(session: Session, table: () => Table) {
    this.session = session;
    this.#table = table;
    this.pasting = new Pasting(this);
    this.#filters = session.filters.get(table().id) ?? this.#filters;
  }

  /** By column id. They last while the workbook is open: the table shows the same rows when it is come back to. */
  get filters(): ReadonlyMap<string, Filter> {
    return this.#filters;
  }

  set filters(filters: ReadonlyMap<string, Filter>) {
    this.#filters = filters;
    this.session.filters.set(this.table.id, filters);
  }

  column(position: Position): Column | undefined {
    return this.columns[position.column];
  }

  row(position: Position): Row | undefined {
    return this.table.rows[this.rows[position.row] ?? -1];
  }

  isCalculated(position: Position): boolean {
    const column = this.column(position);
    return column?.formula !== undefined && this.row(position)?.entries[column.id] === undefined;
  }

  isSelected(row: number, column: number): boolean {
    const { left, right } = this.range;
    return this.hasSelected(row) && column >= left && column <= right;
  }

  hasSelected(row: number): boolean {
    return this.anchor !== undefined && row >= this.range.top && row <= this.range.bottom;
  }

  /** The text the editor of a cell begins with. */
  textOf(position: Position): string {
    const column = this.column(position);
    const stored = column && this.row(position)?.entries[column.id];
    return stored === undefined ? '' : textToOpen(stored, this.#unitsTyped(position.column));
  }

  /** What a cell says: feet and inches as they were typed. */
  shown(row: number, column: Column): Shown {
    const state = this.session.columnState(this.table.name, column.name, row);
    const text = this.table.rows[row]?.entries[column.id];
    return show(state, text === undefined ? column : { ...column, text }, this.session.system);
  }

  /** The same as one line. */
  shownText(row: number, column: Column): string {
    return asText(this.shown(row, column));
  }

  reveal(column: string | undefined, row: number | undefined): void {
    if (row !== undefined && !this.rows.includes(row)) this.filters = new Map();
    const at = Math.max(
      0,
      this.columns.findIndex((each) => each.name === column),
    );
    const position = row === undefined ? this.#firstFault(column) : this.rows.indexOf(row);
    void this.moveTo({ row: Math.max(0, position), column: at });
    this.open?.(Math.max(0, position));
    this.#asked = this.columns.some(({ name }) => name === column) ? undefined : column;
  }

  key(event: Key): boolean {
    if (event.key === 'Tab' && !event.ctrlKey && !event.altKey && !event.metaKey) {
      const last = this.columns.findLastIndex(({ formula }) => formula === undefined);
      const to = this.#run.tab(this.active, event.shiftKey, last);
      if (to) void this.moveTo(to);
      return to !== undefined;
    }
    const command = gridCommand(event);
    return command !== undefined && this.#do(command);
  }

  async moveTo(to: Position, extend = false): Promise<void> {
    this.#asked = undefined;
    this.anchor = extend ? (this.anchor ?? this.active) : undefined;
    this.active = {
      row: Math.max(extend ? 0 : -1, Math.min(this.rows.length, to.row)),
      column: Math.max(0, Math.min(this.columns.length - 1, to.column)),
    };
    this.editing = undefined;
    this.asking = undefined;
    this.panel = undefined;
    await this.focus();
  }

  async focus(): Promise<void> {
    await tick();
    this.#scrollTo(this.active.row);
    const cell = this.#elementAt(this.active);
    if (cell !== document.activeElement) cell?.focus({ preventScroll: true });
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  edit(seed?: string): void {
    const column = this.column(this.active);
    if (!column) return;
    if (this.active.row < 0) {
      if (seed === undefined) this.panel = 'column';
      return;
    }
    const editing = seed === undefined ? {} : { seed };
    if (!this.isCalculated(this.active)) this.editing = editing;
    else if (this.row(this.active)) this.asking = editing;
  }

  /** The person agreed to type over the calculated cell in this row. */
  override(): void {
    this.editing = this.asking ?? {};
    this.asking = undefined;
  }

  /** Stores what was typed and moves on. */
  async commit(text: string, move: { rows: number; columns: number }): Promise<void> {
    const at = this.active;
    const to = this.#run.next(at, move, this.columns.length);
    // The focus goes first: while nothing has changed yet, the page need not be laid out for it.
    this.#elementAt(to)?.focus({ preventScroll: true });
    const begins = this.row(at) === undefined;
    this.store(text, at);
    if (begins) {
      // The empty line is further down now, and is not known before the page has seen the new row.
      this.editing = undefined;
      await tick();
    }
    await this.moveTo(to);
  }

  #elementAt({ row, column }: Position): HTMLElement | null | undefined {
    return this.box?.querySelector<HTMLElement>(`[data-at="${row}:${column}"]`);
  }

  async cancel(): Promise<void> {
    this.editing = undefined;
    this.asking = undefined;
    this.panel = undefined;
    await this.focus();
  }

  /** Puts a typed text into a cell; into the last, empty line as a new row. */
  store(text: string, at: Position): void {
    const column = this.column(at);
    if (!column || at.row < 0) return;
    const row = this.row(at);
    const stored = textToStore(text, this.textOf(at), this.#unitsTyped(at.column));
    if (stored === undefined) return;
    if (row) this.keep([row.id]);
    if (row) typeEntry(this.session, this.table, { row: row.id, column: column.id, text: stored });
    else if (stored !== '') this.append({ [column.id]: stored });
  }

  /** Sets or takes away the filter of a column. */
  filter(column: Column, filter: Filter): void {
    const filters = new Map(this.filters);
    if (isOpen(filter)) filters.delete(column.id);
    else filters.set(column.id, filter);
    this.showOnly(filters);
  }

  showOnly(filters: ReadonlyMap<string, Filter>): void {
    this.filters = filters;
    this.#kept = new Set();
    this.anchor = undefined;
    this.active = { ...this.active, row: Math.min(this.active.row, this.rows.length) };
    this.opened = undefined;
    const blank = this.blank === 0 ? '' : `, ${this.blank} without a value left out`;
    this.session.announcement = `${this.rows.length} of ${this.all.length} rows shown${blank}`;
  }

  /** Keeps rows in sight whatever the filter says. */
  keep(ids: readonly string[]): void {
    if (this.filters.size > 0) this.#kept = new Set([...this.#kept, ...ids]);
  }

  append(entries: Readonly<Record<string, string>>): void {
    const row = newRow(this.table, { ...this.asLast(), ...this.belonging(), ...entries });
    this.keep([row.id]);
    this.session.apply(insertRows(this.table, this.table.rows.length, [row]));
  }

  /** A new row belongs to what is shown now. */
  belonging(): Record<string, string> {
    const value = shownValue(this.session, this.table);
    const chooser = this.table.columns.find((column) => column.name === this.table.shownBy?.column);
    return value === undefined || !chooser ? {} : { [chooser.id]: value };
  }

  /** The unit on the screen. */
  unitOf(column: Column): Unit | undefined {
    const states = column.unit === '' ? this.all.slice(0, 20) : [];
    const typed = states
      .map((row) => this.session.columnState(this.table.name, column.name, row))
      .find((state) => state.state === 'value');
    return shownUnit(column, typed?.state === 'value' ? typed.type : undefined, this.session.system);
  }

  unitsOf(column: number): Units {
    const own = this.columns[column]?.unit ?? '';
    return { own, shown: this.units[column]?.text ?? own };
  }

  /** Undefined where words are typed. */
  #unitsTyped(column: number): Units | undefined {
    return this.columns[column]?.type === 'number' ? this.unitsOf(column) : undefined;
  }

  /** False where there was nothing to do, so that the key stays with the browser. */
  #do(command: GridCommand): boolean {
    const { row, column } = this.active;
    const last = { row: this.rows.length, column: this.columns.length - 1 };
    switch (command.kind) {
      case 'move': {
        const to = { row: row + command.rows, column: column + command.columns };
        if (command.columns > 0 && !command.extend) this.#run.pass(this.active, to);
        void this.moveTo(to, command.extend);
        return true;
      }
      case 'jump': {
        const toRow = command.row === undefined ? row : command.row === 'first' ? 0 : last.row;
        const toColumn = command.column === undefined ? column : command.column === 'first' ? 0 : last.column;
        void this.moveTo({ row: toRow, column: toColumn }, command.extend);
        return true;
      }
      case 'page':
        void this.moveTo(
          { row: Math.max(0, row + command.direction * this.#page()), column },
          command.extend,
        );
        return true;
      case 'edit':
        this.edit();
        return true;
      case 'type':
        this.edit(command.text);
        return true;
      case 'select':
        this.#select(command.what);
        return true;
      case 'deselect':
        this.#run.end();
        if (!this.anchor) return false;
        void this.moveTo(this.active);
        return true;
      case 'menu':
        this.panel = row < 0 ? 'column' : 'rows';
        return true;
      case 'rows':
        if (row >= 0) void runRowCommand(this, command.id);
        return true;
    }
  }

  #select(what: 'row' | 'column' | 'all'): void {
    const { row, column } = this.active;
    const lastRow = Math.max(0, this.rows.length - 1);
    const lastColumn = this.columns.length - 1;
    const at = Math.max(0, row);
    const whole = { row: what === 'row' ? at : 0, column: what === 'column' ? column : 0 };
    // A block of rows or columns that is selected already grows to whole rows or columns.
    if (this.anchor && what === 'row') whole.row = this.anchor.row;
    if (this.anchor && what === 'column') whole.column = this.anchor.column;
    this.anchor = whole;
    this.active = { row: what === 'row' ? at : lastRow, column: what === 'column' ? column : lastColumn };
    this.panel = undefined;
    void this.focus();
  }

  #filtered(): Found {
    const { all, filters, table } = this;
    if (filters.size === 0) return { rows: all, blank: 0 };
    return letThrough(all, askedOf(this), (row) => this.#kept.has(table.rows[row]?.id ?? ''));
  }

  #page(): number {
    const height = this.box?.clientHeight ?? 300;
    return Math.max(1, Math.floor(Math.min(height, window.innerHeight) / ROW_HEIGHT) - 2);
  }

  #scrollTo(row: number): void {
    const { box } = this;
    if (!box || this.rows.length <= ALL_ROWS) return;
    const top = Math.max(0, row) * ROW_HEIGHT;
    const head = box.querySelector('thead')?.clientHeight ?? 0;
    if (top < box.scrollTop) box.scrollTop = top;
    else if (top + ROW_HEIGHT + head > box.scrollTop + box.clientHeight) {
      box.scrollTop = top + ROW_HEIGHT + head - box.clientHeight;
    }
  }

  /** What a new row takes on from the last one. */
  asLast(): Record<string, string> {
    return leadingChoices(this.columns, this.row({ row: this.rows.length - 1, column: 0 }));
  }

  #firstFault(column: string | undefined): number {
    if (column === undefined) return 0;
    return this.rows.findIndex((row) => {
      const { state } = this.session.columnState(this.table.name, column, row);
      return state === 'invalid' || state === 'fault';
    });
  }
}
