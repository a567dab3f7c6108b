import { describe, expect, test } from 'vitest';
import type { Cell, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { readersOf, readersOfColumn } from '../../src/workbook/readers.ts';

function cell(name: string, text: string, more: Partial<Cell> = {}): Cell {
  return { kind: 'cell', id: name, name, label: '', type: 'number', text, unit: '', note: '', ...more };
}
const readings: Table = {
  kind: 'table',
  id: 'readings',
  name: 'readings',
  label: 'Readings',
  note: '',
  shownBy: { column: 'flow', cell: 'shown' },
  rows: [],
  columns: [
    { id: 'f', name: 'flow', label: 'Flow', type: 'number', unit: '', note: '' },
    {
      id: 'd',
      name: 'double',
      label: 'Double',
      type: 'number',
      unit: '',
      note: '',
      formula: '2 * flow * factor',
    },
  ],
};
const document: WorkbookDocument = {
  title: '',
  units: 'si',
  sheets: [
    {
      id: 's',
      title: '',
      note: '',
      sections: [
        {
          id: 'a',
          title: '',
          note: '',
          items: [
            cell('flow', '1'),
            cell('factor', '2 + ('),
            cell('shown', 'x', { type: 'text' }),
            cell('twice', 'flow + flow + ('),
            cell('said', 'flow', { type: 'text' }),
            cell('mean_flow', 'mean(readings.flow)'),
            cell('which', '', { type: 'choice', choices: 'readings.double' }),
            readings,
            {
              kind: 'figure',
              id: 'chart',
              figure: 'bars',
              title: 'Flows',
              bindings: { value: 'readings.flow' },
            },
          ],
        },
      ],
    },
  ],
};

const withText: WorkbookDocument = {
  ...document,
  sheets: document.sheets.map((sheet) => ({
    ...sheet,
    note: 'It is {flow}.',
    sections: [
      ...sheet.sections,
      { id: 'b', title: '', note: '', items: [{ kind: 'prose', id: 'p', text: 'As {readings.flow} says' }] },
    ],
  })),
};

test('texts that name what is to go read it too', () => {
  const of = (...ids: string[]) => readersOf(withText, new Set(ids)).map(({ label }) => label);
  expect(of('flow')).toEqual(['twice', 'note to the sheet ']);
  expect(of('readings').at(-1)).toBe('text “As {readings.flow} says”');
  expect(of('readings', 'p').at(-1)).not.toContain('text');
  expect(readersOfColumn(withText, readings, 'f').at(-1)?.label).toBe('text “As {readings.flow} says”');
});

describe('what reads a part that is to go', () => {
  const names = (...ids: string[]) => readersOf(document, new Set(ids)).map(({ name }) => name);

  test('a cell: formulas, faulty ones too; not words in a text, not a column of the same name', () => {
    expect(names('flow')).toEqual(['twice']);
    expect(names('factor')).toEqual(['readings.double']);
    expect(names('shown')).toEqual(['readings']);
  });

  test('a table: formulas, choices and figures', () => {
    expect(names('readings')).toEqual(['mean_flow', 'which', 'chart']);
    expect(readersOf(document, new Set(['readings'])).at(-1)?.label).toBe('the figure “Flows”');
  });

  test('what goes along is no reader that stays', () => {
    expect(names('readings', 'mean_flow', 'chart')).toEqual(['which']);
    expect(names('twice')).toEqual([]);
  });

  test('a column: its own table by its name alone, others by the table’s too', () => {
    const of = (id: string) => readersOfColumn(document, readings, id).map(({ name }) => name);
    expect(of('f')).toEqual(['mean_flow', 'readings.double', 'chart']);
    expect(of('d')).toEqual(['which']);
  });
});
