/** A pasted block of cells, placed on a table but not applied yet. */
import type { Column } from '../../workbook/index.ts';

/** Rows of texts from a spreadsheet's clipboard: tabs between cells; quotes around texts that hold tabs, quotes or line ends. */
export function readBlock(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  const endCell = () => {
    row.push(cell.trim());
    cell = '';
  };
  for (let at = 0; at < text.length; at++) {
    const char = text[at] ?? '';
    if (quoted) {
      if (char !== '"') cell += char;
      else if (text[at + 1] === '"') {
        cell += '"';
        at++;
      } else quoted = false;
    } else if (char === '"' && cell === '' && closes(text, at)) quoted = true;
    else if (char === '\t') endCell();
    else if (char === '\n' || char === '\r') {
      if (char === '\r' && text[at + 1] === '\n') at++;
      endCell();
      rows.push(row);
      row = [];
    } else cell += char;
  }
  // Exactly one line end at the end belongs to the last row.
  if (cell !== '' || row.length > 0) {
    endCell();
    rows.push(row);
  }
  return rows;
}

/** A quote opens a text only when another one closes it before a tab, a line end or the end: 12" is a length. */
function closes(text: string, at: number): boolean {
  const rest = text.slice(at + 1);
  return /^(?:[^"]|"")*"(?=[\t\r\n]|$)/.test(rest);
}

/** Writes texts so that a spreadsheet reads them back as the same cells. */
export function writeBlock(rows: readonly (readonly string[])[]): string {
  const guard = (text: string) => (/[\t\r\n]|^"/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return rows.map((row) => row.map(guard).join('\t')).join('\n');
}

/** True when the first row names columns of the table instead of holding values. */
export function hasHeader(block: readonly (readonly string[])[], columns: readonly Column[]): boolean {
  const plain = (text: string) =>
    text
      .replace(/\(.*\)/, '')
      .trim()
      .toLowerCase()
      .replace(/[\s_]+/g, ' ');
  const known = new Set(columns.flatMap((column) => [plain(column.name), plain(column.label)]));
  const [first = []] = block;
  const named = first.filter((text) => known.has(plain(text))).length;
  return block.length > 1 && named > 0 && named * 2 >= first.length;
}

export interface PlacedCell {
  /** Position among the rows shown; beyond the last means a new row. */
  readonly position: number;
  readonly column: Column;
  readonly text: string;
}

export interface PastePlan {
  readonly cells: readonly PlacedCell[];
  readonly newRows: number;
  /** Values that would fall on calculated columns: left out. */
  readonly onCalculated: number;
  /** Values right of the last column: left out. */
  readonly beyond: number;
}

export interface PasteTarget {
  readonly columns: readonly Column[];
  /** Rows shown now. */
  readonly rows: number;
  readonly position: number;
  readonly column: number;
}

export function planPaste(block: readonly (readonly string[])[], target: PasteTarget): PastePlan {
  const cells: PlacedCell[] = [];
  let onCalculated = 0;
  let beyond = 0;
  block.forEach((texts, down) => {
    texts.forEach((text, across) => {
      const column = target.columns[target.column + across];
      if (!column) beyond += text === '' ? 0 : 1;
      else if (column.formula !== undefined) onCalculated += text === '' ? 0 : 1;
      else cells.push({ position: target.position + down, column, text });
    });
  });
  const newRows = Math.max(0, target.position + block.length - target.rows);
  return { cells, newRows, onCalculated, beyond };
}
