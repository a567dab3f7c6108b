/** One table laid out for paper, piece by piece, so that a long one can be told of and be left off. */
import type { Printable } from '../on-screen.ts';
import { kept } from '../steady.ts';
import type { Grid } from '../worksheet/grid.svelte.ts';
import { addFoot, addRow, nodesOf, type RowCells } from './paper-nodes.ts';
import { paperSheet, type PaperSheet } from './paper-sheet.ts';

/** On paper every row stands, up to here: some two hundred pages. */
export const PRINTED_ROWS = 10_000;
/** Columns of the paper upright, A4 less its margins, and across, Letter less its margins; in CSS pixels. */
const UPRIGHT = 686;
const ACROSS = 946;
/** Rows between two moments at which something else may be done. */
const PIECE = 50;

export class PaperTable implements Printable {
  readonly #grid: Grid;
  readonly #place: HTMLElement;
  #laying: Generator<number> | undefined;
  /** What the layout under way, or the one that is there, was made of. */
  #made: readonly unknown[] = [];
  done = 0;

  constructor(grid: Grid, place: HTMLElement) {
    this.#grid = grid;
    this.#place = place;
  }

  get rows(): number {
    return Math.min(this.#grid.rows.length, PRINTED_ROWS);
  }

  step(): boolean {
    const { session, rows, columns, filters } = this.#grid;
    const { changes, system } = session;
    const made = kept(this.#made, [changes, system, rows, columns, filters]);
    if (made !== this.#made) this.clear();
    this.#made = made;
    this.#laying ??= this.#lay();
    const { value, done } = this.#laying.next() as IteratorResult<number, undefined>;
    this.done = value ?? this.rows;
    return done === true;
  }

  clear(): void {
    this.#laying = undefined;
    this.#made = [];
    this.done = 0;
    this.#place.replaceChildren();
  }

  *#lay(): Generator<number> {
    const upright = paperSheet(this.#grid, UPRIGHT);
    const across = paperSheet(this.#grid, ACROSS);
    // The browser asks which way the paper lies when all is laid out: where that matters, it finds both.
    yield* across.bands.length < upright.bands.length
      ? this.#laySheets({ upright, across })
      : this.#laySheets({ '': upright });
    const { length } = this.#grid.rows;
    if (length <= PRINTED_ROWS) return;
    const left = document.createElement('p');
    left.append(
      `${length} rows, of which the first ${PRINTED_ROWS} are printed. The report prints them all.`,
    );
    this.#place.append(left);
  }

  *#laySheets(sheets: Readonly<Record<string, PaperSheet>>): Generator<number> {
    const parts = Object.entries(sheets).map(([name, sheet]) => {
      const part = document.createElement('div');
      part.className = name;
      const bands = sheet.bands.map((band) => nodesOf(this.#grid, band));
      part.append(...bands.map(({ table }) => table));
      return { part, sheet, bands };
    });
    for (let position = 0; position < this.rows; position++) {
      const cells: RowCells = new Map();
      for (const { sheet, bands } of parts)
        for (const [at, band] of bands.entries()) addRow(this.#grid, band, sheet, position, at === 0, cells);
      if (position % PIECE === PIECE - 1) yield position + 1;
    }
    for (const { part, bands } of parts) {
      for (const band of bands) addFoot(this.#grid, band);
      // All at once: nodes of the page cost more than nodes that nobody sees yet.
      this.#place.append(part);
    }
  }
}
