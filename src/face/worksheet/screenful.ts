/** How much of a worksheet a screen shows at once. */
import type { Item, Sheet } from '../../workbook/index.ts';

/** In pixels, rather too little than too much. */
const TITLE = 40;
const LINE = 28;
/** Of a table: its head and bar, and not many rows, because some may be filtered away. */
const ROWS = 4;

/** So many sections of a worksheet fill a screen of that height, in pixels. */
export function screenful({ sections }: Sheet, height: number): number {
  let reached = 0;
  for (const [at, { items }] of sections.entries()) {
    if (reached >= height) return at;
    reached += TITLE + items.reduce((sum, item) => sum + least(item), 0);
  }
  return sections.length;
}

function least(item: Item): number {
  if (item.kind === 'figure') return 0;
  return item.kind === 'table' ? LINE * (2 + Math.min(item.rows.length, ROWS)) : LINE;
}
