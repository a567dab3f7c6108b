/**
 * The one bridge between a workbook and the components: what is on the screen, and who must look again after an
 * edit. A component that reads a state looks again only when that name changed.
 */
import { createContext, tick } from 'svelte';
import { createSubscriber } from 'svelte/reactivity';
import type { UnitSystem } from '../engine/index.ts';
import type { Cell, Column, Edit, Sheet, Table, WorkbookDocument } from '../workbook/index.ts';
import { labelOf, outlineOf, standingOf, type Outline } from './outline.ts';
import type { CellState, ChangeSet, Fault, WorkbookView } from './view.ts';

interface Watch {
  readonly track: () => void;
  look: (() => void) | undefined;
}

/** A table on the screen that can be asked to show one of its cells. */
export interface Revealing {
  reveal(column: string | undefined, row: number | undefined): void;
}

/** Stands until the constructor has run. */
const NO_DOCUMENT: WorkbookDocument = { title: '', units: 'us', sheets: [] };

export class Session {
  readonly workbook: WorkbookView;
  /** Why nothing may be changed, if so. */
  readonly readOnly: string | undefined;
  readonly #watches = new Map<string, Watch>();
  readonly #grids = new Map<string, Revealing>();
  #faultAt = -1;

  document: WorkbookDocument = $state.raw(NO_DOCUMENT);
  revision = $state(0);
  system = $state<UnitSystem>('us');
  sheetId = $state('');
  /** A worksheet, or what-if. */
  page = $state<'sheet' | 'what-if'>('sheet');
  /** Id of the opened cell, if any. */
  selected = $state<string>();
  /** Whether the opened cell also shows where its ± comes from. */
  budgetOpen = $state(false);
  /** Said politely by the live region. */
  announcement = $state('');

  readonly outline: Outline = $derived(outlineOf(this.document));
  readonly sheet: Sheet | undefined = $derived(
    this.document.sheets.find((sheet) => sheet.id === this.sheetId) ?? this.document.sheets[0],
  );

  constructor(workbook: WorkbookView, readOnly?: string) {
    this.workbook = workbook;
    this.readOnly = readOnly;
    this.document = workbook.document;
    this.revision = workbook.revision;
    this.system = workbook.document.units;
    this.sheetId = workbook.document.sheets[0]?.id ?? '';
    workbook.subscribe((changes) => {
      this.#changed(changes);
    });
  }

  state(name: string): CellState {
    this.#watch(name);
    return this.workbook.state(name);
  }

  columnState(table: string, column: string, row: number): CellState {
    this.#watch(`${table}.${column}`);
    return this.workbook.columnState(table, column, row);
  }

  footer(table: string, column: string): CellState {
    this.#watch(`${table}.${column}`);
    return this.workbook.footer(table, column);
  }

  faults(): Fault[] {
    void this.revision;
    return this.workbook.faults();
  }

  label(name: string): string {
    return labelOf(this.outline, name);
  }

  /** Allowed texts of a choice cell or column. */
  choices(of: Cell | Column): readonly string[] {
    if (of.choices === undefined) return [];
    if (typeof of.choices !== 'string') return of.choices;
    const [table = '', column = ''] = of.choices.split('.');
    const item = this.outline.byName.get(table)?.item;
    if (item?.kind !== 'table') return [];
    const texts = item.rows.map((_, row) => this.columnState(table, column, row));
    return [...new Set(texts.map((each) => (each.state === 'value' ? String(each.value) : '')))].filter(
      Boolean,
    );
  }

  /** Applies an edit; a refusal is announced and returned in words. */
  apply(edit: Edit): string | undefined {
    if (this.readOnly !== undefined) {
      this.announcement = this.readOnly;
      return this.announcement;
    }
    const result = this.workbook.apply(edit);
    if (!('problem' in result)) return undefined;
    this.announcement = [result.problem, result.suggestion].filter(Boolean).join(' ');
    return this.announcement;
  }

  undo(): void {
    if (!this.workbook.canUndo) return;
    const label = this.workbook.undoLabel;
    this.workbook.undo();
    this.announcement = `Undone: ${label}`;
  }

  redo(): void {
    if (!this.workbook.canRedo) return;
    const label = this.workbook.redoLabel;
    this.workbook.redo();
    this.announcement = `Done again: ${label}`;
  }

  /** Shows a cell, a table or a column (`readings.flow`, with a row) and puts the focus there. */
  async goTo(name: string, row?: number): Promise<void> {
    const standing = standingOf(this.outline, name);
    if (!standing) return;
    this.sheetId = standing.sheet.id;
    this.page = 'sheet';
    if (standing.item.kind === 'cell') this.selected = standing.item.id;
    await tick();
    if (standing.item.kind === 'table') {
      this.#grids.get(standing.item.id)?.reveal(name.split('.')[1], row);
      return;
    }
    const place = document.getElementById(`cell-${standing.item.id}`);
    place?.scrollIntoView({ block: 'nearest' });
    place?.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
  }

  /** The next fault after the one shown last, in reading order. */
  async nextFault(): Promise<void> {
    const faults = this.workbook.faults();
    if (faults.length === 0) return;
    this.#faultAt = (this.#faultAt + 1) % faults.length;
    const fault = faults[this.#faultAt];
    if (!fault) return;
    this.announcement = `Fault ${this.#faultAt + 1} of ${faults.length}, ${fault.label}: ${fault.message}`;
    await this.goTo(fault.where);
  }

  registerGrid(table: Table, grid: Revealing): () => void {
    this.#grids.set(table.id, grid);
    return () => {
      if (this.#grids.get(table.id) === grid) this.#grids.delete(table.id);
    };
  }

  #watch(name: string): void {
    let watch = this.#watches.get(name);
    if (!watch) {
      const made: Watch = {
        look: undefined,
        track: createSubscriber((update) => {
          made.look = update;
          return () => {
            made.look = undefined;
          };
        }),
      };
      watch = made;
      this.#watches.set(name, made);
    }
    watch.track();
  }

  #changed(changes: ChangeSet): void {
    this.document = this.workbook.document;
    this.revision = this.workbook.revision;
    if (changes.structure) for (const watch of this.#watches.values()) watch.look?.();
    else for (const name of changes.names) this.#watches.get(name)?.look?.();
  }
}

export const [useSession, provideSession] = createContext<Session>();
