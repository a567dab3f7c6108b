/** A small house: cells, and a table of rooms, that tests of the workbook work with. */
import type { Cell, Column, Item, Table } from '../../src/workbook/document.ts';

export function cell(name: string, text: string, unit = '', more: Partial<Cell> = {}): Cell {
  return { kind: 'cell', id: `id-${name}`, name, label: '', type: 'number', text, unit, note: '', ...more };
}

export function column(name: string, unit = '', more: Partial<Column> = {}): Column {
  return { id: `c-${name}`, name, label: '', type: 'number', unit, note: '', ...more };
}

export const rooms: Table = {
  kind: 'table',
  id: 'id-rooms',
  name: 'rooms',
  label: 'Rooms',
  note: '',
  columns: [
    column('room', '', { type: 'text' }),
    column('length', 'ft'),
    column('width', 'ft', { footer: 'mean' }),
    column('area', 'ft2', { formula: 'length * width', footer: 'sum' }),
  ],
  rows: [
    { id: 'r1', entries: { 'c-room': 'kitchen', 'c-length': '12', 'c-width': '13' } },
    { id: 'r2', entries: { 'c-room': 'pantry', 'c-length': '5', 'c-width': '8' } },
  ],
};

export const items: readonly Item[] = [
  cell('ceiling_height', '9', 'ft', { label: 'Height of the ceiling' }),
  rooms,
  cell('floor_area', 'sum(rooms.area)', 'ft2'),
  cell('volume', 'floor_area * ceiling_height', 'ft3'),
  cell('flow50', '', 'cfm'),
  cell('air_changes', 'flow50 / volume', '1/h'),
];
