/** What the face needs to know of a workbook: states come up, edits go down. */
import type { Answer, CellState, DeferredTask, Diagnostic, Type } from '../engine/index.ts';
import type {
  ChangeSet,
  Completion,
  Place,
  SampledCheck,
  Workbook,
  WorkbookDocument,
  WorkbookFault,
} from '../workbook/index.ts';

export type { CellState, ChangeSet, Completion, Diagnostic, Place };
export type ValueKind = Type;
export type Fault = WorkbookFault;

export type WorkbookView = Workbook;

export interface OpenedWorkbook {
  readonly workbook: WorkbookView;
  /** What the file held that was left out. */
  readonly warnings: readonly string[];
  /** Why the workbook may be looked at and not changed. */
  readonly readOnly?: string;
}

/** What main.ts hands in: the way from text to a workbook, which needs the function library. */
/** A sampled check that runs beside the page. */
export interface RunningCheck {
  readonly result: Promise<SampledCheck | { readonly problem: string }>;
  cancel(): void;
}

/** A full answer that is worked out beside the page. */
export interface RunningAnswer {
  readonly result: Promise<Answer | { readonly problem: string }>;
  cancel(): void;
}

export interface Desk {
  /** Works out what has only a quick answer yet; `told` hears of the best so far, in words too. */
  finish(task: DeferredTask, told: (sofar: Answer, words: string) => void): RunningAnswer;
  /** Holds the ± of a result against sampling; `progress` goes from 0 to 1. */
  sample(
    document: WorkbookDocument,
    name: string,
    draws: number,
    progress: (part: number) => void,
  ): RunningCheck;
  /** A text is looked through first; a document comes with the program and needs no look. */
  open(source: string | WorkbookDocument): OpenedWorkbook | { readonly problem: string };
  /** Shipped workbooks by title; the first is the demo. */
  readonly templates: readonly {
    /** Remembered by the jobs that begin from it, so it never changes. */
    readonly id: string;
    readonly title: string;
    /** What it is for, in one line. */
    readonly about: string;
    readonly load: () => Promise<WorkbookDocument>;
  }[];
}
