/**
 * The workbook as a person typed it. Plain, immutable data: every change makes a new document that shares what
 * did not change. Results are never stored.
 */

/** How a typed ± is meant: a standard uncertainty, a 95 % interval, or limits with every value equally likely. */
export type PlusMinusMeaning = 'standard' | '95' | 'limits';

export type EntryType = 'number' | 'text' | 'choice';

export interface Cell {
  readonly kind: 'cell';
  /** Stable for the life of the workbook; the name may change, the id does not. */
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly type: EntryType;
  /** What was typed: a value (`24,610 ft3`, `12' 4 1/2"`), a formula (`q50 / building_volume`), or text. A text or choice cell is a formula only when it begins with `=`. */
  readonly text: string;
  /** Display unit and, for a formula, an assertion of its dimension. */
  readonly unit: string;
  /** Decimals shown where the value carries no ±. */
  readonly places?: number;
  readonly plusMinus?: PlusMinusMeaning;
  /** True: the unit stays as it is under the US/SI toggle. */
  readonly pinned?: boolean;
  /** Allowed texts of a choice cell; or `table.column`, whose entries are the choices. */
  readonly choices?: readonly string[] | string;
  /**
   * The cell holds a verdict, and nothing is left to do where it is one of these texts or begins with one. Any other
   * text asks for something, and is shown so.
   */
  readonly settled?: readonly string[];
  /** True: every job has its own, so a new job is asked for it. */
  readonly input?: boolean;
  readonly note: string;
}

export interface Column {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly type: EntryType;
  readonly unit: string;
  /** Absent: the column is typed. Present: one formula for every row. */
  readonly formula?: string;
  readonly places?: number;
  readonly plusMinus?: PlusMinusMeaning;
  readonly pinned?: boolean;
  readonly choices?: readonly string[] | string;
  /** As of a cell. */
  readonly settled?: readonly string[];
  /** True: the column is calculated but not shown in the grid. */
  readonly hidden?: boolean;
  /** True: stands in the one line that a row is on a phone. Where no column says so, the face chooses. */
  readonly brief?: boolean;
  /** What every typed value is uncertain by, of its own: `0.3 Pa`, `2 %`; a ± typed with a value goes before it. */
  readonly each?: string;
  /** One error that all typed values share, such as their instrument's: `1 %`. */
  readonly shared?: string;
  /** What stands under the column. */
  readonly footer?: 'sum' | 'mean' | 'min' | 'max' | 'count';
  /** True: its entries are the job's. A new job keeps the rows and leaves this column blank. */
  readonly input?: boolean;
  readonly note: string;
}

/** A photograph, scaled down and without what the camera wrote into it. */
export interface Photo {
  readonly id: string;
  /** JPEG, in base64. */
  readonly data: string;
  readonly caption?: string;
  /** When it was taken, or added where the picture does not tell: `2026-11-28 14:05`. */
  readonly taken?: string;
}

export interface Row {
  readonly id: string;
  /** Column id to typed text. An entry under a computed column overrides its formula in this row. */
  readonly entries: Readonly<Record<string, string>>;
  readonly note?: string;
  /** They go with their row. */
  readonly photos?: readonly Photo[];
}

export interface Table {
  readonly kind: 'table';
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  readonly note: string;
  /** A text column whose non-blank value strikes the row through and stands beside it as the reason. */
  readonly reasonColumn?: string;
  /** Show only rows whose `column` (name) equals the value of the text cell `cell` (name); new rows get that value. */
  readonly shownBy?: { readonly column: string; readonly cell: string };
  /** True: its rows are the job's. A new job begins with none. */
  readonly input?: boolean;
}

export interface Figure {
  readonly kind: 'figure';
  readonly id: string;
  /** A kind registered in face/figure/kinds.ts. */
  readonly figure: string;
  readonly title: string;
  /** Role in the figure to the name of a cell, `table.column` or `cell.field`. */
  readonly bindings: Readonly<Record<string, string>>;
}

export interface Prose {
  readonly kind: 'prose';
  readonly id: string;
  readonly text: string;
}

export type Item = Cell | Table | Figure | Prose;

export interface Section {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  readonly items: readonly Item[];
}

export interface Sheet {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  /** A few words, with live names, that stand beside the title in the list of worksheets: `{finds_open} open`. */
  readonly status?: string;
  readonly sections: readonly Section[];
}

/** Names of the cells that the title block always shows. */
export interface TitleBlock {
  readonly result: string;
  readonly target: string;
  readonly margin: string;
  /** Words, with live names, that stand beside the margin in place of “met” where another target is not. */
  readonly says?: string;
}

/** Typed values tried in place of others; everything else is the workbook's own. */
export interface Scenario {
  readonly id: string;
  readonly name: string;
  readonly note: string;
  readonly overrides: readonly Override[];
}

/** By ids, so that renaming touches none. */
export type Override =
  | { readonly cell: string; readonly text: string }
  | { readonly table: string; readonly row: string; readonly column: string; readonly text: string };

/** The template that a job was begun from. */
export interface TemplateOrigin {
  /** Of a shipped template its key; of one's own the id it is kept under. */
  readonly id: string;
  readonly title: string;
  /** Fingerprint of the template as it was then. */
  readonly version: string;
}

export interface WorkbookDocument {
  readonly title: string;
  /** Present on a template only: what it is for, in one line. */
  readonly about?: string;
  readonly template?: TemplateOrigin;
  /** Fingerprints of the files it was saved as, newest last. */
  readonly versions?: readonly string[];
  /** What the job reads in when nothing else is asked: the display's first setting. */
  readonly units: 'us' | 'si';
  readonly titleBlock?: TitleBlock;
  readonly scenarios?: readonly Scenario[];
  /** Ids of the cells that scenarios are compared by. */
  readonly compared?: readonly string[];
  /** Ids of the sections and parts chosen for the report, in the order they stand on paper. */
  readonly printed?: readonly string[];
  readonly sheets: readonly Sheet[];
}
