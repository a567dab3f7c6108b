import type { Position } from './grid-surface.ts';

/** A row that is typed with Tab: Enter then goes on under where it began, as in other spreadsheets. */
export class TabRun {
  #began = 0;
  /** Where it has come to; the person who goes elsewhere ends it. */
  #at: Position | undefined;

  /** Where an entry is left to; past the last column the next row begins. */
  next(from: Position, move: { rows: number; columns: number }, columns: number): Position {
    const goesOn = this.#has(from);
    let row = from.row + move.rows;
    let column = move.rows !== 0 && goesOn ? this.#began : from.column + move.columns;
    if (column >= columns) [row, column] = [row + 1, goesOn ? this.#began : 0];
    if (column < 0) [row, column] = [row - 1, columns - 1];
    const to = { row: Math.max(0, row), column };
    const isInRow = move.columns > 0 && to.row === from.row;
    if (isInRow && !goesOn) this.#began = from.column;
    this.#at = isInRow ? to : undefined;
    return to;
  }

  /**
   * Tab where nothing is being typed. In a row that is typed with Tab it passes a cell over; behind the `last` one that
   * can be typed into, the next row begins. Undefined: it leaves the table, as elsewhere.
   */
  tab(from: Position, back: boolean, last: number): Position | undefined {
    const isOn = this.#has(from) && (!back || from.column > this.#began);
    this.#at = undefined;
    if (!isOn) return undefined;
    if (!back && from.column >= last) return { row: from.row + 1, column: this.#began };
    return (this.#at = { row: from.row, column: from.column + (back ? -1 : 1) });
  }

  end(): void {
    this.#at = undefined;
  }

  /** A cell of the row is passed over. */
  pass(from: Position, to: Position): void {
    if (this.#has(from)) this.#at = to;
  }

  #has({ row, column }: Position): boolean {
    return this.#at?.row === row && this.#at.column === column;
  }
}
