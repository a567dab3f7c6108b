/**
 * A table for paper, as plain nodes: nobody types into it and nothing in it changes, so that a row costs a twentieth
 * of one on the screen.
 */
import type { Column } from '../../workbook/index.ts';
import { footerOf } from '../footer.ts';
import { asksForSomething, faultOf, reasonOf } from '../shown-rows.ts';
import { spreadOf } from '../worksheet/column-spread.ts';
import type { Grid } from '../worksheet/grid.svelte.ts';
import {
  aboutRow,
  lookAt,
  TYPED_OVER,
  type PaperBand,
  type PaperColumn,
  type PaperSheet,
} from './paper-sheet.ts';

/** A part of the paper, to which rows are added. */
export interface PaperNodes {
  readonly table: HTMLTableElement;
  readonly band: PaperBand;
  readonly body: HTMLTableSectionElement;
}

export function nodesOf(grid: Grid, band: PaperBand): PaperNodes {
  const table = document.createElement('table');
  const whole = band.columns.reduce((sum, { width }) => sum + width, 0);
  const group = table.appendChild(document.createElement('colgroup'));
  for (const { width } of band.columns)
    group.appendChild(document.createElement('col')).style.width = `${(100 * width) / whole}%`;
  const head = table.createTHead();
  if (band.title !== '') {
    const title = head.insertRow().appendChild(document.createElement('th'));
    title.colSpan = band.columns.length;
    title.className = 'title';
    title.append(band.title);
  }
  const headings = head.insertRow();
  for (const each of band.columns) headings.append(heading(grid, each));
  return { table, band, body: table.createTBody() };
}

function heading(grid: Grid, each: PaperColumn): HTMLElement {
  const place = document.createElement('th');
  place.scope = 'col';
  if (each.kind !== 'column') {
    if (each.kind === 'number') place.append('#');
    return place;
  }
  const { column, at } = each;
  if (column.type !== 'number') place.className = 'words';
  place.append(column.label || column.name);
  for (const text of [
    grid.units[at]?.symbol ?? '',
    spreadOf(column),
    grid.filters.has(column.id) ? 'filtered' : '',
  ])
    if (text !== '') place.append(document.createElement('br'), text);
  return place;
}

/** The cells of one row that are made: where a column stands in a further band, its cell is copied. */
export type RowCells = Map<Column, HTMLElement>;

/** `position` among the rows shown. */
export function addRow(
  grid: Grid,
  { body, band }: PaperNodes,
  sheet: PaperSheet,
  position: number,
  isFirst: boolean,
  cells: RowCells,
) {
  const { session, table } = grid;
  const row = grid.rows[position] ?? 0;
  // Not insertRow, which looks through all rows for the last one.
  const place = body.appendChild(document.createElement('tr'));
  if (reasonOf(session, table, row) !== '') place.className = 'out';
  for (const each of band.columns) {
    if (each.kind === 'column') {
      const made = cells.get(each.column);
      const own = (made?.cloneNode(true) as HTMLElement | undefined) ?? cellIn(grid, each, sheet, row);
      cells.set(each.column, own);
      place.append(own);
    } else if (each.kind === 'number')
      place.appendChild(document.createElement('td')).append(String(position + 1));
    else place.append(about(grid, row));
  }
  if (sheet.words !== 'under' || !isFirst) return;
  const words = about(grid, row);
  if (words.textContent === '') return;
  place.classList.add('said');
  words.colSpan = band.columns.length;
  body.appendChild(document.createElement('tr')).append(words);
}

/** With what is said of the row, where that has its place in the last column. */
function cellIn(
  grid: Grid,
  each: Extract<PaperColumn, { kind: 'column' }>,
  sheet: PaperSheet,
  row: number,
): HTMLElement {
  const own = cell(grid, each, row);
  if (sheet.words !== 'in' || each.column !== grid.columns.at(-1)) return own;
  own.classList.add('reason');
  const words = about(grid, row, 'span');
  // On a line of its own: what is typed there and what is said of the row are not one sentence.
  if (words.textContent !== '')
    own.append(...(own.textContent === '' ? [] : [document.createElement('br')]), words);
  return own;
}

function about(grid: Grid, row: number): HTMLTableCellElement;
function about(grid: Grid, row: number, tag: 'span'): HTMLSpanElement;
function about(grid: Grid, row: number, tag: 'td' | 'span' = 'td'): HTMLElement {
  const { session, table } = grid;
  const words = document.createElement(tag);
  const isFault = faultOf(session, table, row) !== '';
  const tone = isFault ? 'fault' : asksForSomething(session, table, row) ? 'hold' : '';
  words.className = `about words ${tone}`;
  words.append(aboutRow(grid, row));
  return words;
}

function cell(grid: Grid, { column }: Extract<PaperColumn, { kind: 'column' }>, row: number): HTMLElement {
  const look = lookAt(grid, row, column);
  const typed = grid.table.rows[row]?.entries[column.id];
  const place = document.createElement('td');
  if (column.type !== 'number') place.className = 'words';
  const text =
    look.kind === 'faulty'
      ? (typed ?? 'fault')
      : look.kind === 'waiting'
        ? 'waits'
        : look.kind === 'value'
          ? look.value
          : look.kind === 'blank' && look.text !== ''
            ? '–'
            : look.text;
  if (text === '') return place;
  const said = place.appendChild(document.createElement('span'));
  said.append(text);
  if (look.kind === 'faulty') said.className = 'fault';
  else if (look.kind === 'waiting' || look.kind === 'blank') said.className = 'about';
  else said.className = [typed === undefined ? '' : 'typed', look.standing].join(' ').trim();
  const beside = (words: string, name: string) => {
    const small = document.createElement('small');
    small.className = name;
    small.append(words);
    place.append(' ', small);
  };
  if (look.plusMinus !== '') beside(look.plusMinus, 'plus-minus');
  if (look.doubt !== '') beside(look.doubt, 'hold');
  if (column.formula !== undefined && typed !== undefined) beside(TYPED_OVER, 'hold whole');
  return place;
}

export function addFoot(grid: Grid, { table, band }: PaperNodes) {
  if (!band.columns.some((each) => each.kind === 'column' && each.column.footer !== undefined)) return;
  const row = table.createTFoot().insertRow();
  for (const each of band.columns) {
    const place = row.insertCell();
    const footer =
      each.kind === 'column' ? footerOf(grid.session, grid.table, each.column, grid.rows.length) : undefined;
    if (!footer) continue;
    const small = place.appendChild(document.createElement('small'));
    small.append(footer.words);
    const { shown } = footer;
    const value = document.createElement('span');
    value.append(shown.kind === 'value' ? shown.value : '–');
    place.append(' ', value);
    if (shown.kind === 'value' && shown.plusMinus !== undefined)
      place.append(
        ' ',
        Object.assign(document.createElement('small'), { textContent: `± ${shown.plusMinus}` }),
      );
  }
}
