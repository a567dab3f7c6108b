/** What was copied elsewhere, on its way into a table: one cell goes in at once, a block is shown first. */
import { pastedBlocks, type EntryChange, type Pasted, type Row } from '../../workbook/index.ts';
import { insertRows, setEntries } from '../edits.ts';
import { inShownUnit } from '../entry.ts';
import { signs } from '../locale.ts';
import type { GridSurface } from './grid-surface.ts';
import { typeBlock } from './type-entry.ts';
import { choicesElsewhere } from './word-choices.ts';

/** A pasted block, placed but not applied yet. */
export interface PastePlan extends Pasted {
  readonly block: readonly (readonly string[])[];
  readonly decimalComma: boolean;
}

export class Pasting {
  readonly #grid: GridSurface;
  plan = $state.raw<PastePlan>();

  constructor(grid: GridSurface) {
    this.#grid = grid;
  }

  async take(text: string): Promise<void> {
    // A value alone goes in at once: what is typed next finds it there.
    if (!/[\t\n\r"]/u.test(text) && this.#isOnePlace()) {
      this.#put(text.trim());
      return;
    }
    const { readPaste } = await pastedBlocks();
    const block = readPaste(text);
    const [first = []] = block;
    if (block.length === 1 && first.length === 1 && this.#isOnePlace()) this.#put((first[0] ?? '').trim());
    else await this.read(this.#repeated(block), signs.decimal === ',');
  }

  #isOnePlace(): boolean {
    const { top, bottom, left, right } = this.#grid.range;
    return top === bottom && left === right;
  }

  #put(text: string): void {
    const grid = this.#grid;
    if (grid.isCalculated(grid.active)) grid.edit(text);
    else grid.store(text, grid.active);
  }

  /** Places the block; again where the person says how its commas are meant. */
  async read(block: readonly (readonly string[])[], decimalComma: boolean): Promise<void> {
    const { pasteInto } = await pastedBlocks();
    const grid = this.#grid;
    const { table, rows, columns, range } = grid;
    const placed = pasteInto(
      {
        table,
        rows: rows.flatMap((index) => table.rows[index] ?? []),
        columns,
        row: range.top,
        column: range.left,
        preset: grid.belonging(),
        decimalComma,
        pointsMayGroup: signs.decimal === ',',
        allowed: choicesElsewhere(grid.session),
      },
      block,
    );
    const plan = placed.headings ? placed : this.#asShown(placed);
    this.plan = { ...plan, block, decimalComma };
  }

  cancel(): void {
    this.plan = undefined;
    void this.#grid.focus();
  }

  /** Applies the block that was shown, as one step. */
  apply(how: { readonly typeOver: boolean }): void {
    const { plan } = this;
    const grid = this.#grid;
    this.plan = undefined;
    if (!plan) return;
    const entries: EntryChange[] = how.typeOver ? [...plan.entries, ...plan.overrides] : [...plan.entries];
    const edits = plan.added.length === 0 ? [] : [insertRows(grid.table, grid.table.rows.length, plan.added)];
    if (entries.length > 0) edits.push(setEntries(grid.table, entries));
    grid.keep([...entries.map(({ row }) => row), ...plan.added.map(({ id }) => id)]);
    if (edits.length > 0) {
      typeBlock(grid.session, grid.table, 'paste', edits, entries, plan.added);
    }
    void grid.focus();
  }

  /** A block that fits the selection a whole number of times fills it, as spreadsheets do. */
  #repeated(block: readonly (readonly string[])[]): readonly (readonly string[])[] {
    const { top, bottom, left, right } = this.#grid.range;
    const height = bottom - top + 1;
    const width = right - left + 1;
    const wide = block[0]?.length ?? 0;
    if (!this.#grid.anchor || wide === 0 || block.some((row) => row.length !== wide)) return block;
    if (height % block.length !== 0 || width % wide !== 0) return block;
    return Array.from({ length: height }, (_, row) =>
      Array.from({ length: width }, (_each, column) => block[row % block.length]?.[column % wide] ?? ''),
    );
  }

  /** Without headings a bare number means the unit that stands above its column on the screen. */
  #asShown(placed: Pasted): Pasted {
    const grid = this.#grid;
    const units = new Map(
      grid.columns.flatMap(({ id, type }, column) =>
        type === 'number' ? [[id, grid.unitsOf(column)] as const] : [],
      ),
    );
    const text = (column: string, typed: string) => {
      const both = units.get(column);
      return both ? inShownUnit(typed, both) : typed;
    };
    const asShown = (entry: EntryChange) =>
      entry.text === undefined ? entry : { ...entry, text: text(entry.column, entry.text) };
    const added = placed.added.map((row): Row => ({
      ...row,
      entries: Object.fromEntries(
        Object.entries(row.entries).map(([column, typed]) => [column, text(column, typed)]),
      ),
    }));
    return {
      ...placed,
      entries: placed.entries.map(asShown),
      overrides: placed.overrides.map(asShown),
      added,
    };
  }
}
