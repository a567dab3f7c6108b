/**
 * A workbook at work: the document, the engine that calculates it, and what was done so that it can be undone.
 * Edits go down, states come up.
 */
import {
  Engine,
  type Answer,
  type Budget,
  type CellState,
  type Changes,
  type DeferredTask,
  type Diagnostic,
  type Drawable,
  type FunctionLibrary,
  type Type,
} from '../engine/index.ts';
import { ChoiceLists } from './choice-lists.ts';
import { complete, type Completion, type CompletionPlace, type Place } from './completion.ts';
import { describeState } from './describe.ts';
import type { Cell, Table, WorkbookDocument } from './document.ts';
import { applyEdit } from './edit.ts';
import type { Edit, EditProblem } from './edit-kinds.ts';
import { labelOf, newNames } from './edit-words.ts';
import { Faults, type WorkbookFault } from './faults.ts';
import { feed, feedTouched, footerName, onlyEntries, underColumn } from './feed.ts';
import type { FileWarning } from './file/file-error.ts';
import { textFault, textsNaming, type LiveText, type TextFault } from './live-text.ts';
import { findItem, findTable, itemsOf, namesOf, tablesOf } from './locate.ts';
import { isName } from './name.ts';
import { Opening } from './opening.ts';
import { hiding } from './rename.ts';
import { reservedNames, reservedWord } from './reserved.ts';

export interface ChangeSet {
  /** Cells (`q50`) and columns (`readings.flow`) whose state may look different now. */
  readonly names: ReadonlySet<string>;
  /** Rows of changed columns, from and to. */
  readonly rows: ReadonlyMap<string, readonly [number, number]>;
  /** True when rows, columns, cells or sheets came or went, or words changed. */
  readonly structure: boolean;
  /** True when what reads what, or what stands in texts, may be other than before. */
  readonly links: boolean;
  /**
   * What was done, undoing and doing again included: on a copy of the former document it gives the same one. Absent
   * where nothing was edited.
   */
  readonly edit?: Edit;
}

interface Step {
  readonly label: string;
  readonly edit: Edit;
}

export class Workbook {
  readonly #engine: Engine;
  readonly #lists: ChoiceLists;
  readonly #faults: Faults;
  readonly #listeners = new Set<(changes: ChangeSet) => void>();
  #document: WorkbookDocument;
  /** With the columns and labels they have now; entries may be older. */
  #names: ReadonlyMap<string, Cell | Table> | undefined;
  #undo: Step[] = [];
  #redo: Step[] = [];
  #revision = 0;
  /** As long as only a part of it is worked out. */
  #opening: Opening | undefined;

  /** `inStages`: only the first worksheet is worked out now; `proceed` goes on, and whoever asks for more gets it. */
  constructor(document: WorkbookDocument, library: FunctionLibrary, inStages = false) {
    this.#document = document;
    this.#engine = new Engine(library);
    this.#faults = new Faults(this.#engine);
    this.#lists = new ChoiceLists(this.#engine, document);
    const { listOf } = this.#lists;
    if (inStages) {
      const opening = new Opening(this.#engine, document, listOf, () => this.#recalculate());
      if (!opening.isOver) this.#opening = opening;
      return;
    }
    for (const item of itemsOf(document)) if (item.kind === 'table') feed(this.#engine, item, listOf);
    for (const item of itemsOf(document)) if (item.kind === 'cell') feed(this.#engine, item, listOf);
    this.#recalculate();
  }

  /** Whether all of it is worked out, and the listeners know. */
  get isWhole(): boolean {
    return this.#opening === undefined;
  }

  /** Works out the next worksheet; true when all is there, of which the listeners are told then. */
  proceed(): boolean {
    const opening = this.#opening;
    opening?.proceed();
    if (opening?.isOver === false) return false;
    this.#opening = undefined;
    if (opening)
      this.#notify({ names: withFooters(opening.added), rows: new Map(), structure: false, links: true });
    return true;
  }

  /** The engine with a cell or a column and all that it needs. Whoever asks while drawing is told nothing yet. */
  #with(name: string, column?: string): Engine {
    this.#opening?.reach(column === undefined ? name : `${name}.${column}`);
    return this.#engine;
  }

  /** The engine with everything. */
  #whole(): Engine {
    this.#opening?.finish();
    return this.#engine;
  }

  get document(): WorkbookDocument {
    return this.#document;
  }
  get library(): FunctionLibrary {
    return this.#engine.library;
  }
  /** Counts edits, undone and redone ones too. */
  get revision(): number {
    return this.#revision;
  }
  get canUndo(): boolean {
    return this.#undo.length > 0;
  }
  get canRedo(): boolean {
    return this.#redo.length > 0;
  }
  get undoLabel(): string {
    return this.#undo.at(-1)?.label ?? '';
  }
  get redoLabel(): string {
    return this.#redo.at(-1)?.label ?? '';
  }

  state(name: string): CellState {
    return this.#with(name).read(name);
  }

  columnState(table: string, column: string, row: number, field?: string): CellState {
    return this.#with(table, column).readRow(table, column, row, field);
  }

  /** Whether some row of a column may be faulty, so that reading each is worth while. */
  hasFaults(table: string, column: string): boolean {
    return this.#with(table, column).hasFaults(table, column);
  }

  footer(table: string, column: string): CellState {
    return this.#with(table, column).read(footerName(table, column));
  }

  /** Where the ± of a cell, a record's field or a row comes from. */
  budget(name: string, row?: number): Budget | undefined {
    return this.#with(name).budget(name, row);
  }

  /** What a sampled run of some cells needs. */
  drawable(names: readonly string[]): Drawable | undefined {
    return this.#whole().drawable(names);
  }

  /** Answers that take seconds and are not there yet: what stands in their cells, so far, is a quick answer. */
  unfinished(): DeferredTask[] {
    return this.#engine.unfinished();
  }

  /** Takes in a better answer, which is no edit: nothing to save, nothing to undo. */
  answer(key: string, answer: Answer): ChangeSet {
    this.library.answers.set(key, answer);
    this.#whole().askAgain();
    const changes = this.#recalculate();
    return this.#notify({
      names: withFooters(changes.names),
      rows: changes.rows,
      structure: false,
      links: false,
    });
  }

  #recalculate(): Changes {
    return this.#lists.follow(this.#document, this.#engine.recalculate());
  }

  apply(edit: Edit): ChangeSet | EditProblem {
    return this.#refusedName(edit) ?? this.replay(edit);
  }

  /** An edit that was already made elsewhere: in another tab, or before the page was closed. */
  replay(edit: Edit): ChangeSet | EditProblem {
    const done = this.#perform(edit);
    if ('problem' in done) return done;
    this.#undo.push({ label: labelOf(edit), edit: done.inverse });
    this.#redo = [];
    return this.#notify(done.changes);
  }

  undo(): ChangeSet | undefined {
    return this.#step(this.#undo, this.#redo);
  }

  redo(): ChangeSet | undefined {
    return this.#step(this.#redo, this.#undo);
  }

  #step(from: Step[], to: Step[]): ChangeSet | undefined {
    const step = from.pop();
    if (!step) return undefined;
    const done = this.#perform(step.edit);
    if ('problem' in done) throw new Error(`cannot go back over "${step.label}": ${done.problem}`);
    to.push({ label: step.label, edit: done.inverse });
    return this.#notify(done.changes);
  }

  #perform(edit: Edit): { readonly changes: ChangeSet; readonly inverse: Edit } | EditProblem {
    const before = this.#document;
    const applied = applyEdit(before, edit);
    if ('problem' in applied) return applied;
    if (this.#opening && onlyEntries(applied.touched)) this.#opening.follow(applied.document);
    else this.#whole();
    this.#document = applied.document;
    feedTouched(
      this.#engine,
      before,
      applied,
      this.#lists.listOf,
      (column) => this.#opening?.has(column) !== false,
    );
    this.#revision++;
    const changes = this.#recalculate();
    const { touched } = applied;
    const structure =
      touched.outline ||
      touched.shown.size > 0 ||
      [...touched.tables.values()].some((t) => t.structure || t.rows) ||
      [...touched.cells].some((id) => !sameName(before, applied.document, id));
    return {
      changes: {
        names: withFooters(changes.names),
        rows: changes.rows,
        structure,
        links: structure || touched.cells.size > 0,
        edit,
      },
      inverse: applied.inverse,
    };
  }

  #notify(changes: ChangeSet): ChangeSet {
    this.#faults.forget(changes.links ? undefined : changes.names);
    if (changes.links) this.#names = undefined;
    for (const listener of [...this.#listeners]) listener(changes);
    return changes;
  }

  /** A mistake in a text as it is being typed; nothing is stored. */
  check(text: string, where: Place): Diagnostic | undefined {
    if ('cell' in where) {
      const cell = findItem(this.#document, where.cell);
      if (cell?.kind !== 'cell') return undefined;
      if (cell.type !== 'number' && !text.trimStart().startsWith('=')) return undefined;
      return this.#whole().check(text, { unit: cell.unit });
    }
    const table = findTable(this.#document, where.table);
    const column = table?.columns.find((c) => c.id === where.column);
    if (!table || !column) return undefined;
    // A column without a unit takes plain numbers, and no quantity of any kind as a cell without one does.
    if (column.formula === undefined && where.formula === undefined)
      return column.type === 'number' ? this.#engine.checkEntry(text, column.unit || '1') : undefined;
    return this.#whole().check(text, {
      table: table.name,
      unit: column.type === 'number' ? column.unit : '',
    });
  }

  precedents(name: string): string[] {
    return this.#with(name).precedents(name);
  }

  /** While it opens, those that are worked out by then. */
  dependents(name: string): string[] {
    return this.#with(name)
      .dependents(name)
      .filter((key) => key.split('.').every(isName));
  }

  /** Texts and notes in which a cell, a record's field, a table or a column stands. */
  textsNaming(name: string): LiveText[] {
    return textsNaming(this.#document, name);
  }

  #named(): ReadonlyMap<string, Cell | Table> {
    return (this.#names ??= namesOf(this.#document));
  }

  /** Why a name in a text stands for nothing, if so. */
  textFault(name: string): TextFault | undefined {
    return textFault(name, this.#named(), (cell) => {
      this.#with(cell);
      return this.#faults.fields(cell);
    });
  }

  complete(prefix: string, where: CompletionPlace, system?: 'us' | 'si', before = ''): Completion[] {
    return complete(this, prefix, where, system, before);
  }

  /** What a part of a formula at that place yields. */
  typeIn(text: string, where: Place): Type | undefined {
    return this.#whole().typeIn(
      text,
      'cell' in where ? undefined : findTable(this.#document, where.table)?.name,
    );
  }

  /** Everything that is wrong where it stands; what only waits for it is not counted. */
  faults(): readonly WorkbookFault[] {
    this.#whole();
    return this.#faults.list(this.#document, this.#named());
  }

  /** Says why a word cannot be a name here, or nothing. */
  reserved(word: string): string | undefined {
    return reservedWord(word, this.library);
  }

  /** Names that this workbook was opened with and that formulas may read as something else. */
  reservedNames(): FileWarning[] {
    return reservedNames(this.#document, this.library);
  }

  #refusedName(edit: Edit): EditProblem | undefined {
    for (const name of newNames(edit)) {
      const why = this.reserved(name);
      if (why !== undefined)
        return {
          problem: `${why}, so it cannot be a name.`,
          suggestion: `Type ${name}_value or another word.`,
        };
    }
    return hiding(this.#document, edit);
  }

  /** What a state says in words and numbers, in the workbook's own units. */
  describe(name: string): string {
    return describeState(this.state(name), cellUnit(this.#document, name), this.#document.units);
  }

  subscribe(listener: (changes: ChangeSet) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}

function cellUnit(document: WorkbookDocument, name: string): string {
  for (const item of itemsOf(document)) if (item.kind === 'cell' && item.name === name) return item.unit;
  const [tableName, columnName] = name.split('.');
  for (const table of tablesOf(document))
    if (table.name === tableName) return table.columns.find((c) => c.name === columnName)?.unit ?? '';
  return '';
}

function sameName(before: WorkbookDocument, after: WorkbookDocument, id: string): boolean {
  const a = findItem(before, id);
  const b = findItem(after, id);
  return a?.kind === 'cell' && b?.kind === 'cell' && a.name === b.name;
}

/** A footer is a cell of the engine's only; whoever shows its column is told. */
function withFooters(names: ReadonlySet<string>): ReadonlySet<string> {
  const all = new Set<string>();
  for (const name of names) all.add(underColumn(name) ?? name);
  return all;
}
