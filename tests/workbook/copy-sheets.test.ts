import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  applyEdit,
  copySheets,
  itemsOf,
  type Cell,
  type Edit,
  type Sheet,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';
import { anyDocument } from './arbitrary-document.ts';

const cell = (name: string, text: string): Cell => ({
  kind: 'cell',
  id: name,
  name,
  label: '',
  type: 'number',
  text,
  unit: '',
  note: '',
});
const sheet = (id: string, ...items: Cell[]): Sheet => ({
  id,
  title: id,
  note: '',
  sections: [{ id: `${id}-part`, title: '', note: '', items }],
});
const into: WorkbookDocument = {
  title: 'House',
  units: 'us',
  sheets: [sheet('facts', cell('area', '10'), cell('height', '8'))],
};

test('worksheets copied together read each other’s copies, and what is outside is told', () => {
  const { sheets, renamed, outside } = copySheets(
    [
      sheet('walls', cell('area', '12'), cell('volume', 'area * height')),
      sheet('sums', cell('twice', 'volume * 2 + area + waste')),
    ],
    into,
  );
  expect([...renamed]).toEqual([['area', 'area_2']]);
  expect([...outside].sort()).toEqual(['height', 'waste']);
  const texts = sheets.flatMap(({ sections }) =>
    sections.flatMap(({ items }) => items.map((item) => ('text' in item ? item.text : ''))),
  );
  expect(texts).toEqual(['12', 'area_2 * height', 'volume * 2 + area_2 + waste']);
});

test('any worksheets of any workbook can be put into any other, as one step', () => {
  fc.assert(
    fc.property(anyDocument, anyDocument, (from, to) => {
      const { sheets } = copySheets(from.sheets, to);
      const edits = sheets.map((each, at): Edit => ({
        kind: 'insert-sheet',
        at: to.sheets.length + at,
        sheet: each,
      }));
      const applied = applyEdit(to, { kind: 'batch', label: 'copy', edits });
      if ('problem' in applied) throw new Error(applied.problem);
      expect(applied.document.sheets).toHaveLength(to.sheets.length + from.sheets.length);
      expect([...itemsOf(applied.document)]).toHaveLength(
        [...itemsOf(to)].length + [...itemsOf(from)].length,
      );
    }),
  );
});
