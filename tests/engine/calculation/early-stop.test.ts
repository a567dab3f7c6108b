/** Rule R2: a result that did not change wakes nobody; what is said to have changed is what did. */
import { describe, expect, test } from 'vitest';
import { type CellDefinition, type Engine } from '../../../src/engine/index.ts';
import { watched } from './watched.ts';

function cells(
  engine: Engine,
  texts: Readonly<Record<string, string>>,
  type: CellDefinition['type'] = 'number',
): void {
  for (const [name, text] of Object.entries(texts)) engine.defineCell({ name, type, text });
}

/** Names that changed when one cell was given a new text. */
function edit(engine: Engine, name: string, text: string): string[] {
  engine.defineCell({ name, type: 'number', text });
  return [...engine.recalculate().names].sort();
}

describe('R2: cells', () => {
  test.each([
    ['a step', 'floor(a)', '1.2', '1.7'],
    ['a comparison', 'a > 1 ? 5 : 6', '1.2', '1.7'],
    ['a limit', 'min(a, 1)', '1.2', '1.7'],
    ['a product with zero', 'a * 0', '1.2', '1.7'],
    ['a text', 'a > 1', '1.2', '1.7'],
    ['a blank that stays blank', 'a > 1 ? none : 0', '1.2', '1.7'],
    ['a fault told in the same words', 'a > 1 ? 1 / zero : 0', '1.2', '1.7'],
    ['a filter that catches the same', 'is_blank(a) ? 1 : 2', '1.2', '1.7'],
    ['a field of a record', 'halves(a).sign', '1.2', '1.7'],
  ])('%s: %s', (_, formula, before, after) => {
    const { engine, calls } = watched();
    cells(engine, { a: before, none: '', zero: '0', b: `= ${formula}`, c: '= watch(a * 0 + 1)' });
    cells(engine, { d: '= otherwise(b, 1) == 1 ? watch(2) : watch(3)', e: '= d' });
    engine.recalculate();
    calls();
    expect(edit(engine, 'a', after)).toEqual(['a']);
    // c alone reads a itself.
    expect(calls()).toBe(1);
  });

  test('what reads a text that stays the same sleeps, and wakes when it becomes another', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '1', b: '= is_big == "yes" ? watch(1) : watch(2)' });
    engine.defineCell({ name: 'is_big', type: 'text', text: '= a > 5 ? "yes" : "no"' });
    engine.recalculate();
    calls();
    expect(edit(engine, 'a', '2')).toEqual(['a']);
    expect(calls()).toBe(0);
    expect(edit(engine, 'a', '6')).toEqual(['a', 'b', 'is_big']);
    expect(calls()).toBe(1);
  });

  test('the same value typed in other words changes nothing', () => {
    const { engine, calls } = watched();
    engine.defineCell({ name: 'a', type: 'number', text: '12 in', unit: 'in' });
    cells(engine, { b: '= watch(a)' });
    engine.recalculate();
    calls();
    engine.defineCell({ name: 'a', type: 'number', text: '12', unit: 'in' });
    engine.recalculate();
    expect(engine.read('b')).toMatchObject({ value: expect.closeTo(0.3048, 12) as unknown });
  });

  test('0 and −0 are told apart, since 1/x would not be', () => {
    const { engine } = watched();
    cells(engine, { a: '1', b: '= a * 0', c: '= b' });
    engine.recalculate();
    expect(edit(engine, 'a', '-1')).toEqual(['a', 'b', 'c']);
  });

  test('a diamond is worked out once, and its end not at all when both sides cancel', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '1', l: '= a + 1', r: '= a - 1', both: '= watch(l - r)', end: '= watch(both)' });
    engine.recalculate();
    calls();
    expect(edit(engine, 'a', '3')).toEqual(['a', 'l', 'r']);
    expect(calls()).toBe(1);
  });

  test('a fault in other words wakes its readers, who wait for the same cell and wake no more', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '1', zero: '0', b: '= a > 1 ? sqrt(-a) : 1 / zero', c: '= b + 1', d: '= watch(c)' });
    engine.recalculate();
    calls();
    const names = edit(engine, 'a', '2');
    expect(names).toContain('b');
    expect(names).not.toContain('d');
    expect(engine.read('b')).toMatchObject({
      state: 'fault',
      fault: expect.stringContaining('square root') as unknown,
    });
    expect(calls()).toBe(0);
  });

  test('a record wakes its readers when any field changed, and those of others sleep after them', () => {
    const { engine, calls } = watched();
    cells(engine, {
      a: '1.5',
      r: '= halves(a)',
      s: '= r.sign',
      w: '= r.whole',
      t: '= watch(s)',
      u: '= watch(w)',
    });
    engine.recalculate();
    calls();
    expect(edit(engine, 'a', '1.6')).toEqual(['a']);
    expect(edit(engine, 'a', '2.5')).toEqual(['a', 'r', 'u', 'w']);
    expect(calls()).toBe(1);
  });

  test('several edits are one walk', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '1', b: '2', c: '= watch(a + b)' });
    engine.recalculate();
    calls();
    engine.defineCell({ name: 'a', type: 'number', text: '5' });
    engine.defineCell({ name: 'b', type: 'number', text: '7' });
    engine.defineCell({ name: 'a', type: 'number', text: '6' });
    expect([...engine.recalculate().names].sort()).toEqual(['a', 'b', 'c']);
    expect(calls()).toBe(1);
    expect([...engine.recalculate().names]).toEqual([]);
  });

  test('a formula written otherwise, with the same result, wakes nobody', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '3', b: '= a + a', c: '= watch(b)', d: '= watch(c)' });
    engine.recalculate();
    calls();
    const names = edit(engine, 'b', '= 2 * a');
    expect(names).not.toContain('c');
    expect(calls()).toBe(0);
  });
});

describe('R2: tables', () => {
  const table = (rows: number): Parameters<Engine['defineTable']>[0] => ({
    name: 't',
    rows,
    columns: [
      { name: 'x', type: 'number', entries: Array.from({ length: rows }, (_, k) => String(k + 0.5)) },
      { name: 'step', type: 'number', formula: 'floor(x)', entries: [] },
      { name: 'seen', type: 'number', formula: 'watch(step)', entries: [] },
    ],
  });

  test('one row wakes its own row only, and no further than where nothing changes', () => {
    const { engine, calls } = watched();
    engine.defineTable(table(10));
    cells(engine, { top: '= max(t.step)', reader: '= watch(top)', total: '= sum(t.x)' });
    engine.recalculate();
    calls();
    engine.setEntry('t', 'x', 4, '4.75');
    let changes = engine.recalculate();
    expect([...changes.names].sort()).toEqual(['t.x', 'total']);
    expect(changes.rows.get('t.x')).toEqual([4, 5]);
    expect(changes.rows.has('t.step')).toBe(false);
    expect(calls()).toBe(0);
    engine.setEntry('t', 'x', 4, '5.75');
    changes = engine.recalculate();
    expect([...changes.names].sort()).toEqual(['t.seen', 't.step', 't.x', 'total']);
    expect(changes.rows.get('t.seen')).toEqual([4, 5]);
    // The row, not the cell that reads the greatest.
    expect(calls()).toBe(1);
    engine.setEntry('t', 'x', 4, '50');
    expect([...engine.recalculate().names].sort()).toEqual([
      'reader',
      't.seen',
      't.step',
      't.x',
      'top',
      'total',
    ]);
    expect(calls()).toBe(2);
  });

  test('a table that is defined again with one more column wakes nothing else', () => {
    const { engine, calls } = watched();
    const before = table(10);
    engine.defineTable(before);
    engine.recalculate();
    calls();
    engine.defineTable(before);
    expect([...engine.recalculate().names]).toEqual([]);
    engine.defineTable({
      ...before,
      columns: [...before.columns, { name: 'y', type: 'number', entries: ['1'] }],
    });
    expect([...engine.recalculate().names]).toEqual(['t.y']);
    expect(calls()).toBe(0);
  });

  test('a typed row hides what its formula gives', () => {
    const { engine, calls } = watched();
    engine.defineTable(table(10));
    engine.setEntry('t', 'step', 3, '99');
    engine.recalculate();
    calls();
    engine.setEntry('t', 'x', 3, '1000');
    expect([...engine.recalculate().names]).toEqual(['t.x']);
    expect(calls()).toBe(0);
    expect(engine.readRow('t', 'seen', 3)).toMatchObject({ value: 99 });
  });

  test('what reads rows under a key sleeps while those of another key change', () => {
    const { engine, calls } = watched();
    const groups = ['p', 'q', 'r'];
    const column = (name: string, formula: string) => ({
      name,
      type: 'number' as const,
      formula,
      entries: [],
    });
    engine.defineTable({
      name: 't',
      rows: 6,
      columns: [
        { name: 'group', type: 'text', entries: ['p', 'p', 'q', 'q', 'q', 'r'] },
        { name: 'x', type: 'number', entries: ['1', '2', '3', '4', '5', 'no number'] },
        { name: 'fits', type: 'text', formula: 'x < 9', entries: [] },
        column('mean', 'watch(lookup(groups.mean, groups.group, group))'),
      ],
    });
    engine.defineTable({
      name: 'groups',
      rows: 3,
      columns: [
        { name: 'group', type: 'text', entries: groups },
        column('mean', 'watch(mean(where(t.x, t.fits and t.group == group)))'),
      ],
    });
    engine.defineCell({ name: 'chosen', type: 'text', text: 'p' });
    cells(engine, { sum: '= watch(sum(where(t.x * chosen_by, t.group == chosen)))', chosen_by: '1' });
    cells(engine, { looked: '= watch(lookup(groups.mean, groups.group, chosen))' });
    engine.recalculate();
    calls();
    engine.setEntry('t', 'x', 3, '7');
    const changes = engine.recalculate();
    expect(changes.rows.get('groups.mean')).toEqual([1, 2]);
    expect(changes.rows.get('t.mean')).toEqual([2, 5]);
    expect([...changes.names]).not.toContain('looked');
    // The mean of its group, which three rows of it look up.
    expect(calls()).toBe(4);
    engine.defineCell({ name: 'chosen', type: 'text', text: 'q' });
    engine.recalculate();
    expect(engine.read('looked')).toMatchObject({ value: 5 });
    calls();
    engine.setEntry('t', 'group', 0, 'q');
    engine.recalculate();
    expect(engine.read('looked')).toMatchObject({ value: 4 });
    expect(engine.readRow('groups', 'mean', 0)).toMatchObject({ value: 2 });
  });

  test('a cell that all rows read wakes all rows, and a sum that stays the same nobody', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '1' });
    engine.defineTable({
      name: 't',
      rows: 3,
      columns: [
        { name: 'x', type: 'number', entries: ['-1', '0', '1'] },
        { name: 'y', type: 'number', formula: 'x * a', entries: [] },
      ],
    });
    cells(engine, { total: '= sum(t.y)', reader: '= watch(total)' });
    engine.recalculate();
    calls();
    engine.defineCell({ name: 'a', type: 'number', text: '2' });
    const changes = engine.recalculate();
    expect([...changes.names].sort()).toEqual(['a', 't.y']);
    expect(changes.rows.get('t.y')).toEqual([0, 3]);
    expect(calls()).toBe(0);
  });
});

describe('R2: uncertainty', () => {
  test('a ± that changed is told of every cell that rests on it, though no value did', () => {
    const { engine, calls } = watched();
    cells(engine, { a: '3 ± 0.1', other: '4 ± 0.1', b: '= a * 2', c: '= watch(b)', far: '= other * 2' });
    engine.recalculate();
    for (const name of ['a', 'b', 'c', 'far']) engine.read(name);
    calls();
    expect(edit(engine, 'a', '3 ± 0.2')).toEqual(['a', 'b', 'c']);
    expect(engine.read('c')).toMatchObject({ value: 6, plusMinus: expect.closeTo(0.4, 9) as unknown });
  });

  test('what hangs on a comparison is told anew, though its value is the same', () => {
    const { engine } = watched();
    cells(engine, { a: '3 ± 0.1', b: '= a * 2', c: '= b < 6.05 ? 1 : 0', d: '= b < 60 ? 1 : 0' });
    engine.recalculate();
    expect(['c', 'd'].map((name) => engine.read(name))).toMatchObject([{ doubt: 'undecided' }, {}]);
    expect(edit(engine, 'a', '2 ± 0.1')).toEqual(['a', 'b', 'c', 'd']);
    expect(engine.read('c')).not.toHaveProperty('doubt');
    expect(edit(engine, 'a', '3 ± 0.1')).toContain('c');
    expect(engine.read('c')).toMatchObject({ doubt: 'undecided' });
    expect(edit(engine, 'a', '3.01')).toContain('c');
    expect(engine.read('c')).not.toHaveProperty('doubt');
  });

  test('a ± that comes where there was none is told, though the value is the same', () => {
    const { engine } = watched();
    cells(engine, { a: '20 ± 1', b: '= min(a, 9)' });
    engine.recalculate();
    const { plusMinus } = engine.read('b') as { plusMinus?: number };
    expect(plusMinus ?? 0).toBe(0);
    expect(edit(engine, 'a', '9 ± 1')).toContain('b');
    expect(engine.read('b')).toMatchObject({ value: 9, plusMinus: 1 });
  });

  test('a formula that reads a ± is worked out again when it changed', () => {
    const { engine } = watched();
    cells(engine, { a: '3 ± 0.1', b: '= a * 2', u: '= uncertainty(b)', v: '= u * 10' });
    engine.recalculate();
    expect(edit(engine, 'a', '3 ± 0.2')).toEqual(['a', 'b', 'u', 'v']);
    expect(engine.read('v')).toMatchObject({ value: expect.closeTo(4, 12) as unknown });
  });
});
