import { expect, test } from 'vitest';
import { flowBalance } from '../../../src/face/figure/flow-balance.ts';
import { textWidth } from '../../../src/face/figure/drawing.ts';
import { bound, column, theme } from './bound.ts';

const columns = {
  unit: column('', ['unit S', 'unit N']),
  unit_supply: column('cfm', [71.6, 62.6]),
  unit_exhaust: column('cfm', [71.9, 72.9]),
  unit_allowed: column('cfm', [7.16, 6.26]),
  unit_verdict: column('', ['balanced', 'out of balance']),
  room: column('', ['study', 'bath', 'bedroom']),
  room_unit: column('', ['unit S', 'unit S', 'unit N']),
  room_direction: column('', ['supply', 'exhaust', 'supply']),
  room_design: column('cfm', [13, 20, 15]),
  room_measured: column('cfm', [13.1, 20, 9.8]),
};
const data = flowBalance.resolve(bound({}, columns));

test('says which unit is out of balance and which room is short', () => {
  expect(flowBalance.summary(data)).toMatchObject({
    line: 'unit S balanced; unit N out of balance; short: bedroom',
    tone: 'fault',
  });
});

test('lists every unit and room as a table, each under its unit', () => {
  expect(flowBalance.summary(data).rows.map((row) => row[0])).toEqual([
    'unit S',
    'unit S',
    'study',
    'bath',
    'unit N',
    'unit N',
    'bedroom',
  ]);
});

test('no flow is cut at the edge, however long its words are', () => {
  const said = (flows: readonly number[]) => ({
    ...column('cfm', flows),
    texts: flows.map((flow) => `${flow.toFixed(2)} ± 2.10 cfm`),
  });
  const long = {
    ...columns,
    unit_exhaust: said([71.9, 72.9]),
    room_measured: said([13.1, 20, 60]),
    room_design: column('cfm', [13, 20, 70]),
  };
  for (const drawing of flowBalance.drawings?.(flowBalance.resolve(bound({}, long)), theme) ?? [])
    for (const width of [380, 300])
      for (const shape of drawing.layout(width).shapes)
        if (shape.kind === 'text' && shape.text.includes('±'))
          expect(shape.x + textWidth(shape.text, 12), shape.text).toBeLessThanOrEqual(width);
});

test('all well: green', () => {
  const well = {
    ...columns,
    unit_verdict: column('', ['balanced', 'balanced']),
    room_measured: column('cfm', [13.1, 20, 15]),
  };
  expect(flowBalance.summary(flowBalance.resolve(bound({}, well)))).toMatchObject({
    line: 'unit S balanced; unit N balanced; no room short',
    tone: 'ok',
  });
});

test('before anything is measured it waits', () => {
  const blank = column('cfm', [undefined, undefined, undefined]);
  const before = {
    ...columns,
    unit_supply: blank,
    unit_exhaust: blank,
    unit_verdict: column('', ['not measured', 'not measured']),
    room_measured: blank,
  };
  expect(flowBalance.summary(flowBalance.resolve(bound({}, before))).tone).toBe('hold');
});

test('a unit that only exhausts, as chosen, supplies none', () => {
  const blank = column('cfm', [undefined, undefined]);
  const oneWay = { ...columns, unit_supply: blank, unit_verdict: column('', ['one way', 'not measured']) };
  const [first, second] = (flowBalance.drawings?.(flowBalance.resolve(bound({}, oneWay)), theme) ?? []).map(
    (drawing) => drawing.layout(700).shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : [])),
  );
  expect(first).toContain('none');
  expect(first).not.toContain('not measured');
  expect(second).not.toContain('none');
  expect(second?.filter((text) => text === 'not measured')).toHaveLength(2);
});

test.each([320, 700])('every shape stays inside a width of %i', (width) => {
  for (const drawing of flowBalance.drawings?.(data, theme) ?? []) {
    const { shapes, height } = drawing.layout(width);
    for (const shape of shapes) {
      if (shape.kind !== 'rect') continue;
      expect(shape.x).toBeGreaterThanOrEqual(0);
      expect(shape.x + shape.width).toBeLessThanOrEqual(width);
      expect(shape.y + shape.height).toBeLessThanOrEqual(height);
    }
    // A longer bar for a larger flow: the unit’s supply is longer than any room’s.
    const bars = shapes.flatMap((shape) => (shape.kind === 'rect' ? [shape.width] : []));
    expect(Math.max(...bars)).toBe(bars.slice(0, 3).reduce((a, b) => Math.max(a, b)));
  }
});

test('a row without a value does not write out its fault, and a room without a direction is in neither', () => {
  const words = 'in ventilation_units.proposed_total has nothing in row 1';
  const half = flowBalance.resolve(
    bound(
      {},
      {
        ...columns,
        room_direction: column('', ['supply', undefined, 'supply']),
        room_design: { ...column('cfm', [13, undefined, 15]), texts: ['13', words, '15'] },
        room_measured: column('cfm', [13.1, undefined, 9.8]),
      },
    ),
  );
  expect(flowBalance.summary(half).rows).toContainEqual(['bath', '', 'not known yet', '', '']);
  const shapes = (flowBalance.drawings?.(half, theme) ?? []).flatMap((drawing) => drawing.layout(700).shapes);
  const texts = shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []));
  expect(texts).toContain('not known yet, supply or exhaust?');
  expect(texts.join()).not.toContain('proposed_total');
});

test('what the marks mean is not cut at the edge of a narrow figure or of half a page', () => {
  for (const width of [260, 344, 700]) {
    const shapes = (flowBalance.drawings?.(data, theme) ?? []).flatMap(
      (drawing) => drawing.layout(width).shapes,
    );
    const texts = shapes.flatMap((shape) => (shape.kind === 'text' && shape.x === 0 ? [shape.text] : []));
    for (const text of texts) expect(textWidth(text, 12), text).toBeLessThanOrEqual(width);
    expect(texts.join(' ')).toContain('bar: measured, mark: design, tint: band for the exhaust; cfm');
  }
});
