/** A choice that comes from a column of a table: what is not in it is a fault where it stands. */
import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { readWorkbook, Workbook, type WorkbookDocument } from '../../src/workbook/index.ts';

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
