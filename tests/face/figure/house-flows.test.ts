import { expect, test } from 'vitest';
import { textWidth } from '../../../src/face/figure/drawing.ts';
import { houseFlows } from '../../../src/face/figure/house-flows.ts';
import { bound, column, theme } from './bound.ts';

const data = houseFlows.resolve(
  bound(
    {},
    {
      house_room: column('', ['living', 'hall', 'bedroom', 'bath']),
      floor: column('', [1, 1, 2, 2]),
      room: column('', ['living', 'bedroom', 'bath']),
      room_unit: column('', ['unit S', 'unit N', 'unit N']),
      room_direction: column('', ['supply', 'supply', 'exhaust']),
      room_design: column('cfm', [20, 15, 25]),
      room_measured: column('cfm', [20.5, 9.8, undefined]),
    },
  ),
);

test('counts rooms with outdoor air, with exhaust, and those that air only passes through', () => {
  expect(houseFlows.summary(data).line).toBe(
    'outdoor air into 2 rooms, exhaust from 1, 1 that air only passes through',
  );
  expect(houseFlows.summary(data).rows).toContainEqual(['hall', '1', 'passes through', '', '']);
});

test.each([320, 1000])('upper floors stand above lower ones, nothing leaves a width of %i', (width) => {
  const layout = houseFlows.drawings?.(data, theme)[0]?.layout(width);
  const yOf = (text: string) =>
    layout?.shapes.flatMap((shape) => (shape.kind === 'text' && shape.text === text ? [shape.y] : []))[0];
  expect(yOf('bedroom')).toBeLessThan(yOf('living') ?? 0);
  for (const shape of layout?.shapes ?? [])
    if (shape.kind === 'rect') expect(shape.x + shape.width).toBeLessThanOrEqual(width);
});

test('what is said of a room’s air stands within its box', () => {
  const rooms = ['a', 'b', 'c', 'd'];
  const wide = houseFlows.resolve(
    bound(
      {},
      {
        house_room: column('', rooms),
        room: column('', rooms),
        room_direction: column('', ['supply', 'exhaust', 'supply', 'exhaust']),
        room_design: column('cfm', [1500, 1420, 1360, 1230]),
        room_measured: column('cfm', [1480, 1400, 1340, 1200]),
      },
    ),
  );
  const shapes = houseFlows.drawings?.(wide, theme)[0]?.layout(320).shapes ?? [];
  const boxes = shapes.flatMap((shape) => (shape.kind === 'rect' ? [shape] : []));
  const said = shapes.flatMap((shape) =>
    shape.kind === 'text' && shape.text.includes(', short') ? [shape] : [],
  );
  expect(said).toHaveLength(4);
  said.forEach(({ x, text }, at) => {
    const box = boxes[at];
    expect(x + textWidth(text, 12)).toBeLessThanOrEqual((box?.x ?? 0) + (box?.width ?? 0));
  });
});

test('air in points down into the room, air out up out of it; what is not measured shows its design, what is short says so', () => {
  const shapes = houseFlows.drawings?.(data, theme)[0]?.layout(700).shapes ?? [];
  const arrows = shapes.flatMap((shape) =>
    shape.kind === 'line' && shape.arrow === true
      ? [Math.sign((shape.points[1]?.[1] ?? 0) - (shape.points[0]?.[1] ?? 0))]
      : [],
  );
  // Drawn from the top floor down: bedroom, bath, living.
  expect(arrows).toEqual([1, -1, 1]);
  const texts = shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []));
  expect(texts).toEqual(expect.arrayContaining(['in 9.8, short', 'out 25', 'in 20.5']));
});

test('a flow without a value is a dash, whatever its row says, and a room without a direction is neither in nor out', () => {
  const words = 'in ventilation_units.proposed_total has nothing in row 1';
  const half = houseFlows.resolve(
    bound(
      {},
      {
        house_room: column('', ['living', 'bath']),
        floor: column('', [1, 1]),
        room: column('', ['living', 'bath']),
        room_unit: column('', ['', '']),
        room_direction: column('', ['supply', undefined]),
        room_design: { ...column('cfm', [undefined, 25]), texts: [words, '25'] },
        room_measured: column('cfm', [undefined, undefined]),
      },
    ),
  );
  expect(houseFlows.summary(half)).toMatchObject({
    line: 'outdoor air into 1 room, exhaust from 0, 0 that air only passes through, 1 where neither is chosen yet',
    tone: 'hold',
  });
  expect(houseFlows.summary(half).rows).toEqual([
    ['living', '1', 'supply', '–', ''],
    ['bath', '1', 'supply or exhaust?', '25', ''],
  ]);
  const shapes = houseFlows.drawings?.(half, theme)[0]?.layout(700).shapes ?? [];
  const texts = shapes.flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []));
  expect(texts).toEqual(expect.arrayContaining(['in –', 'in, out? 25']));
  expect(texts.join()).not.toContain('proposed_total');
  expect(shapes.filter((shape) => shape.kind === 'line' && shape.arrow === true)).toHaveLength(1);
});
