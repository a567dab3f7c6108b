/** A choice that comes from a column of a table: what is not in it is a fault where it stands. */
import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import {
  findTable,
  followEntries,
  readWorkbook,
  Workbook,
  writeWorkbook,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';

function document(shown: string, names: readonly string[]): WorkbookDocument {
  const column = (id: string, more: object): object => ({ id, name: id, label: id, type: 'text', ...more });
  const job = {
    app: 'close-in',
    format: 1,
    title: 'Choices',
    units: 'us',
    sheets: [
      {
        id: 'one',
        title: 'One',
        sections: [
          {
            id: 'all',
            title: 'All',
            items: [
              {
                kind: 'cell',
                id: 'shown',
                name: 'shown',
                label: 'Shown',
                type: 'choice',
                text: shown,
                choices: 'tests.test',
              },
              {
                kind: 'table',
                id: 'tests',
                name: 'tests',
                label: 'Tests',
                columns: [column('test', {})],
                rows: names.map((name, k) => ({ $id: `r${k}`, test: name })),
              },
              {
                kind: 'table',
                id: 'readings',
                name: 'readings',
                label: 'Readings',
                columns: [column('of', { type: 'choice', choices: 'tests.test' })],
                rows: [{ $id: 'a', of: 'first' }],
              },
            ],
          },
        ],
      },
    ],
  };
  const opened = readWorkbook(JSON.stringify(job));
  if (!('document' in opened)) throw new Error(JSON.stringify(opened));
  return opened.document;
}

function open(shown: string, names: readonly string[]): Workbook {
  return new Workbook(document(shown, names), new FunctionLibrary([]));
}

const rename = (text: string) =>
  ({ kind: 'set-entries', table: 'tests', entries: [{ row: 'r0', column: 'test', text }] }) as const;

describe('choices from a column', () => {
  test('a text that is in the list is a value', () => {
    expect(open('first', ['first', 'second']).state('shown')).toMatchObject({
      state: 'value',
      value: 'first',
    });
  });

  test('one that is not is a fault that names what may be chosen, the nearest first', () => {
    expect(open('frist', ['first', 'second']).state('shown')).toMatchObject({
      state: 'fault',
      fault: '"frist" is not one of the choices',
      suggestion: 'did you mean first? The choices are first, second',
    });
    expect(open('blower', ['first', 'second']).state('shown')).toMatchObject({
      suggestion: 'choose first, second',
    });
    expect(open('blower', []).state('shown')).toMatchObject({
      suggestion: 'there is nothing to choose from yet: fill the list that it is chosen from',
    });
  });

  test('of a long list a dozen are named', () => {
    const names = Array.from({ length: 30 }, (_, k) => `number ${k}`);
    const state = open('zzz', names).state('shown');
    expect(state.state === 'fault' ? state.suggestion : '').toMatch(/number 11 or another of the 30$/);
  });

  test('the list is followed: renamed, undone, done again', () => {
    const workbook = open('first', ['first', 'second']);
    const changes = workbook.apply(rename('primo'));
    expect('names' in changes && [...changes.names].sort()).toEqual(
      expect.arrayContaining(['readings.of', 'shown', 'tests.test']),
    );
    expect(workbook.state('shown').state).toBe('fault');
    expect(workbook.columnState('readings', 'of', 0).state).toBe('fault');
    expect(
      workbook
        .faults()
        .map((f) => f.where)
        .sort(),
    ).toEqual(['readings.of', 'shown']);
    workbook.undo();
    expect(workbook.state('shown').state).toBe('value');
    expect(workbook.columnState('readings', 'of', 0).state).toBe('value');
    workbook.redo();
    expect(workbook.state('shown').state).toBe('fault');
  });

  test('an edited workbook equals one opened afresh', () => {
    const workbook = open('first', ['first', 'second']);
    workbook.apply(rename('third'));
    workbook.apply({ kind: 'set-cell', cell: 'shown', patch: { text: 'third' } });
    workbook.apply({ kind: 'set-cell', cell: 'shown', patch: { choices: ['third', 'fourth'] } });
    workbook.apply({ kind: 'set-cell', cell: 'shown', patch: { choices: 'tests.test', text: 'fourth' } });
    const fresh = new Workbook(workbook.document, new FunctionLibrary([]));
    expect(workbook.state('shown')).toEqual(fresh.state('shown'));
    expect(workbook.state('shown')).toMatchObject({ state: 'fault' });
    expect(workbook.columnState('readings', 'of', 0)).toEqual(fresh.columnState('readings', 'of', 0));
  });
});

describe('words of a choice typed anew', () => {
  const typed = (workbook: Workbook, row: string, text: string) => {
    const tests = findTable(workbook.document, 'tests');
    if (!tests) throw new Error('no tests');
    const change = { row, column: 'test', text };
    const { edits, places } = followEntries(workbook.document, tests, [change]);
    const entry = { kind: 'set-entries', table: 'tests', entries: [change] } as const;
    workbook.apply({ kind: 'batch', label: 'call', edits: [entry, ...edits] });
    return places;
  };
  const chosen = (workbook: Workbook) => [workbook.state('shown'), workbook.columnState('readings', 'of', 0)];

  test('are followed by every cell and entry that chose them, in scenarios too; one undo takes all back', () => {
    const workbook = open('first', ['first', 'second']);
    const scenario = {
      id: 's',
      name: 's',
      note: '',
      overrides: [
        { cell: 'shown', text: 'first' },
        { table: 'readings', row: 'a', column: 'of', text: 'second' },
      ],
    };
    workbook.apply({ kind: 'set-document', patch: { scenarios: [scenario] } });
    const before = writeWorkbook(workbook.document);
    expect(typed(workbook, 'r0', ' 12 March ')).toBe(2);
    expect(chosen(workbook)).toMatchObject([{ value: '12 March' }, { value: '12 March' }]);
    expect(workbook.faults()).toEqual([]);
    expect(workbook.document.scenarios?.[0]?.overrides.map(({ text }) => text)).toEqual([
      '12 March',
      'second',
    ]);
    workbook.undo();
    expect(writeWorkbook(workbook.document)).toBe(before);
  });

  test('are followed from list to list', () => {
    const workbook = open('first', ['first', 'second']);
    workbook.apply({ kind: 'set-cell', cell: 'shown', patch: { choices: 'readings.of' } });
    expect(typed(workbook, 'r0', 'third')).toBe(2);
    expect(chosen(workbook)).toMatchObject([{ value: 'third' }, { value: 'third' }]);
  });

  test.each([
    ['stand in another row as well', ['first', 'first'], 'third'],
    ['are those of another row', ['first', 'second'], 'second'],
    ['are taken away', ['first', 'second'], ''],
  ])('are not followed when they %s', (_, names, text) => {
    const workbook = open('first', names);
    expect(typed(workbook, 'r0', text)).toBe(0);
    expect(workbook.document.sheets[0]?.sections[0]?.items[0]).toMatchObject({ text: 'first' });
  });
});
