/** Plans and sections: what is drawn is what the columns say, to one scale both ways, at any width. */
import { describe, expect, it } from 'vitest';
import { textWidth, type Shape } from '../../../src/face/figure/drawing.ts';
import { inMetres, lengthText } from '../../../src/face/figure/length-text.ts';
import { plan } from '../../../src/face/figure/plan.ts';
import { stack } from '../../../src/face/figure/stack.ts';
import type { BoundColumn } from '../../../src/face/figure/kind.ts';
import { bound, cell, column, theme } from './bound.ts';

const words = (values: readonly string[]): BoundColumn => column('', values);

/** Living room of 259 1/2 by 160 1/2 in: two beams, one short one, a stair opening at the north-east. */
const cells = {
  frame_width: cell('Room, across', 259.5, 'in'),
  frame_height: cell('Room, along', 13.375, 'ft'),
  line_x: cell('Centre of the room drawn', 129.75, 'in'),
  void_x: cell('Opening from the west', 147.5, 'in'),
  void_y: cell('Opening from the south', 120.5, 'in'),
  void_width: cell('Opening', 9.333333333333, 'ft'),
  void_height: cell('Opening', 40, 'in'),
};
const columns = {
  solid_x: column('in', [49.25, 115.25, 181.25]),
  solid_y: column('in', [0.71875, 0.71875, 0.71875]),
  solid_width: column('in', [5.5, 5.5, 5.5]),
  solid_height: column('in', [158.9375, 158.9375, 119.65625]),
  solid_label: words(['one', 'two', 'three']),
};

/** `bound` lists only cells as roles; a figure lists both. */
function bind(c: Parameters<typeof bound>[0], k: Record<string, BoundColumn>) {
  return {
    ...bound(c, k),
    roles: (prefix: string) =>
      [...Object.keys(k), ...Object.keys(c)].filter((role) => role.startsWith(prefix)),
  };
}

function shapesOf(width: number): readonly Shape[] {
  const data = plan.resolve(bind(cells, columns));
  return plan.drawings?.(data, theme)[0]?.layout(width).shapes ?? [];
}

const rects = (shapes: readonly Shape[]) => shapes.filter((shape) => shape.kind === 'rect');

describe('a plan', () => {
  it('has one scale for both directions, whatever units the columns are in', () => {
    const [frame, first] = rects(shapesOf(400));
    if (!frame || !first) throw new Error('no rectangles');
    const scale = frame.width / 259.5;
    expect(frame.height).toBeCloseTo(160.5 * scale, 6);
    expect(first.width).toBeCloseTo(5.5 * scale, 6);
    expect(first.height).toBeCloseTo(158.9375 * scale, 6);
    expect(first.x - frame.x).toBeCloseTo(49.25 * scale, 6);
    // South is below: the beam begins just over the lower edge.
    expect(frame.y + frame.height - (first.y + first.height)).toBeCloseTo(0.71875 * scale, 6);
  });

  it('draws the wall that juts into the room as thick as the frame, behind the beams, and names it', () => {
    const jut = {
      wall_x: cell('Jut', 0, 'in'),
      wall_y: cell('Jut', 112.5, 'in'),
      wall_width: cell('Jut', 96, 'in'),
      wall_height: cell('Jut', 4, 'ft'),
    };
    const data = plan.resolve(bind({ ...cells, ...jut }, columns));
    const shapes = plan.drawings?.(data, theme)[0]?.layout(400).shapes ?? [];
    const [frame] = rects(shapes);
    const wall = rects(shapes).find(
      ({ strokeWidth, width }) => strokeWidth === 1.5 && width !== frame?.width,
    );
    if (!frame || !wall) throw new Error('no wall');
    const scale = frame.width / 259.5;
    expect(wall.stroke).toBe(theme.ink);
    expect(wall.x).toBeCloseTo(frame.x, 6);
    expect(wall.y).toBeCloseTo(frame.y, 6);
    expect(wall.width).toBeCloseTo(96 * scale, 6);
    expect(wall.height).toBeCloseTo(48 * scale, 6);
    expect(shapes).toContainEqual(expect.objectContaining({ kind: 'text', text: 'wall' }));
    expect(plan.summary(data).line).toContain('3 pieces');
    expect(plan.summary(data).rows.map(([name]) => name)).toContain('wall');
  });

  it('draws the opening broken, from cells, and the centre line of the room', () => {
    const shapes = shapesOf(400);
    const opening = rects(shapes).find((shape) => shape.dashed === true);
    const frame = rects(shapes)[0];
    if (!opening || !frame) throw new Error('no opening');
    expect(opening.width / frame.width).toBeCloseTo(112 / 259.5, 6);
    expect(opening.x + opening.width).toBeCloseTo(frame.x + frame.width, 6);
    expect(shapes.some((shape) => shape.kind === 'text' && shape.text === 'centre')).toBe(true);
  });

  it('stays inside its width from a phone to a wide page, with type of one size', () => {
    for (const width of [280, 330, 700, 1400]) {
      for (const shape of shapesOf(width)) {
        if (shape.kind === 'rect') expect(shape.x + shape.width).toBeLessThanOrEqual(width);
        if (shape.kind === 'text') expect(shape.size).toBe(12);
      }
    }
  });

  it('writes a narrow beam’s name above the frame', () => {
    const shapes = shapesOf(330);
    const top = rects(shapes)[0]?.y ?? 0;
    const names = shapes.filter((shape) => shape.kind === 'text' && ['one', 'two'].includes(shape.text));
    expect(names).toHaveLength(2);
    for (const name of names) expect(name.kind === 'text' && name.y < top).toBe(true);
  });

  it('notes a length beside the name as a tape shows it, and writes the whole height beside the frame', () => {
    const noted = plan.resolve(bind(cells, { ...columns, solid_note: column('in', [52, 118, 184.03125]) }));
    expect(noted.rectangles.slice(0, 3).map(({ note }) => note)).toEqual([`4' 4"`, `9' 10"`, `15' 4 1/32"`]);
    const height = shapesOf(330).find((shape) => shape.kind === 'text' && shape.text === `13' 4 1/2"`);
    if (height?.kind !== 'text') throw new Error('no height');
    expect(height.x - textWidth(height.text, 12)).toBeGreaterThanOrEqual(0);
  });

  it('leaves out rows without a size, and says when there is no frame', () => {
    const blank = {
      ...columns,
      solid_x: column('in', [undefined, 115.25, 181.25]),
      solid_height: column('in', [9, 0, 9]),
    };
    expect(plan.resolve(bind(cells, blank)).rectangles.filter(({ style }) => style === 'solid')).toHaveLength(
      1,
    );
    const none = plan.resolve(bind({}, columns));
    expect(plan.summary(none).tone).toBe('hold');
    expect(plan.drawings?.(none, theme)[0]?.layout(300).shapes).toEqual([]);
  });

  it('says its size and lists every piece, in fractions or in millimetres', () => {
    const said = plan.summary(plan.resolve(bind(cells, columns)));
    expect(said.line).toBe(`21' 7 1/2" by 13' 4 1/2", to scale; 3 pieces`);
    expect(said.rows[0]).toEqual(['one', `4' 1 1/4"`, '23/32"', '5 1/2"', `13' 2 15/16"`]);
    expect(said.rows.at(-1)?.[0]).toBe('opening');
    const metric = plan.summary(
      plan.resolve(bind({ ...cells, frame_width: cell('Room', 6591.3, 'mm') }, columns)),
    );
    expect(metric.line).toBe('6591.3 mm by 4076.7 mm, to scale; 3 pieces');
  });
});

describe('a section', () => {
  const layers = {
    layer: words(['plaster', 'board', 'framing', 'board', 'plaster']),
    thickness: column('in', [0.09375, 0.5, 3.5, 0.5, 0.09375]),
  };
  const jamb = (depth: number, verdict: string) => ({
    against: cell('Jamb', depth, 'in'),
    difference: cell('Difference', depth - 4.6875, 'in'),
    verdict: { label: 'Verdict', unit: '', shown: { kind: 'text' as const, text: verdict } },
  });

  it('draws the layers to scale, and the jamb against them', () => {
    const data = stack.resolve(bind(jamb(4.625, 'fail'), layers));
    const drawn = rects(stack.drawings?.(data, theme)[0]?.layout(324).shapes ?? []);
    const widths = drawn.map(({ width }) => width);
    const scale = 300 / 4.6875;
    [0.09375, 0.5, 3.5, 0.5, 0.09375, 4.625, 0.0625].forEach((inches, i) =>
      expect(widths[i]).toBeCloseTo(inches * scale, 6),
    );
  });

  it('says by how much the jamb is short or proud, and whether that passes', () => {
    const said = (depth: number, verdict: string) =>
      stack.summary(stack.resolve(bind(jamb(depth, verdict), layers)));
    expect(said(4.625, 'fail')).toMatchObject({ line: '1/16" short: fail', tone: 'fault' });
    expect(said(4.6875, 'pass')).toMatchObject({ line: 'flush: pass', tone: 'ok' });
    expect(said(4.75, 'fail').line).toBe('1/16" proud: fail');
  });

  it('leaves out layers of no thickness, and says when there are none', () => {
    const one = stack.resolve(bind({}, { ...layers, thickness: column('in', [0.09375, 0.5, 1.5, 0, 0]) }));
    expect(one.layers.map(({ name }) => name)).toEqual(['plaster', 'board', 'framing']);
    expect(stack.summary(one).line).toBe('3 layers, to scale');
    expect(stack.summary(stack.resolve(bind({}, {}))).line).toBe('No layers yet.');
  });
});

describe('lengths of drawings', () => {
  it('go through the unit on the screen', () => {
    expect(inMetres(1, 'ft')).toBeCloseTo(0.3048, 12);
    expect(inMetres('plaster', 'in')).toBeUndefined();
    expect(inMetres(1, 'no unit')).toBeUndefined();
    expect(inMetres(1, 'lb')).toBeUndefined();
    expect(inMetres(1, '')).toBeUndefined();
    expect(lengthText(0.0254 * 4.6875, 'in')).toBe('4 11/16"');
    expect(lengthText(0.002381, 'mm')).toBe('2.4 mm');
  });
});
