import { describe, expect, it } from 'vitest';
import { bareInCell, bareInColumn, type Cell, type Column, type Table } from '../../src/workbook/index.ts';

const cell = (text: string): Cell => ({
  kind: 'cell',
  id: 'c',
  name: 'c',
  label: '',
  type: 'number',
  text,
  unit: 'in',
  note: '',
});

describe('numbers typed without a unit', () => {
  it.each([
    ['10', '10 ft'],
    ['6.5 ± 0.5', '6.5 ± 0.5 ft'],
    ['-3', '-3 ft'],
    ['1e-12', '1e-12 ft'],
  ])('are told of, and keep what they meant with the unit behind them: %s', (text, kept) => {
    expect(bareInCell(cell(text), 'ft')).toEqual({
      count: 1,
      keep: { kind: 'set-cell', cell: 'c', patch: { text: kept } },
    });
  });

  it.each(['', '12 ft', `12' 6"`, 'height * 2', 'ten'])('are none of these: %s', (text) => {
    expect(bareInCell(cell(text), 'ft')).toBeUndefined();
  });

  it('had no unit to keep where the place had none', () => {
    expect(bareInCell(cell('10'), '')).toBeUndefined();
  });

  it('of a column are counted, typed-over results as well, and written in one step', () => {
    const column: Column = { id: 'w', name: 'w', label: '', type: 'number', unit: 'm', note: '' };
    const rows = ['10', '12 ft', undefined, '8'].map((text, at) => ({
      id: `r${at}`,
      entries: text === undefined ? {} : { w: text },
    }));
    const table: Table = { kind: 'table', id: 't', name: 't', label: '', columns: [column], rows, note: '' };
    expect(bareInColumn(table, column, 'ft')).toEqual({
      count: 2,
      keep: {
        kind: 'set-entries',
        table: 't',
        entries: [
          { row: 'r0', column: 'w', text: '10 ft' },
          { row: 'r3', column: 'w', text: '8 ft' },
        ],
      },
    });
  });
});
