import { expect, test } from 'vitest';
import { section } from '../../../src/face/figure/section.ts';
import { bound, cell, column, theme } from './bound.ts';

const layers = {
  layer: column('', ['film', 'board', 'membrane', 'wool', 'sheathing']),
  thickness: column('in', [undefined, 0.5, undefined, 5.5, 0.5]),
  resistance: column('', [0.68, 0.45, 0, 20, 0.5]),
  temperature: column('°F', [69, 68.5, 68.5, 26, 25]),
  dew_point: column('°F', [41, 41, 24, 24, 15]),
  pressure: column('Pa', [876, 870, 440, 430, 290]),
  saturation: column('Pa', [2440, 2400, 2400, 465, 450]),
  condensing: column('g/(m²·day)', [0, 0, 0, 0, 0]),
};
const cells = {
  indoor_temperature: cell('Indoors', 70, '°F'),
  indoor_dew_point: cell('Dew point', 41, '°F'),
  indoor_pressure: cell('Vapour', 876, 'Pa'),
  month: cell('Month', 1, ''),
};
const dry = section.resolve(bound(cells, layers));
const laid = (width: number, data = dry) => section.drawings?.(data, theme)[0]?.layout(width);

test('layers stand to scale: films and sheets get a fixed width, the rest goes by thickness', () => {
  const drawn = laid(600);
  const bands = (drawn?.shapes ?? []).flatMap((shape) => (shape.kind === 'rect' ? [shape] : []));
  expect(bands).toHaveLength(4);
  const [board, membrane, wool, sheathing] = bands.map((band) => band.width);
  expect((wool ?? 0) / (board ?? 1)).toBeCloseTo(11, 6);
  expect(sheathing).toBeCloseTo(board ?? 0, 6);
  expect(membrane).toBeLessThan(5);
});

test.each([330, 600, 1200])('nothing leaves a page of %d pixels, and every layer is named', (width) => {
  const drawn = laid(width);
  for (const shape of drawn?.shapes ?? []) {
    const xs = shape.kind === 'line' ? shape.points.map(([x]) => x) : [shape.x];
    for (const x of xs) {
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x).toBeLessThanOrEqual(width);
    }
  }
  const texts = (drawn?.shapes ?? []).flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []));
  for (const name of ['film', 'board', 'membrane', 'wool', 'sheathing'])
    expect(texts.some((text) => text.endsWith(name))).toBe(true);
});

test('the line falls from indoors to outdoors as the values do', () => {
  const lines = (laid(600)?.shapes ?? []).flatMap((shape) =>
    shape.kind === 'line' && shape.points.length === 6 ? [shape.points] : [],
  );
  const [temperature] = lines;
  const ys = temperature?.map(([, y]) => y) ?? [];
  expect(ys).toEqual([...ys].sort((a, b) => a - b));
});

test('dry and wet are said in words, and water is marked by a drop', () => {
  expect(section.summary(dry)).toMatchObject({ line: '1: no water gathers by diffusion', tone: 'ok' });
  const wet = section.resolve(
    bound(cells, { ...layers, condensing: column('g/(m²·day)', [0, 0, 0, 7.5, 0]) }),
  );
  expect(section.summary(wet)).toMatchObject({
    line: '1: water gathers in or behind wool (7.5 g/(m²·day))',
    tone: 'fault',
  });
  expect(laid(600, wet)?.shapes.length).toBeGreaterThan(laid(600)?.shapes.length ?? 0);
});

test('without layers, or with a value missing, it says so', () => {
  expect(section.summary(section.resolve(bound({})))).toMatchObject({ line: 'No layers yet' });
  expect(section.drawings?.(section.resolve(bound({})), theme)).toEqual([]);
  const gap = { ...layers, pressure: column('Pa', [876, undefined, 440, 430, 290]) };
  expect(section.summary(section.resolve(bound(cells, gap)))).toMatchObject({
    line: 'Something is missing in the layers or the climate',
    tone: 'hold',
  });
});
