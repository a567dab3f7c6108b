/** What the commands of a grid need of it: where it stands, what is selected, and how to go elsewhere. */
import type { Column, Row, Table } from '../../workbook/index.ts';
import type { Units } from '../entry.ts';
import type { Session } from '../session.svelte.ts';

export interface Position {
  /** Among the rows shown; the one after the last adds a row, −1 is the headings. */
  readonly row: number;
  readonly column: number;
}

export interface Range {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

/** A panel that stands open beside a cell: what can be done to its row, or how its column is shown. */
export type OpenPanel = 'rows' | 'column' | 'note';

export interface GridSurface {
  readonly session: Session;
  readonly table: Table;
  readonly columns: Column[];
  /** Indices into the table's rows. */
  readonly rows: number[];
  readonly range: Range;
  active: Position;
  anchor: Position | undefined;
  panel: OpenPanel | undefined;
  /** On a phone: position of the row that lies open as a card. */
  opened: number | undefined;
  row(position: Position): Row | undefined;
  isCalculated(position: Position): boolean;
  unitsOf(column: number): Units;
  belonging(): Record<string, string>;
  keep(ids: readonly string[]): void;
  append(entries: Readonly<Record<string, string>>): void;
  store(text: string, at: Position): void;
  edit(seed?: string): void;
  moveTo(to: Position, extend?: boolean): Promise<void>;
  focus(): Promise<void>;
}
