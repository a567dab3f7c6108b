/** A function declared deferred: a quick answer at once, the full one when it is handed in. */
import { describe, expect, it } from 'vitest';
import { defineFunction, Engine, FunctionLibrary } from '../../../src/engine/index.ts';

let asked = 0;

/** The quick answer is the sum of the weights; the full one is whatever the test hands in. */
const packing = defineFunction({
  name: 'packing',
  summary: 'Boxes for these weights.',
  source: 'made for this test',
  limits: 'made for this test',
  parameters: [
    { name: 'weight', type: { kind: 'quantity', unit: 'kg' }, column: true, table: 'loads', summary: '' },
    { name: 'box', type: { kind: 'quantity', unit: 'kg' }, column: true, table: 'boxes', summary: '' },
    { name: 'most', type: { kind: 'quantity', unit: '' }, summary: '' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: { arguments: [[1], [1], 1], result: 1 },
  deferred: true,
  compute: (weights: readonly number[], boxes: readonly number[], most: number) => {
    asked++;
    return weights.reduce((a, b) => a + b, 0) * boxes.length * most;
  },
});

function engine(): Engine {
  const made = new Engine(new FunctionLibrary([packing]));
  const column = (name: string, entries: readonly string[]) =>
    ({ name, type: 'number', unit: 'kg', entries }) as const;
  made.defineTable({ name: 'loads', rows: 2, columns: [column('weight', ['2', '3'])] });
  made.defineTable({ name: 'boxes', rows: 3, columns: [column('size', ['1', '', '3'])] });
  made.defineCell({ name: 'most', type: 'number', text: '1' });
  made.defineCell({ name: 'packed', type: 'number', text: 'packing(loads.weight, boxes.size, most)' });
  made.defineCell({ name: 'doubled', type: 'number', text: '2 * packed' });
  made.recalculate();
  return made;
}

const value = (made: Engine, name: string) => {
  const state = made.read(name);
  return state.state === 'value' ? state.value : state;
};

describe('a deferred function', () => {
  it('shows its quick answer, with columns of two tables of different length', () => {
    const made = engine();
    // Two weights of 5 kg in all, two sizes that are not blank.
    expect(value(made, 'packed')).toBe(10);
    expect(made.unfinished()).toMatchObject([
      { name: 'packing', arguments: [[2, 3], [1, 3], 1], where: 'packed' },
    ]);
  });

  it('changes like any other cell when the full answer comes, and wakes what reads it', () => {
    const made = engine();
    const [task] = made.unfinished();
    made.library.answers.set(task!.key, { result: 4, full: true });
    made.askAgain();
    expect([...made.recalculate().names].sort()).toEqual(['doubled', 'packed']);
    expect(value(made, 'doubled')).toBe(8);
    expect(made.unfinished()).toEqual([]);
  });

  it('stays wanted while an answer is not the full one', () => {
    const made = engine();
    const [task] = made.unfinished();
    made.library.answers.set(task!.key, { result: 6, full: false });
    made.askAgain();
    made.recalculate();
    expect(value(made, 'packed')).toBe(6);
    expect(made.unfinished()).toHaveLength(1);
  });

  it('is asked anew for other values, and not again for those it knows', () => {
    const made = engine();
    const [task] = made.unfinished();
    made.library.answers.set(task!.key, { result: 4, full: true });
    made.defineCell({ name: 'most', type: 'number', text: '2' });
    made.recalculate();
    expect(value(made, 'packed')).toBe(20);
    expect(made.unfinished()).toMatchObject([{ arguments: [[2, 3], [1, 3], 2] }]);
    const before = asked;
    made.defineCell({ name: 'most', type: 'number', text: '1' });
    made.recalculate();
    expect(value(made, 'packed')).toBe(4);
    expect(asked).toBe(before);
  });

  it('wants nothing where its arguments are not there yet', () => {
    const made = engine();
    made.defineCell({ name: 'most', type: 'number', text: '' });
    made.recalculate();
    expect(made.read('packed').state).toBe('blank');
    expect(made.unfinished()).toEqual([]);
  });

  it('is asked in every row of a column, and columns of one group come from one table', () => {
    const made = engine();
    made.defineTable({
      name: 'vans',
      rows: 2,
      columns: [
        { name: 'limit', type: 'number', entries: ['1', '2'] },
        { name: 'load', type: 'number', formula: 'packing(loads.weight, boxes.size, limit)', entries: [] },
      ],
    });
    made.recalculate();
    expect(made.unfinished().map(({ where, row }) => [where, row])).toEqual(
      expect.arrayContaining([['vans.load', 1]]),
    );
    expect(made.readRow('vans', 'load', 1)).toMatchObject({ state: 'value', value: 20 });
  });

  it('takes no ± through it', () => {
    const made = engine();
    made.defineCell({ name: 'most', type: 'number', text: '1 ± 0.1' });
    made.recalculate();
    expect(made.read('packed')).not.toHaveProperty('plusMinus');
  });
});
