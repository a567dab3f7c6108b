/** What the face needs to know of a workbook: states come up, edits go down. */
import type { CellState, Diagnostic, Type } from '../engine/index.ts';
import type { ChangeSet, Completion, Place, Workbook, WorkbookFault } from '../workbook/index.ts';

export type { CellState, ChangeSet, Completion, Diagnostic, Place };
export type ValueKind = Type;
export type Fault = WorkbookFault;

export type WorkbookView = Pick<
  Workbook,
  | 'document'
  | 'revision'
  | 'canUndo'
  | 'canRedo'
  | 'undoLabel'
  | 'redoLabel'
  | 'state'
  | 'columnState'
  | 'footer'
  | 'apply'
  | 'undo'
  | 'redo'
  | 'check'
  | 'precedents'
  | 'dependents'
  | 'faults'
  | 'complete'
  | 'reserved'
  | 'subscribe'
>;

export interface OpenedWorkbook {
  readonly workbook: WorkbookView;
  /** What the file held that was left out. */
  readonly warnings: readonly string[];
  /** Why the workbook may be looked at and not changed. */
  readonly readOnly?: string;
}

/** What main.ts hands in: the way from text to a workbook, which needs the function library. */
export interface Desk {
  open(text: string): OpenedWorkbook | { readonly problem: string };
  /** Shipped workbooks by title; the first is the demo. */
  readonly templates: readonly { readonly title: string; readonly load: () => Promise<string> }[];
}
