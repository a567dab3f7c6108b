/**
 * The one bridge between a workbook and the components: what is on the screen, and who must look again after an
 * edit. A component that reads a state looks again only when that name changed.
 */
import { createContext, tick, untrack } from 'svelte';
import { afterPaint, whenIdle } from './after-paint.ts';
import type { UnitSystem } from '../engine/index.ts';
import type { Cell, Column, Edit, SampledCheck, Sheet, Table, WorkbookDocument } from '../workbook/index.ts';
import { blamed, entryWords } from './blamed.ts';
import { faultText } from './fault-text.ts';
import {
  columnOf,
  figuresOf,
  labelOf,
  outlineOf,
  standingOf,
  type OutlineOfSheets,
  type Standing,
} from './outline.ts';
import { localLimits } from './locale.ts';
import { kept } from './steady.ts';
import type { PadField, Picking, Printable, Revealing } from './on-screen.ts';
import type { CellState, ChangeSet, Fault, WorkbookView } from './view.ts';
import type { Filter } from './worksheet/row-filter.ts';

/** How often what a name says may have changed: whoever reads it looks again when it goes up. */
class Version {
  count = $state(0);
}

/** Stands until the constructor has run. */
const NO_DOCUMENT: WorkbookDocument = { title: '', units: 'us', sheets: [] };
const NO_LINKS: ReadonlyMap<string, 'read' | 'reader'> = new Map();

export class Session {
  readonly workbook: WorkbookView;
  /** Why nothing may be changed, if so. */
  readOnly = $state<string>();
  readonly #versions = new Map<string, Version>();
  readonly #grids = new Map<string, Revealing>();
  /** Which rows a person wants to see, by table and column: as long as the workbook is open, in no file. */
  readonly filters = new Map<string, ReadonlyMap<string, Filter>>();
  /** Tables of the worksheet shown. */
  readonly printables = new Set<Printable>();
  #faultAt = -1;

  document: WorkbookDocument = $state.raw(NO_DOCUMENT);
  revision = $state(0);
  /** Goes up with every edit, and when an answer that took its time has come. */
  changes = $state(0);
  /** The last of these that what is in view shows. */
  #shown = $state(0);
  /** Goes up when something may be called otherwise than before. */
  #words = $state(0);
  /** Goes up when what reads what, or what stands in texts, may be other than before. */
  wiring = $state(0);
  system = $state<UnitSystem>('us');
  sheetId = $state('');
  /** A worksheet, what-if, what the job was asked for, or the list of functions and units. */
  page = $state<'sheet' | 'what-if' | 'inputs' | 'reference'>('sheet');
  /** What the list of functions and units is searched for. */
  looked = $state('');
  /** True while the parts of the worksheet are arranged instead of filled in. */
  arranging = $state(false);
  /** Id of the opened cell, if any. */
  selected = $state<string>();
  /** Whether the opened cell also shows where its ± comes from. */
  budgetOpen = $state(false);
  /** Said politely by the live region. */
  announcement = $state('');
  /** What else an edit of a table changed, told at its head until something else is edited. */
  #told = $state.raw({ table: '', text: '', revision: -1 });
  /** Prints what is shown; as soon as they are loaded, by those who lay out its tables. */
  print = (): void => {
    print();
  };
  /** A formula that is being edited: names touched on the sheet go into it. */
  picking = $state.raw<Picking>();
  /** The field under the key pad, on a phone. */
  pad = $state.raw<PadField>();
  /** Sampled checks by cell, each with the version of the cell that it was made of. */
  #sampled = $state.raw<ReadonlyMap<string, { readonly check: SampledCheck; readonly version: number }>>(
    new Map(),
  );
  /** True: the phone's own letters are wanted instead of the pad's digits. */
  letters = $state(false);

  readonly titleBlock = $derived(this.document.titleBlock);
  /** A workbook is worked out in stages, the first worksheet first: whether all of it is. */
  whole = $state(false);
  /** Something was gone to: it is on the screen, also where the rest of a worksheet would come later. */
  sought = $state(false);
  readonly faults: readonly Fault[] = $derived.by(
    () => (void this.changes, this.whole ? this.workbook.faults() : []),
  );
  #lastOutline: OutlineOfSheets | undefined;
  readonly outline: OutlineOfSheets = $derived.by(
    () => (this.#lastOutline = outlineOf(this.document, this.#lastOutline)),
  );
  /** What the opened cell reads and what reads it, by name: marked on the sheet. */
  readonly links: ReadonlyMap<string, 'read' | 'reader'> = $derived.by(() => this.#linksOf(this.#opened));
  readonly #opened: string | undefined = $derived.by(() => {
    const item = this.selected === undefined ? undefined : this.outline.byId.get(this.selected)?.item;
    return item?.kind === 'cell' ? item.name : undefined;
  });
  readonly sheet: Sheet | undefined = $derived(
    this.document.sheets.find((sheet) => sheet.id === this.sheetId) ?? this.document.sheets[0],
  );
  /** Other pages, and some worksheets, have no figures. Their room is there before they are. */
  readonly pictured: boolean = $derived(
    this.page === 'sheet' && this.sheet !== undefined && figuresOf(this.sheet).length > 0,
  );

  constructor(workbook: WorkbookView, readOnly?: string) {
    this.workbook = workbook;
    this.readOnly = readOnly;
    this.document = workbook.document;
    this.revision = workbook.revision;
    this.system = workbook.document.units;
    this.sheetId = workbook.document.sheets[0]?.id ?? '';
    this.#addVersions();
    workbook.subscribe((changes) => {
      this.#changed(changes);
    });
    this.whole = workbook.isWhole;
    if (!this.whole) whenIdle(() => this.#proceed());
  }

  /** A worksheet at a time, so that the page answers in between. */
  #proceed(): void {
    if (this.workbook.proceed()) this.whole = true;
    else whenIdle(() => this.#proceed());
  }

  state(name: string): CellState {
    this.version(name);
    return this.workbook.state(name);
  }

  /**
   * For what is out of view, or need not follow at once: it is asked again once what is in view shows an edit, or when
   * one of the `parts` it is made of is another.
   */
  later<T>(parts: () => readonly unknown[], ask: () => T): () => T {
    let last: { readonly parts: readonly unknown[]; readonly value: T } | undefined;
    return () => {
      const now = kept(last?.parts, [this.#shown, this.system, ...parts()]);
      // Svelte asks a derived value that came out the same again whenever something it reads might be another.
      if (last?.parts === now) return last.value;
      last = { parts: now, value: untrack(ask) };
      return last.value;
    };
  }

  columnState(table: string, column: string, row: number): CellState {
    this.version(`${table}.${column}`);
    return this.workbook.columnState(table, column, row);
  }

  /** Whether some row of a column may be faulty, so that reading each is worth while. */
  hasFaults(table: string, column: string): boolean {
    this.version(`${table}.${column}`);
    return this.workbook.hasFaults(table, column);
  }

  footer(table: string, column: string): CellState {
    this.version(`${table}.${column}`);
    return this.workbook.footer(table, column);
  }

  /** Goes up when what a cell, a record's field or a column says may have changed. */
  version(name: string): number {
    const known = this.#versions.get(name) ?? this.#versions.get(name.split('.')[0] ?? '');
    return known ? known.count : this.changes;
  }

  /** Keeps a sampled check of a cell as it was at that version. */
  keepSampled(name: string, version: number, check: SampledCheck): void {
    this.#sampled = new Map(this.#sampled).set(name, { check, version });
  }

  /** The last sampled check of a cell, as long as the cell says the same as then. */
  sampled(name: string): SampledCheck | undefined {
    const kept = this.#sampled.get(name);
    return kept?.version === this.version(name) ? kept.check : undefined;
  }

  /** What a name stands for and where: whoever asks asks again when what it says may have changed, or all words. */
  standing(name: string): Standing | undefined {
    this.version(name);
    return untrack(() => standingOf(this.outline, name));
  }

  /** Of `readings.flow`. */
  column(name: string): ReturnType<typeof columnOf> {
    this.version(name);
    return untrack(() => columnOf(this.outline, name));
  }

  label(name: string): string {
    void this.#words;
    return untrack(() => labelOf(this.outline, name));
  }

  /** The table whose column a list of choices is, where it stands. */
  choicesFrom({ choices }: Cell | Column): { readonly table: Table; readonly sheet: Sheet } | undefined {
    if (typeof choices !== 'string') return undefined;
    const found = this.outline.byName.get(choices.split('.')[0] ?? '');
    return found?.item.kind === 'table' ? { table: found.item, sheet: found.sheet } : undefined;
  }

  /** Allowed texts of a choice cell or column. */
  choices(of: Cell | Column): readonly string[] {
    if (of.choices === undefined) return [];
    if (typeof of.choices !== 'string') return of.choices;
    const [table = '', column = ''] = of.choices.split('.');
    const texts =
      this.choicesFrom(of)?.table.rows.map((_, row) => this.columnState(table, column, row)) ?? [];
    return [...new Set(texts.map((each) => (each.state === 'value' ? String(each.value) : '')))].filter(
      Boolean,
    );
  }

  /** Where the choices come from, as long as there are none. */
  nothingToChoose(of: Cell | Column): string {
    if (typeof of.choices !== 'string' || this.choices(of).length > 0) return '';
    const from = this.choicesFrom(of);
    if (!from) return '';
    return `Nothing to choose yet: the choices are typed in “${from.table.label || from.table.name}”, on the worksheet “${from.sheet.title}”.`;
  }

  /** Applies an edit; a refusal is announced and returned in words. */
  apply(edit: Edit): string | undefined {
    if (this.#refused()) return this.readOnly;
    const result = this.workbook.apply(edit);
    if (!('problem' in result)) return undefined;
    this.announcement = localLimits([result.problem, result.suggestion].filter(Boolean).join(' '));
    return this.announcement;
  }

  tell(table: string, text: string): void {
    this.#told = { table, text, revision: this.revision };
    this.announcement = text;
  }

  toldAt(table: string): string {
    const told = this.#told;
    return told.table === table && told.revision === this.revision ? told.text : '';
  }

  undo(): void {
    if (this.#refused() || !this.workbook.canUndo) return;
    const label = this.workbook.undoLabel;
    this.workbook.undo();
    this.announcement = `Undone: ${label}`;
  }

  redo(): void {
    if (this.#refused() || !this.workbook.canRedo) return;
    const label = this.workbook.redoLabel;
    this.workbook.redo();
    this.announcement = `Done again: ${label}`;
  }

  #refused(): boolean {
    if (this.readOnly === undefined) return false;
    this.announcement = this.readOnly;
    return true;
  }

  /** Shows a cell, a table or a column (`readings.flow`, with a row) and puts the focus there. */
  async goTo(name: string, row?: number): Promise<void> {
    const standing = standingOf(this.outline, name);
    if (!standing) return;
    this.sheetId = standing.sheet.id;
    this.page = 'sheet';
    this.arranging = false;
    this.sought = true;
    if (standing.item.kind === 'cell') this.selected = standing.item.id;
    await tick();
    if (standing.item.kind === 'table') {
      // Cell or card, it comes into view by itself.
      this.#grids.get(standing.item.id)?.reveal(name.split('.')[1], row);
      return;
    }
    const place = document.getElementById(`cell-${standing.item.id}`);
    place?.scrollIntoView({ block: 'nearest' });
    place?.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
  }

  /** Shows a text, or the note to an item, a section or a sheet, and puts the focus there. */
  async goToText(id: string): Promise<void> {
    const item = this.outline.byId.get(id)?.item;
    if (item) {
      await this.goTo(item.name);
      return;
    }
    this.sheetId = this.outline.sheetOf.get(id)?.id ?? this.sheetId;
    this.page = 'sheet';
    this.sought = true;
    await tick();
    const place = document.getElementById(`text-${id}`);
    place?.scrollIntoView({ block: 'nearest' });
    place?.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
  }

  /** The next fault after the one shown last, in reading order. */
  async nextFault(): Promise<void> {
    const { faults } = this;
    if (faults.length === 0) return;
    this.#faultAt = (this.#faultAt + 1) % faults.length;
    const fault = faults[this.#faultAt];
    if (!fault) return;
    const entry = fault.inText ? undefined : blamed(this, fault.where, fault.row);
    const label = entry ? entryWords(this, entry) : fault.label;
    this.announcement = `Fault ${this.#faultAt + 1} of ${faults.length}, ${label}: ${faultText(this, fault)}`;
    if (fault.inText) await this.goToText(fault.where);
    else await this.goTo(entry?.name ?? fault.where, entry ? entry.row : fault.row);
  }

  registerGrid(table: Table, grid: Revealing): () => void {
    this.#grids.set(table.id, grid);
    return () => {
      if (this.#grids.get(table.id) === grid) this.#grids.delete(table.id);
    };
  }

  /** On to the next name that the opened cell reads, or that reads it. */
  async followLink(which: 'read' | 'reader'): Promise<void> {
    const names = [...this.links].flatMap(([name, link]) => (link === which ? [name] : []));
    if (names.length === 0) {
      this.announcement = which === 'read' ? 'It reads nothing' : 'Nothing reads it';
      return;
    }
    const [name = ''] = names;
    this.announcement =
      names.length === 1 ? name : `${name}, the first of ${names.length}: ${names.slice(1).join(', ')}`;
    await this.goTo(name);
  }

  #linksOf(name: string | undefined): ReadonlyMap<string, 'read' | 'reader'> {
    if (name === undefined) return NO_LINKS;
    void this.wiring;
    const links = new Map<string, 'read' | 'reader'>();
    for (const reader of this.workbook.dependents(name)) links.set(reader, 'reader');
    for (const read of this.workbook.precedents(name)) links.set(read, 'read');
    return links;
  }

  #changed(changes: ChangeSet): void {
    this.document = this.workbook.document;
    this.revision = this.workbook.revision;
    untrack(() => this.changes++);
    afterPaint(() => (this.#shown = this.changes));
    if (changes.links) this.wiring++;
    if (changes.structure) {
      this.#words++;
      this.#addVersions();
      for (const version of this.#versions.values()) version.count++;
      return;
    }
    for (const name of changes.names) {
      const version = this.#versions.get(name);
      if (version) version.count++;
    }
  }

  /** Made before anything reads them: a state made while a component reads would not be followed by it. */
  #addVersions(): void {
    const add = (name: string) => {
      if (!this.#versions.has(name)) this.#versions.set(name, new Version());
    };
    for (const [name, { item }] of this.outline.byName) {
      add(name);
      if (item.kind === 'table') for (const column of item.columns) add(`${name}.${column.name}`);
    }
  }
}

export const [useSession, provideSession] = createContext<Session>();
