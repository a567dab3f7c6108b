import { expect, test } from 'vitest';
import { stages } from '../../../src/face/figure/stages.ts';
import { bound, cell, column, theme } from './bound.ts';

const target = cell('First target, at most', 1.2, '1/h');
const second = cell('Second target, at most', 1, '1/h');
const columns = {
  stage: column('', ['membrane up', 'before board', 'after sealing']),
  value: column('1/h', [1.9, 1.35, 1.04]),
  low: column('1/h', [1.78, 1.27, 0.97]),
  high: column('1/h', [2.02, 1.44, 1.11]),
};
const data = (cells = { target }, given: Parameters<typeof bound>[1] = columns) =>
  stages.resolve(bound(cells, given));

test('says where the job came from, where it stands, and how that is against each target', () => {
  expect(stages.summary(data())).toMatchObject({ line: 'from 1.9 to 1.04; target met', tone: 'ok' });
  const both = { target, target_2: second } as { target: typeof target };
  expect(stages.summary(data(both))).toMatchObject({
    line: 'from 1.9 to 1.04; 1.2 met; 1 too close to call',
    tone: 'hold',
    headers: ['Stage', '1/h', '95 % from', 'to', 'against 1.2', 'against 1'],
  });
  expect(stages.summary(data(both)).rows[0]).toEqual([
    'membrane up',
    '1.9',
    '1.78',
    '2.02',
    'not met',
    'not met',
  ]);
});

test('a stage without a result is left out; none is no drawing', () => {
  const some = data({ target }, { ...columns, value: column('1/h', [1.9, undefined, undefined]) });
  expect(stages.summary(some).line).toBe('membrane up: 1.9; target not met');
  const none = data({ target }, { ...columns, value: column('1/h', [undefined, undefined, undefined]) });
  expect(stages.summary(none)).toMatchObject({ line: 'No result yet', tone: 'hold' });
  expect(stages.drawings?.(none, theme)).toEqual([]);
});

test.each([320, 700])(
  'drawn %i px wide, every mark and word stays inside, in the order of the job',
  (width) => {
    const [drawing] = stages.drawings?.(data(), theme) ?? [];
    const layout = drawing?.layout(width);
    const tops: number[] = [];
    for (const shape of layout?.shapes ?? []) {
      if (shape.kind === 'line')
        for (const [x, y] of shape.points) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(width);
          expect(y).toBeLessThanOrEqual(layout?.height ?? 0);
        }
      if (shape.kind === 'text' && /membrane|board|sealing/u.test(shape.text)) tops.push(shape.y);
    }
    expect(tops).toHaveLength(3);
    expect(tops).toEqual([...tops].sort((a, b) => a - b));
  },
);
