/** On a phone a row is one line: what stands at its beginning and which values follow. */
import type { Column, Row, Table } from '../../workbook/index.ts';

export interface SummaryColumns {
  /** What names the row; without it its number does. */
  readonly lead?: number;
  /** Where what names the row is a mark, L03: what says in words which row it is. */
  readonly words: readonly number[];
  readonly values: readonly number[];
}

const MOST = 3;
/** Rows that are looked at to see how a column tells them apart. */
const LOOKED_AT = 200;
const WORD = /\p{L}{3}/u;
/** So many columns of words are shown together, a further one where it tells so many times more rows apart. */
const TOGETHER = 2;
const WORTH_IT = 1.25;

/**
 * What names a row stands first, or second after a number that counts the rows. Where a cell chooses the rows, those
 * are one thing's own, such as the readings of a test: what is chosen in each, a range, does not tell them apart.
 */
function names(column: Column, chosen: boolean): boolean {
  return column.formula === undefined && (column.type === 'text' || (column.type === 'choice' && !chosen));
}

/**
 * Nobody knows a row by a mark. Of what is typed or chosen before the first number, where it is and not yet how large,
 * the words that differ most from row to row tell which it is; a room and a wall where neither does alone. None where
 * the lead has words of its own.
 */
function tellingWords(columns: readonly Column[], lead: number, rows: readonly Row[]): number[] {
  const looked = rows.slice(-LOOKED_AT);
  const differing = (places: readonly number[]) =>
    new Set(
      looked
        .map(({ entries }) => places.map((at) => entries[columns[at]?.id ?? ''] ?? ''))
        .filter((texts) => texts.every((text) => text !== '') && texts.some((text) => WORD.test(text)))
        .map((texts) => texts.join(', ')),
    ).size;
  if (differing([lead]) > 0) return [];
  const number = columns.findIndex(({ type }, at) => type === 'number' && at > lead);
  const open = columns.flatMap((column, at) =>
    at !== lead && (number < 0 || at < number) && names(column, false) ? [at] : [],
  );
  let found: number[] = [];
  let told = 0;
  while (found.length < TOGETHER) {
    const more = open
      .filter((at) => !found.includes(at))
      .map((at) => ({ at, told: differing([...found, at]) }))
      .reduce((best, each) => (each.told > best.told ? each : best), { at: -1, told: told * WORTH_IT });
    if (more.at < 0) break;
    found = [...found, more.at];
    told = more.told;
  }
  return found.sort((a, b) => a - b);
}

/**
 * The columns that are said to stand there. Where none is: typed numbers first, those in use before those that no row
 * has, and the last calculated one, which says how the row came out.
 */
export function summaryColumns(
  table: Pick<Table, 'reasonColumn' | 'shownBy'>,
  columns: readonly Column[],
  rows: readonly Row[] = [],
): SummaryColumns {
  const at = columns
    .map((column, index) => ({ column, index }))
    .filter(({ column }) => column.name !== table.reasonColumn);
  const lead = at.slice(0, 2).find(({ column }) => names(column, table.shownBy !== undefined))?.index;
  const words = lead === undefined ? [] : tellingWords(columns, lead, rows);
  const free = at.filter(({ index }) => index !== lead && !words.includes(index));
  const said = free.filter(({ column }) => column.brief === true);
  return {
    ...(lead === undefined ? {} : { lead }),
    words,
    values: (said.length > 0 ? said : chosen(free, rows)).map(({ index }) => index).sort((a, b) => a - b),
  };
}

interface Placed {
  readonly column: Column;
  readonly index: number;
}

function chosen(free: readonly Placed[], rows: readonly Row[]): Placed[] {
  const looked = rows.slice(-LOOKED_AT);
  const used = ({ column }: Placed) => looked.some(({ entries }) => (entries[column.id] ?? '') !== '');
  const numbers = free.filter(({ column }) => column.type === 'number');
  const typed = numbers.filter(({ column }) => column.formula === undefined);
  const last = numbers.findLast(({ column }) => column.formula !== undefined);
  const inUse = typed.filter(used);
  const picked = [
    ...(inUse.length > 0 ? inUse : typed).slice(0, last ? MOST - 1 : MOST),
    ...(last ? [last] : []),
  ];
  const rest = free.filter((each) => !picked.includes(each) && !typed.includes(each));
  return [...picked, ...rest.slice(0, Math.max(0, MOST - 1 - picked.length))];
}
