/** The edits a workbook can undergo: plain data, so they can be kept, replayed and undone. */
import type {
  Cell,
  Column,
  Figure,
  Item,
  Photo,
  Row,
  Section,
  Sheet,
  Table,
  WorkbookDocument,
} from './document.ts';

/** New values for some fields; `null` takes an optional field away. */
export type Patch<T, K extends keyof T> = {
  readonly [P in K]?: object extends Pick<T, P> ? Exclude<T[P], undefined> | null : T[P];
};

/** `name` here changes the name alone; `rename` also rewrites whatever reads it. */
export type CellPatch = Patch<
  Cell,
  | 'name'
  | 'label'
  | 'type'
  | 'text'
  | 'unit'
  | 'places'
  | 'plusMinus'
  | 'pinned'
  | 'choices'
  | 'settled'
  | 'input'
  | 'note'
>;
export type ColumnPatch = Patch<
  Column,
  | 'name'
  | 'label'
  | 'type'
  | 'unit'
  | 'formula'
  | 'places'
  | 'plusMinus'
  | 'pinned'
  | 'choices'
  | 'settled'
  | 'hidden'
  | 'brief'
  | 'each'
  | 'shared'
  | 'footer'
  | 'input'
  | 'note'
>;
export type TablePatch = Patch<Table, 'name' | 'label' | 'note' | 'reasonColumn' | 'shownBy' | 'input'>;
export type FigurePatch = Patch<Figure, 'figure' | 'title' | 'bindings'>;
export type PhotoPatch = Patch<Photo, 'caption' | 'taken'>;
export type SectionPatch = Patch<Section, 'title' | 'note'>;
export type SheetPatch = Patch<Sheet, 'title' | 'note' | 'status'>;
export type DocumentPatch = Patch<
  WorkbookDocument,
  'title' | 'about' | 'template' | 'versions' | 'units' | 'titleBlock' | 'scenarios' | 'compared' | 'printed'
>;

/** Without `text`, or with a blank one, the entry is taken away. */
export interface EntryChange {
  readonly row: string;
  readonly column: string;
  readonly text?: string | undefined;
}

export type Rename =
  | { readonly kind: 'rename'; readonly what: 'cell' | 'table'; readonly id: string; readonly name: string }
  | {
      readonly kind: 'rename';
      readonly what: 'column';
      readonly table: string;
      readonly id: string;
      readonly name: string;
    };

export interface Batch {
  readonly kind: 'batch';
  /** What the person did, as it stands in the undo list. */
  readonly label: string;
  readonly edits: readonly Edit[];
}

export type TableEdit =
  | { readonly kind: 'set-table'; readonly table: string; readonly patch: TablePatch }
  | { readonly kind: 'set-entries'; readonly table: string; readonly entries: readonly EntryChange[] }
  /** `at`: where the first row will stand, or where each of them will, ascending. */
  | {
      readonly kind: 'insert-rows';
      readonly table: string;
      readonly at: number | readonly number[];
      readonly rows: readonly Row[];
    }
  | { readonly kind: 'remove-rows'; readonly table: string; readonly rows: readonly string[] }
  /** Every row of the table once, in the order they are to stand. Rows keep their ids, entries and notes. */
  | { readonly kind: 'order-rows'; readonly table: string; readonly rows: readonly string[] }
  | {
      readonly kind: 'set-row-note';
      readonly table: string;
      readonly row: string;
      readonly note?: string | undefined;
    }
  | {
      readonly kind: 'add-photo';
      readonly table: string;
      readonly row: string;
      readonly at: number;
      readonly photo: Photo;
    }
  | { readonly kind: 'remove-photo'; readonly table: string; readonly row: string; readonly photo: string }
  | {
      readonly kind: 'set-photo';
      readonly table: string;
      readonly row: string;
      readonly photo: string;
      readonly patch: PhotoPatch;
    }
  | {
      readonly kind: 'set-column';
      readonly table: string;
      readonly column: string;
      readonly patch: ColumnPatch;
    }
  | {
      readonly kind: 'insert-column';
      readonly table: string;
      readonly at: number;
      readonly column: Column;
      readonly entries?: readonly { readonly row: string; readonly text: string }[];
    }
  /** A table that strikes rows through or shows them by this column no longer does. */
  | { readonly kind: 'remove-column'; readonly table: string; readonly column: string }
  /** `at` counts in the table after the column has left its old place. */
  | { readonly kind: 'move-column'; readonly table: string; readonly column: string; readonly at: number };

export type PhotoEdit = Extract<TableEdit, { kind: 'add-photo' | 'remove-photo' | 'set-photo' }>;

export type ItemEdit =
  | { readonly kind: 'set-cell'; readonly cell: string; readonly patch: CellPatch }
  | { readonly kind: 'set-figure'; readonly figure: string; readonly patch: FigurePatch }
  | { readonly kind: 'set-prose'; readonly prose: string; readonly text: string };

export type OutlineEdit =
  | { readonly kind: 'insert-item'; readonly section: string; readonly at: number; readonly item: Item }
  | { readonly kind: 'remove-item'; readonly item: string }
  /** `at` counts in the section after the item has left its old place. */
  | { readonly kind: 'move-item'; readonly item: string; readonly section: string; readonly at: number }
  | {
      readonly kind: 'insert-section';
      readonly sheet: string;
      readonly at: number;
      readonly section: Section;
    }
  | { readonly kind: 'remove-section'; readonly section: string }
  /** `at` counts in the sheet after the section has left its old place. */
  | { readonly kind: 'move-section'; readonly section: string; readonly sheet: string; readonly at: number }
  | { readonly kind: 'set-section'; readonly section: string; readonly patch: SectionPatch }
  | { readonly kind: 'insert-sheet'; readonly at: number; readonly sheet: Sheet }
  | { readonly kind: 'remove-sheet'; readonly sheet: string }
  /** `at` counts after the sheet has left its old place. */
  | { readonly kind: 'move-sheet'; readonly sheet: string; readonly at: number }
  | { readonly kind: 'set-sheet'; readonly sheet: string; readonly patch: SheetPatch }
  | { readonly kind: 'set-document'; readonly patch: DocumentPatch };

export type Edit = TableEdit | ItemEdit | OutlineEdit | Rename | Batch;

/** Why an edit cannot be made; nothing has changed. */
export interface EditProblem {
  readonly problem: string;
  readonly suggestion?: string;
}

export interface Applied {
  readonly document: WorkbookDocument;
  /** Brings the former document back exactly. */
  readonly inverse: Edit;
  readonly touched: Touched;
}

export interface TouchedTable {
  /** Name, columns or formulas changed, or the table came or went: it has to be defined anew. */
  readonly structure: boolean;
  /** Rows came or went. */
  readonly rows: boolean;
  /** Single entries that changed in rows that stay. */
  readonly entries: readonly { readonly row: string; readonly column: string }[];
}

/** What an edit changes, by id. What is named here may no longer exist afterwards. */
export interface Touched {
  /** Cells that came, went, or are to be calculated anew. */
  readonly cells: ReadonlySet<string>;
  readonly tables: ReadonlyMap<string, TouchedTable>;
  /** Items and columns' tables of which only words or the way of showing changed: label, note, places, figure, prose. */
  readonly shown: ReadonlySet<string>;
  /** Sheets, sections, their order or titles, or the document's own fields changed. */
  readonly outline: boolean;
}
