/** Sheets on random walls and ceilings: counts between their bounds, the surface covered once, joints as drawn. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plain } from '../plain.ts';
import { layoutSheets, type SheetLayout, type Surface } from '../../../src/trade/index.ts';

const INCH = 0.0254;

/** Sizes to 1/16 in; sheets, framing and staggers of the trade. */
const surfaces = fc
  .record({
    length: fc.integer({ min: 12 * 16, max: 480 * 16 }),
    height: fc.integer({ min: 12 * 16, max: 300 * 16 }),
    sheet: fc.constantFrom([48, 96], [48, 120], [48, 144], [54, 144], [48, 192]),
    direction: fc.constantFrom('along', 'up'),
    framing: fc.constantFrom(12, 16, 19.2, 24),
    stagger: fc.constantFrom(0, 16, 24),
  })
  .map(({ length, height, sheet, direction, framing, stagger }): Surface => ({
    length: (length / 16) * INCH,
    height: (height / 16) * INCH,
    sheetLength: sheet[1] * INCH,
    sheetWidth: sheet[0] * INCH,
    direction,
    framing: framing * INCH,
    stagger: stagger * INCH,
  }));

function laid(surface: Surface): SheetLayout {
  const layout = layoutSheets(surface);
  if ('fault' in layout) throw new Error(layout.fault);
  return layout;
}

/** Made by a fixed seed, laid out once. */
const LAID = fc
  .sample(surfaces, { numRuns: 1000, seed: 6 })
  .map((surface) => ({ surface, layout: laid(surface) }));

const near = (a: number, b: number) => Math.abs(a - b) < 1e-6;

/** The surfaces of which something does not hold. */
function breaking(holds: (surface: Surface, layout: SheetLayout) => boolean): Surface[] {
  return LAID.filter(({ surface, layout }) => !holds(surface, layout)).map(({ surface }) => surface);
}

describe('sheets on 1,000 random surfaces', () => {
  it('never fewer than the area needs, never more than course by course', () => {
    expect(
      breaking((surface, { sheets, wholeSheets, pieces }) => {
        const area = surface.length * surface.height;
        return (
          sheets * surface.sheetLength * surface.sheetWidth >= area - 1e-6 &&
          sheets <= wholeSheets &&
          new Set(pieces.map((piece) => piece.sheet)).size === sheets
        );
      }),
    ).toEqual([]);
  });

  it('course by course is the simple count, pieces a course times courses, where sheets end on framing', () => {
    let simple = 0;
    const wrong = breaking((surface, { wholeSheets, sheets }) => {
      const up = surface.direction === 'up';
      const side = up ? surface.sheetWidth : surface.sheetLength;
      if (!near(Math.round(side / surface.framing) * surface.framing, side)) return true;
      simple++;
      const [run, rise] = up ? [surface.height, surface.length] : [surface.length, surface.height];
      const count = Math.ceil(run / surface.sheetLength - 1e-9) * Math.ceil(rise / surface.sheetWidth - 1e-9);
      return wholeSheets === count && sheets <= count;
    });
    expect(wrong).toEqual([]);
    expect(simple).toBeGreaterThan(500);
  });

  it('the use of offcuts saves sheets on many of them', () => {
    const saved = LAID.filter(({ layout }) => layout.sheets < layout.wholeSheets);
    expect(saved.length).toBeGreaterThan(300);
  });

  it('the pieces cover the surface once', () => {
    expect(
      breaking((surface, { pieces }) => {
        const area = pieces.reduce((total, { width, height }) => total + width * height, 0);
        const inside = pieces.every(
          ({ x, y, width, height }) =>
            x >= -1e-9 &&
            y >= -1e-9 &&
            x + width <= surface.length + 1e-6 &&
            y + height <= surface.height + 1e-6,
        );
        const apart = pieces.every((a, i) =>
          pieces.slice(i + 1).every((b) => {
            const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
            const up = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
            return Math.min(across, up) < 1e-6;
          }),
        );
        return near(area, surface.length * surface.height) && inside && apart;
      }),
    ).toEqual([]);
  });

  it('joints counted, and so the tape, are the joints drawn: edges that two pieces share', () => {
    expect(
      breaking((surface, { pieces, edgeJoint, endJoint }) => {
        let upright = 0;
        let level = 0;
        for (const a of pieces)
          for (const b of pieces) {
            if (near(a.x + a.width, b.x))
              upright += Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));
            if (near(a.y + a.height, b.y))
              level += Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x));
          }
        const [edge, end] = surface.direction === 'up' ? [upright, level] : [level, upright];
        return near(edge, edgeJoint) && near(end, endJoint);
      }),
    ).toEqual([]);
  });

  it('the pieces of one sheet can be cut from it, and joints across the framing lie on it', () => {
    expect(
      breaking((surface, { pieces }) => {
        const used = new Map<number, number>();
        for (const { width, height, sheet } of pieces)
          used.set(sheet, (used.get(sheet) ?? 0) + width * height);
        const sheetArea = surface.sheetLength * surface.sheetWidth;
        return (
          [...used.values()].every((area) => area <= sheetArea + 1e-6) &&
          pieces.every(({ x, width, height }) => {
            const [long, wide] = surface.direction === 'up' ? [height, width] : [width, height];
            const bays = x / surface.framing;
            return (
              long <= surface.sheetLength + 1e-6 &&
              wide <= surface.sheetWidth + 1e-6 &&
              near(bays, Math.round(bays))
            );
          })
        );
      }),
    ).toEqual([]);
  });

  it('end joints of neighbouring courses nearer than asked for are counted, and there are few', () => {
    expect(
      breaking((surface, { pieces, unstaggered }) => {
        if (surface.direction === 'up') return true;
        const rows = new Map<number, number[]>();
        for (const { x, y } of pieces) {
          const row = rows.get(Math.round(y * 1e6)) ?? [];
          if (x > 1e-9) row.push(x);
          rows.set(Math.round(y * 1e6), row);
        }
        const courses = [...rows.values()];
        let count = 0;
        courses.slice(1).forEach((course, i) => {
          const before = courses[i] ?? [];
          const [odd, even] = i % 2 === 0 ? [before, course] : [course, before];
          count += odd.filter((a) => even.some((b) => Math.abs(a - b) < surface.stagger - 1e-6)).length;
        });
        return count === unstaggered;
      }),
    ).toEqual([]);
    expect(LAID.filter(({ layout }) => layout.unstaggered > 0).length).toBeLessThan(20);
  });
});

describe('a layout by hand', () => {
  const wall: Surface = {
    length: 192 * INCH,
    height: 108 * INCH,
    sheetLength: 144 * INCH,
    sheetWidth: 54 * INCH,
    direction: 'along',
    framing: 16 * INCH,
    stagger: 16 * INCH,
  };

  it('16 ft by 9 ft in 54 in sheets of 12 ft: two courses, both ends of 4 ft from one sheet', () => {
    const layout = laid(wall);
    expect(layout).toMatchObject({ sheets: 3, wholeSheets: 4, courses: 2, unstaggered: 0 });
    expect(layout.pieces).toHaveLength(4);
    expect(layout.edgeJoint / INCH).toBeCloseTo(192, 9);
    expect(layout.endJoint / INCH).toBeCloseTo(108, 9);
  });

  it('upright 54 in sheets on framing at 16 in are ripped to 48 in', () => {
    const layout = laid({ ...wall, direction: 'up' });
    expect(layout.courses).toBe(4);
    expect(layout.endJoint).toBe(0);
    expect(layout.edgeJoint / INCH).toBeCloseTo(3 * 108, 9);
  });

  it.each([
    ['length', -1, 'The length of the surface is'],
    ['length', 100, 'The length of the surface is'],
    ['height', 0, 'The height of the surface is'],
    ['sheetLength', 0, 'The length of the sheet is'],
    ['sheetLength', 1, 'The sheet is wider than it is long.'],
    ['sheetWidth', 0.1, 'The sheet is under a foot wide.'],
    ['direction', 'diagonal', '“diagonal” is not a direction of sheets.'],
    ['framing', 0.01, 'Framing at 3/8" on centre is outside 6" to 48".'],
    ['stagger', -0.1, 'The stagger is negative.'],
  ])('says what is wrong with %s = %s', (field, value, message) => {
    const found = plain(layoutSheets({ ...wall, [field]: value }));
    expect(found).toMatchObject({ fault: expect.stringContaining(message) as string });
    expect(found).toHaveProperty('suggestion');
  });

  it('does not stand upright sheets on framing wider than they are', () => {
    expect(layoutSheets({ ...wall, sheetWidth: 0.4, framing: 24 * INCH, direction: 'up' })).toHaveProperty(
      'suggestion',
    );
  });
});
