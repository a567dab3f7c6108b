import { describe, expect, test } from 'vitest';
import type { Cell, Column, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit, type Edit } from '../../src/workbook/edit.ts';
import { findItem, findTable } from '../../src/workbook/locate.ts';
import { pathsIn } from '../../src/workbook/formula-names.ts';

function cell(name: string, text: string, more: Partial<Cell> = {}): Cell {
  return {
    kind: 'cell',
    id: `id-${name}`,
    name,
    label: name,
    type: 'number',
    text,
    unit: '',
    note: '',
    ...more,
  };
}
function column(name: string, more: Partial<Column> = {}): Column {
  return { id: `c-${name}`, name, label: '', type: 'number', unit: '', note: '', ...more };
}
const readings: Table = {
  kind: 'table',
  id: 'id-readings',
  name: 'readings',
  label: 'flow and flow',
  note: 'flow',
  reasonColumn: 'reason',
  shownBy: { column: 'test', cell: 'shown_test' },
  rows: [{ id: 'r1', entries: { 'c-test': 'flow' }, note: 'flow' }],
  columns: [
    column('test', { type: 'choice', choices: 'tests.test' }),
    column('flow'),
    column('reason', { type: 'text' }),
    column('excess', { formula: 'flow - mean(readings.flow) + flow_limit' }),
  ],
};
const start: WorkbookDocument = {
  title: 'flow',
  units: 'us',
  titleBlock: { result: 'q50', target: 'flow', margin: 'margin', says: 'targets {flow}' },
  sheets: [
    {
      id: 'sheet',
      title: '',
      note: '',
      status: '{flow} and {readings.flow}',
      sections: [
        {
          id: 'section',
          title: '',
          note: '',
          items: [
            cell('flow', '24,610 ft3'),
            cell('fit', 'power_fit(readings.flow, flow)'),
            cell('q50', 'fit.flow * flow / (1 flow) + flow(3) + flow.flow'),
            cell('flow_limit', '5 m3/h'),
            cell('quoted', 'lookup(readings.flow, readings.test, "flow readings.flow") + flow'),
            cell('board', `12' 4 1/2" + flow + 3/8" * flow + "flow"`),
            cell('words', 'flow is high', { type: 'text' }),
            cell('told', '=flow > 3 ? "flow" : "no"', { type: 'text' }),
            cell('shown_test', 'flow', { type: 'choice', choices: 'readings.flow' }),
            readings,
            {
              kind: 'figure',
              id: 'figure',
              figure: 'fit',
              title: 'flow',
              bindings: { y: 'readings.flow', line: 'fit.flow', at: 'flow' },
            },
          ],
        },
      ],
    },
  ],
};

function after(edit: Edit, document = start): WorkbookDocument {
  const applied = applyEdit(document, edit);
  if ('problem' in applied) throw new Error(applied.problem);
  const back = applyEdit(applied.document, applied.inverse);
  if ('problem' in back) throw new Error(back.problem);
  expect(back.document).toStrictEqual(document);
  return applied.document;
}
function text(document: WorkbookDocument, name: string): string {
  const item = findItem(document, `id-${name}`);
  return item?.kind === 'cell' ? item.text : '';
}

describe('renaming a cell', () => {
  const renamed = after({ kind: 'rename', what: 'cell', id: 'id-flow', name: 'air_flow' });

  test.each([
    ['flow', '24,610 ft3'],
    ['fit', 'power_fit(readings.flow, air_flow)'],
    ['q50', 'fit.flow * air_flow / (1 flow) + flow(3) + air_flow.flow'],
    ['quoted', 'lookup(readings.flow, readings.test, "flow readings.flow") + air_flow'],
    ['board', `12' 4 1/2" + air_flow + 3/8" * air_flow + "flow"`],
    ['words', 'flow is high'],
    ['told', '=air_flow > 3 ? "flow" : "no"'],
    ['shown_test', 'flow'],
  ])('rewrites what reads it in %s, and nothing else', (name, expected) => {
    expect(text(renamed, name)).toBe(expected);
  });

  test('rewrites figures and the title block, and leaves a column of the same name alone', () => {
    expect(findItem(renamed, 'figure')).toMatchObject({
      title: 'flow',
      bindings: { y: 'readings.flow', line: 'fit.flow', at: 'air_flow' },
    });
    expect(renamed.titleBlock).toEqual({
      result: 'q50',
      target: 'air_flow',
      margin: 'margin',
      says: 'targets {air_flow}',
    });
    expect(renamed.sheets[0]?.status).toBe('{air_flow} and {readings.flow}');
    expect(renamed.title).toBe('flow');
    expect(findTable(renamed, 'id-readings')).toBe(readings);
  });

  test('rewrites the cell that chooses the rows of a table', () => {
    const shown = after({ kind: 'rename', what: 'cell', id: 'id-shown_test', name: 'which' });
    expect(findTable(shown, 'id-readings')?.shownBy).toEqual({ column: 'test', cell: 'which' });
  });

  test('is refused where a column would be read instead', () => {
    expect(applyEdit(start, { kind: 'rename', what: 'cell', id: 'id-flow_limit', name: 'reason' })).toEqual({
      problem:
        'The formula of readings.excess reads flow_limit; it would read the column readings.reason instead.',
      suggestion: 'Type reason_2.',
    });
  });

  test('is refused when the name is taken or none', () => {
    expect(applyEdit(start, { kind: 'rename', what: 'cell', id: 'id-flow', name: 'readings' })).toEqual({
      problem: 'The name “readings” is already taken.',
      suggestion: 'Type readings_2.',
    });
    expect(
      applyEdit(start, { kind: 'rename', what: 'cell', id: 'id-flow', name: 'air flow' }),
    ).toHaveProperty('problem');
    expect(applyEdit(start, { kind: 'rename', what: 'table', id: 'id-flow', name: 'air' })).toHaveProperty(
      'problem',
    );
  });

  test('is undone exactly even where the new name already stood in a faulty formula', () => {
    const section = start.sheets[0]?.sections[0];
    if (!section) throw new Error('no section');
    const items = [...section.items, cell('faulty', 'air_flow * flow')];
    const dangling = {
      ...start,
      sheets: [{ ...start.sheets[0], sections: [{ ...section, items }] }],
    } as WorkbookDocument;
    const document = after({ kind: 'rename', what: 'cell', id: 'id-flow', name: 'air_flow' }, dangling);
    expect(text(document, 'faulty')).toBe('air_flow * air_flow');
  });
});

describe('renaming a table', () => {
  const renamed = after({ kind: 'rename', what: 'table', id: 'id-readings', name: 'points' });

  test('rewrites formulas, its own ones too, choices and figures', () => {
    expect(text(renamed, 'fit')).toBe('power_fit(points.flow, flow)');
    expect(text(renamed, 'quoted')).toBe('lookup(points.flow, points.test, "flow readings.flow") + flow');
    expect(findTable(renamed, 'id-readings')?.columns[3]?.formula).toBe(
      'flow - mean(points.flow) + flow_limit',
    );
    expect(findItem(renamed, 'id-shown_test')).toMatchObject({ choices: 'points.flow' });
    expect(findItem(renamed, 'figure')).toMatchObject({ bindings: { y: 'points.flow', line: 'fit.flow' } });
  });
});

describe('renaming a column', () => {
  const renamed = after({ kind: 'rename', what: 'column', table: 'id-readings', id: 'c-flow', name: 'rate' });

  test('rewrites its bare name in its own table and table.column everywhere', () => {
    expect(findTable(renamed, 'id-readings')?.columns[3]?.formula).toBe(
      'rate - mean(readings.rate) + flow_limit',
    );
    expect(text(renamed, 'fit')).toBe('power_fit(readings.rate, flow)');
    expect(text(renamed, 'q50')).toBe(text(start, 'q50'));
    expect(findItem(renamed, 'id-shown_test')).toMatchObject({ choices: 'readings.rate' });
    expect(findItem(renamed, 'figure')).toMatchObject({
      bindings: { y: 'readings.rate', line: 'fit.flow', at: 'flow' },
    });
  });

  test('keeps the rows, which go by id', () => {
    expect(findTable(renamed, 'id-readings')?.rows).toBe(readings.rows);
  });

  test('rewrites the column of reasons and the one that chooses rows', () => {
    const reason = after({
      kind: 'rename',
      what: 'column',
      table: 'id-readings',
      id: 'c-reason',
      name: 'why',
    });
    expect(findTable(reason, 'id-readings')?.reasonColumn).toBe('why');
    const shown = after({ kind: 'rename', what: 'column', table: 'id-readings', id: 'c-test', name: 'run' });
    expect(findTable(shown, 'id-readings')?.shownBy).toEqual({ column: 'run', cell: 'shown_test' });
  });

  test('is refused where it would be read instead of a cell', () => {
    expect(
      applyEdit(start, {
        kind: 'rename',
        what: 'column',
        table: 'id-readings',
        id: 'c-test',
        name: 'flow_limit',
      }),
    ).toEqual({
      problem:
        'The formula of readings.excess reads the cell flow_limit; it would read the column readings.flow_limit instead.',
      suggestion: 'Type flow_limit_2.',
    });
  });

  test('is refused when another column of the table has the name', () => {
    expect(
      applyEdit(start, { kind: 'rename', what: 'column', table: 'id-readings', id: 'c-test', name: 'flow' }),
    ).toHaveProperty('problem', 'The name “flow” is already taken.');
  });
});

describe('names in a formula', () => {
  test.each([
    ['a + b.c * d.e.f', ['a', 'b.c', 'd.e.f']],
    ['20.0 ± 0.5 Pa + x', ['x']],
    ['1e-3 m * x', ['x']],
    ['fit(a).slope', ['a']],
    ['not a and b or c', ['a', 'b', 'c']],
    ['true ? a : false', ['a']],
    ['x > 2 ? y : z', ['x', 'y', 'z']],
    ['"unclosed a', []],
    ['a "b', ['a']],
    [`5' 3½" + a`, ['a']],
    ['q50*r2', ['q50', 'r2']],
    ['Länge + ρ_air', ['Länge', 'ρ_air']],
    ['a.', ['a']],
    ['', []],
  ])('%s', (formula, expected) => {
    expect([...pathsIn(formula)].map(({ parts }) => parts.map((part) => part.text).join('.'))).toEqual(
      expected,
    );
  });
});
