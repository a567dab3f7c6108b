import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { asText } from '../../src/face/display.ts';
import { footerOf } from '../../src/face/footer.ts';
import type { Session } from '../../src/face/session.svelte.ts';
import type { Column, Table } from '../../src/workbook/document.ts';
import { Workbook } from '../../src/workbook/workbook.ts';

const column: Column = {
  id: 'c',
  name: 'width',
  label: '',
  type: 'number',
  unit: 'ft',
  note: '',
  places: 2,
};

function footer(what: Column['footer'], seen: number, texts = ['3', '4', '5']) {
  const footed: Column = what === undefined ? column : { ...column, footer: what };
  const table: Table = {
    kind: 'table',
    id: 't',
    name: 'rooms',
    label: '',
    note: '',
    columns: [footed],
    rows: texts.map((text, row) => ({ id: `r${row}`, entries: text === '' ? {} : { c: text } })),
  };
  const sections = [{ id: 's', title: '', note: '', items: [table] }];
  const workbook = new Workbook(
    { title: 'Test', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] },
    new FunctionLibrary([]),
  );
  const session = {
    system: 'us',
    footer: workbook.footer.bind(workbook),
    columnState: workbook.columnState.bind(workbook),
  } as Partial<Session> as Session;
  const found = footerOf(session, table, footed, seen);
  return found && `${found.words} ${asText(found.shown)}`;
}

test('what stands under a column has its unit and decimals, and says where it tells of more rows than are seen', () => {
  expect(footer('sum', 3)).toBe('sum 12.00 ft');
  expect(footer('mean', 2)).toBe('mean of all 3 4.00 ft');
  expect(footer(undefined, 3)).toBeUndefined();
});

test('how many there are is a whole number without a unit', () => {
  expect(footer('count', 3)).toBe('count 3');
  expect(footer('count', 1)).toBe('count 3');
});

test('of no rows nothing is told, and blanks alone come to nothing that is known', () => {
  for (const what of ['sum', 'mean', 'count'] as const) expect(footer(what, 0, [])).toBeUndefined();
  expect(footer('sum', 2, ['', ''])).toBe('sum ');
  expect(footer('sum', 3, ['', '0', ''])).toBe('sum 0.00 ft');
  expect(footer('count', 2, ['', ''])).toBe('count 0');
});
