/** What the face needs to know of a workbook: states come up, edits go down. The engine's classes fit it as they are. */
import type { Edit, EditProblem, Table, WorkbookDocument } from '../workbook/index.ts';

export type Dimension = number;

export type ValueKind =
  | { readonly kind: 'quantity'; readonly dimension: Dimension; readonly reading: boolean }
  | { readonly kind: 'text' }
  | { readonly kind: 'logical' }
  | { readonly kind: 'record'; readonly fields: ReadonlyMap<string, ValueKind> };

export interface Diagnostic {
  readonly code: string;
  readonly message: string;
  readonly span: { readonly start: number; readonly end: number };
  readonly found?: string;
  readonly expected?: string;
  readonly suggestion?: string;
  readonly replacement?: string;
}

export type CellState =
  | {
      readonly state: 'value';
      readonly type: ValueKind;
      readonly value: number | string | boolean;
      /** Standard uncertainty in SI. */
      readonly plusMinus?: number;
      readonly typed: boolean;
    }
  | { readonly state: 'blank'; readonly reason?: string; readonly type?: ValueKind }
  | { readonly state: 'invalid'; readonly diagnostic: Diagnostic }
  | { readonly state: 'fault'; readonly fault: string; readonly suggestion?: string }
  | { readonly state: 'waiting'; readonly for: string };

/** Where a text is being typed: a named cell (by id) or a column (by id). */
export type Place = { readonly cell: string } | { readonly table: string; readonly column: string };

export interface ChangeSet {
  /** Cells (`q50`) and columns (`readings.flow`) whose state may look different now. */
  readonly names: ReadonlySet<string>;
  /** True when rows, columns, cells or sheets came or went. */
  readonly structure: boolean;
}

export interface Fault {
  /** Name of the cell or column. */
  readonly where: string;
  readonly label: string;
  readonly message: string;
}

export interface Completion {
  readonly name: string;
  readonly label: string;
  readonly detail: string;
}

export interface WorkbookView {
  readonly document: WorkbookDocument;
  readonly revision: number;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly undoLabel: string;
  readonly redoLabel: string;
  state(name: string): CellState;
  columnState(table: string, column: string, row: number): CellState;
  apply(edit: Edit): ChangeSet | EditProblem;
  undo(): unknown;
  redo(): unknown;
  check(text: string, where: Place): Diagnostic | undefined;
  precedents(name: string): string[];
  dependents(name: string): string[];
  faults(): Fault[];
  complete(prefix: string, where: Place): Completion[];
  /** What stands under a column that has a footer. */
  footer(table: string, column: string): CellState;
  subscribe(listener: (changes: ChangeSet) => void): () => void;
}

/** A CSV or pasted block, matched to a table's columns but not applied yet. */
export interface TableImport {
  /** One per source column: what it said and the column it goes to, if any. */
  readonly matches: readonly { readonly header: string; readonly column?: string }[];
  readonly rows: readonly { readonly entries: Readonly<Record<string, string>> }[];
  readonly problems: readonly string[];
}

export type Opened = { readonly workbook: WorkbookView } | { readonly problem: string };

/** What main.ts hands in: ways between text and workbook that need the function library. */
export interface Desk {
  open(text: string): Opened;
  write(document: WorkbookDocument): string;
  readTable(text: string, table: Table): TableImport;
  writeTable(workbook: WorkbookView, table: Table): string;
  /** Shipped workbooks by title; the first is the demo. */
  readonly templates: readonly { readonly title: string; readonly load: () => Promise<string> }[];
}
