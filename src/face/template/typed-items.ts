/** What of a workbook a person typed, and so may be asked of a new job: values, tables and typed columns. */
import { readEntry } from '../../engine/index.ts';
import {
  counted,
  columnTick,
  type Cell,
  type Item,
  type Sheet,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import { ownUnit } from '../display.ts';

export interface Typed {
  /** As `asTemplate` wants it. */
  readonly tick: string;
  readonly label: string;
  /** What it holds now, in short. */
  readonly detail: string;
  readonly marked: boolean;
  /** A column: its table, when that is ticked, asks for it anyway. */
  readonly within?: string;
}

export interface TypedSheet {
  readonly sheet: Sheet;
  readonly typed: readonly Typed[];
}

/** A value or nothing yet: a formula is no input. */
export function isTyped(cell: Cell): boolean {
  const text = cell.text.trim();
  if (text === '') return true;
  return cell.type === 'number'
    ? 'literal' in readEntry(cell.text, ownUnit(cell.unit))
    : !text.startsWith('=');
}

export function typedOf(document: WorkbookDocument): readonly TypedSheet[] {
  return document.sheets.flatMap((sheet) => {
    const typed = sheet.sections.flatMap(({ items }) => items.flatMap(typedIn));
    return typed.length === 0 ? [] : [{ sheet, typed }];
  });
}

function typedIn(item: Item): readonly Typed[] {
  if (item.kind === 'cell') {
    if (!isTyped(item) && item.input !== true) return [];
    const detail = item.text.length > 40 ? `${item.text.slice(0, 39)}…` : item.text;
    return [{ tick: item.id, label: item.label || item.name, detail, marked: item.input === true }];
  }
  if (item.kind !== 'table') return [];
  const columns = item.columns.filter(({ formula, hidden }) => formula === undefined && hidden !== true);
  if (columns.length === 0) return [];
  const label = item.label || item.name;
  const count = item.rows.length;
  const rows = counted(count, 'row');
  return [
    { tick: item.id, label: `${label}, all its rows`, detail: rows, marked: item.input === true },
    ...columns.map((column) => ({
      tick: columnTick(item, column),
      label: `${label}: ${column.label || column.name}`,
      detail: 'in rows that stay',
      marked: column.input === true,
      within: item.id,
    })),
  ];
}
