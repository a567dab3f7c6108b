import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ALL_ROWS, ROW_HEIGHT, stretches } from '../../../src/face/worksheet/window.ts';

test('a short table has all its rows', () => {
  expect(stretches(8, 0, 0, 600).map((each) => each.kind)).toEqual(Array<string>(8).fill('row'));
});

test('a long table: at most 200 rows, each once and in order, the one with the focus among them, nothing lost in height', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: ALL_ROWS + 1, max: 50_000 }),
      fc.nat(),
      fc.nat(),
      fc.integer({ min: 0, max: 20_000 }),
      (rows, activeSeed, topSeed, height) => {
        const active = activeSeed % rows;
        const top = topSeed % (rows * ROW_HEIGHT);
        const found = stretches(rows, active, top, height);
        const positions = found.flatMap((each) => (each.kind === 'row' ? [each.position] : []));
        const gaps = found.reduce((sum, each) => sum + (each.kind === 'gap' ? each.height : 0), 0);
        expect(positions.length).toBeLessThanOrEqual(ALL_ROWS);
        expect(positions).toContain(active);
        expect(positions).toEqual([...new Set(positions)].sort((a, b) => a - b));
        expect(gaps + positions.length * ROW_HEIGHT).toBe(rows * ROW_HEIGHT);
        const keys = found.map((each) => (each.kind === 'gap' ? each.key : each.position));
        expect(new Set(keys).size).toBe(keys.length);
        // What is in view has nodes, as far as the limit reaches.
        const first = Math.floor(top / ROW_HEIGHT);
        const inView = Math.min(rows - 1, first + Math.min(Math.ceil(height / ROW_HEIGHT), 150));
        const shown = new Set(positions);
        for (let position = first; position <= inView; position++)
          if (!shown.has(position)) expect.fail(`row ${position} is in view`);
      },
    ),
    { numRuns: 200 },
  );
});
