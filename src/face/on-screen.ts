/** What the session knows of parts on the screen: tables, and the field or the formula that is being typed in. */

/** A table on the screen that can be asked to show one of its cells. */
export interface Revealing {
  reveal(column: string | undefined, row: number | undefined): void;
}

/** A table on the screen that can be laid out whole for paper, a piece at a time. */
export interface Printable {
  /** How many rows there are to lay out, and how many are. */
  readonly rows: number;
  readonly done: number;
  /** Lays out the next piece; true when all is there, as it stands now. */
  step(): boolean;
  clear(): void;
}

/** A field that the key pad of a phone types into. */
export interface PadField {
  readonly element: HTMLInputElement | HTMLTextAreaElement;
  readonly label: string;
  /** What the row is known by, which may lie above what can be seen. */
  readonly of?: string;
  /** Units that fit the field, as they are typed. */
  readonly units: readonly string[];
  /** Offers the names that fit at the caret of a formula; `fits` where one can stand there. */
  readonly names?: { readonly fits: boolean; offer(): void };
  /** A choice of the same row that has a key of its own: the next one of it. `isAsked`: none yet, where other rows have one. */
  readonly choice?: { readonly label: string; readonly isAsked: boolean; next(): void };
  next(): void;
}

export interface Picking {
  /** Takes the name of a cell or a column of `table`; false where the text has no place for it now. */
  take(name: string, table?: string): boolean;
}
