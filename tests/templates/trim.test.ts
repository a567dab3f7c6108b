/**
 * Trim in the template and in the demo. Expected plans of the demo were proved by an independent integer program
 * (SciPy 1.11 milp) from the same invented data. Casing, crown and base: the numbers of the sources named beside them.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { finishCuttingPlan } from '../../src/trade/index.ts';
import { Open } from './open.ts';

/** Has every plan that is wanted worked out to its end, as the page does beside itself. */
async function proved(open: Open): Promise<Open> {
  for (const task of open.workbook.unfinished()) {
    expect(task.name).toBe('cutting_plan');
    open.workbook.answer(task.key, await finishCuttingPlan(task.arguments, { seconds: 60 }));
  }
  expect(open.workbook.unfinished()).toEqual([]);
  return open;
}

const PROFILES = [
  // profile, pieces, least price, first fit from 16 ft, length to cut in inches
  ['base', 22, 186.8, 194.4, 1617.3125],
  ['casing', 47, 328.6, 357.2, 3304.25],
  ['crown', 15, 497.3, 530.6, 2133.1875],
  ['cover_mould', 10, 53, 68, 1047],
] as const;

describe('the first trim package of Juniper Hollow', () => {
  let quick: Open;
  let demo: Open;
  beforeAll(async () => {
    quick = new Open('juniper-hollow.json');
    demo = await proved(new Open('juniper-hollow.json'));
  });

  it('shows a plan at once, and says that it is not proved', () => {
    for (const [profile, , least] of PROFILES) {
      expect(quick.at('trim_profiles.price', profile, 'USD')).toBeGreaterThanOrEqual(least - 1e-9);
      expect(quick.textAt('trim_profiles.status', profile)).toBe('quick plan, not yet proved');
    }
  });

  it.each(PROFILES)(
    '%s: pieces, length, least price, first fit',
    (profile, pieces, least, firstFit, inches) => {
      expect(demo.at('trim_profiles.pieces', profile, '')).toBe(pieces);
      expect(demo.at('trim_profiles.cut_length', profile, 'in')).toBeCloseTo(inches, 9);
      expect(demo.at('trim_profiles.price', profile, 'USD')).toBeCloseTo(least, 9);
      expect(demo.at('trim_profiles.first_fit_price', profile, 'USD')).toBeCloseTo(firstFit, 9);
      expect(demo.textAt('trim_profiles.status', profile)).toBe('least price, proved');
    },
  );

  it('costs 1065.70 in all, and the order is what the plans take, with spare', () => {
    expect(demo.number('trim_price', 'USD')).toBeCloseTo(1065.7, 9);
    const rows = Array.from({ length: 13 }, (_, row) => row);
    const planned = rows.reduce((sum, row) => sum + demo.at('trim_stock.in_plan', row, ''), 0);
    const sticks = PROFILES.reduce(
      (sum, [profile]) => sum + demo.at('trim_profiles.sticks_to_buy', profile, ''),
      0,
    );
    expect(planned).toBe(sticks);
    // 5 % of each profile's sticks, rounded up, in the longest stock.
    const spare = rows.reduce((sum, row) => sum + demo.at('trim_stock.spare', row, ''), 0);
    const wanted = PROFILES.reduce(
      (sum, [profile]) => sum + Math.ceil(demo.at('trim_profiles.sticks_to_buy', profile, '') * 0.05),
      0,
    );
    expect(spare).toBe(wanted);
  });

  it('scarfs a wall longer than a stick in two lengths with a lap', () => {
    expect(demo.at('trim_pieces.quantity', 'T01', '')).toBe(2);
    expect(demo.at('trim_pieces.length', 'T01', 'in')).toBeCloseTo(129.53125, 9);
    expect(demo.textAt('trim_pieces.cut_from', 'T01')).toMatch(/^\d+, \d+$/);
  });

  it('gives the crown’s settings, drop and projection', () => {
    expect(demo.at('crown_corners.miter', 0, 'deg')).toBeCloseTo(31.61900654, 7);
    expect(demo.at('crown_corners.bevel', 0, 'deg')).toBeCloseTo(33.86291398, 7);
    expect(demo.number('crown_drop', 'in')).toBeCloseTo(3.644549735, 8);
    expect(demo.number('crown_projection', 'in')).toBeCloseTo(2.847434323, 8);
  });

  it('uses what lies on site where that costs less, and never a stick that is not to be used', async () => {
    const open = new Open('juniper-hollow.json');
    open.type('use_stock_on_hand', 'yes');
    await proved(open);
    expect(open.number('trim_price', 'USD')).toBeLessThan(1065.7);
    for (const [profile, , least] of PROFILES)
      expect(open.at('trim_profiles.price', profile, 'USD')).toBeLessThanOrEqual(least + 1e-9);
    // The bowed crown, last but one in the table.
    expect(open.at('stock_on_hand.counts', 6, '')).toBe(0);
    expect(open.at('stock_on_hand.in_plan', 6, '')).toBe(0);
    expect(open.at('stock_on_hand.in_plan', 0, '')).toBeLessThanOrEqual(3);
    expect(open.at('trim_profiles.from_hand', 'base', '')).toBeGreaterThan(0);
  });

  it('keeps a proved plan through an edit and its undoing', () => {
    demo.type('saw_kerf', '3/32"');
    expect(demo.textAt('trim_profiles.status', 'base')).toBe('quick plan, not yet proved');
    demo.workbook.undo();
    expect(demo.textAt('trim_profiles.status', 'base')).toBe('least price, proved');
  });
});

describe('base between openings', () => {
  it('follows the openings of the schedule from both sides of a wall', () => {
    const open = new Open('juniper-hollow.json');
    // Three runs of the hall's west wall, between a cased opening of the living room and the door of the mudroom.
    const runs = () => ['T17', 'T18', 'T19'].map((mark) => open.at('trim_pieces.length', mark, 'in'));
    expect(runs()).toEqual(
      [25.71875, 152.625, 22.71875].map((inches) => expect.closeTo(inches, 9) as number),
    );
    const total = runs().reduce((a, b) => a + b);
    // The door moves 6 in: one run gains what the other loses.
    open.enter('openings', 'D08', 'offset', '256');
    expect(runs()[1]).toBeCloseTo(158.625, 9);
    expect(runs().reduce((a, b) => a + b)).toBeCloseTo(total, 9);
    open.enter('openings', 'D05', 'to_offset', '');
    expect(open.textAt('trim_pieces.piece_check', 'T17')).toContain('type its offset there');
  });

  it('says how much of the house is still to list', () => {
    const open = new Open('juniper-hollow.json');
    expect(open.at('trim_rooms.base_listed', 'study', 'ft')).toBe(0);
    expect(open.at('trim_rooms.base_left', 'study', 'ft')).toBeCloseTo(
      open.at('trim_rooms.base_run', 'study', 'ft'),
      9,
    );
  });
});

describe('take-off in the template', () => {
  it('cases a 32 × 80 door and a 36 × 48 window with 3 1/2 in stock and a reveal of 3/16 in', () => {
    const open = new Open('trim.json');
    expect(open.at('casing_sets.leg', 'D1', 'in')).toBeCloseTo(83.6875, 9);
    expect(open.at('casing_sets.head', 'D1', 'in')).toBeCloseTo(39.375, 9);
    expect(open.at('casing_sets.total', 'D1', 'in')).toBeCloseTo(206.75, 9);
    expect(open.at('casing_sets.head', 'W1', 'in')).toBeCloseTo(43.375, 9);
    expect(open.at('casing_sets.side', 'W1', 'in')).toBeCloseTo(55.375, 9);
    expect(open.at('casing_sets.total', 'W1', 'in')).toBeCloseTo(197.5, 9);
  });

  it('takes doors off the base as a textbook does: 148 + 2 × 149 − 25 ft = 421 ft', () => {
    // Worked example of a vocational carpentry textbook, p. 169: rooms of 148 and 149 + 149 ft of wall, 25 ft of doors.
    const open = new Open('trim.json');
    open.type('trim_wall_finish', '0"');
    open.type('casing_reveal', '0"');
    open.enter('trim_profiles', 'casing', 'face', '0');
    open.enter('rooms', 'room 1', 'length', `${(148 + 298) / 2 - 10}' 0"`);
    open.enter('openings', 'D1', 'width', String(25 * 12));
    expect(open.at('trim_rooms.base_run', 'room 1', 'ft')).toBeCloseTo(421, 9);
  });

  it('gives the miters and bevels of a published table for a spring of 52 degrees to five decimals', () => {
    // A builder's crown table, spring 52, corners of 1 to 7 degrees.
    const miters = [89.3655, 88.73106, 88.09674, 87.46259, 86.82868, 86.19507, 85.5618];
    const bevels = [37.9983, 37.99318, 37.98466, 37.97274, 37.95741, 37.93868, 37.91655];
    const open = new Open('trim.json');
    open.type('crown_spring_angle', '52');
    miters.forEach((miter, i) => {
      open.enter('crown_corners', 0, 'angle', String(i + 1));
      expect(open.at('crown_corners.miter', 0, 'deg').toFixed(5)).toBe(miter.toFixed(5));
      expect(open.at('crown_corners.bevel', 0, 'deg').toFixed(5)).toBe((bevels[i] ?? 0).toFixed(5));
    });
    open.type('crown_spring_angle', '38');
    open.type('spring_from', 'ceiling');
    expect(open.number('crown_spring', 'deg')).toBeCloseTo(52, 12);
  });

  it('says what to do with a piece longer than any stick, a length of zero, and stock without a price', () => {
    const open = new Open('trim.json');
    const plan = () => open.stateAt('trim_profiles.plan', 'casing');
    open.enter('trim_pieces', 'T4', 'measured', '0');
    expect(plan()).toMatchObject({
      state: 'fault',
      fault: expect.stringContaining('Piece T4 has the length') as string,
    });
    open.workbook.undo();
    open.enter('trim_pieces', 'T4', 'times', '10000');
    expect(plan()).toMatchObject({
      state: 'fault',
      fault: expect.stringContaining('10,006 pieces are more') as string,
    });
    open.workbook.undo();
    open.type('plan_objective', 'price');
    expect(plan()).toMatchObject({ state: 'fault', fault: 'There is no stick to cut these pieces from.' });
    expect(open.textAt('trim_stock.no_price', 0)).toBe('no price: not used in the plan');
    expect(open.textAt('trim_profiles.status', 'shoe')).toBe('nothing to cut');
  });

  it('says that a stock length without a price makes the sums too low, or is left out', () => {
    const open = new Open('trim.json');
    const say = () => open.text('trim_prices_say');
    const sums = ['trim_price', 'trim_order_price', 'trim_first_fit_price', 'trim_ten_percent_price'];
    for (const name of sums)
      expect(open.state(name), name).toMatchObject({
        state: 'blank',
        reason: 'every row of trim_stock.price is blank yet: type it there',
      });
    expect(open.stateAt('trim_stock.order_price', 2).state).toBe('blank');
    expect(say()).toBe('no stock length has one yet');
    open.enter('trim_stock', 0, 'price', '10');
    expect(say()).toContain('the sums below are too low');
    open.type('plan_objective', 'price');
    expect(say()).toContain('not used');
    for (let row = 0; row < 12; row++) open.enter('trim_stock', row, 'price', '10');
    expect(say()).toBe('each stock length has one');
    for (const name of sums) expect(open.number(name, 'USD'), name).toBeGreaterThan(0);
  });
});

describe('a piece that no plan can cut yet', () => {
  it('says what it is still to be told, and is named above the plans', () => {
    const trim = new Open('trim.json');
    expect(trim.state('pieces_left_out').state).toBe('blank');
    for (const [column, words] of [
      ['times', 'type how many there are: it is in no plan yet'],
      ['room', 'its length is not in the room schedule or among the openings yet'],
      ['from', 'choose where its length comes from'],
      ['profile', 'choose the profile'],
    ] as const) {
      trim.enter('trim_pieces', 'T1', column, '');
      expect(trim.textAt('trim_pieces.piece_check', 'T1')).toBe(words);
      expect(trim.text('pieces_left_out')).toBe('T1');
    }
    trim.enter('trim_pieces', 'T1', 'profile', 'base');
    trim.enter('trim_pieces', 'T1', 'from', 'measured');
    expect(trim.textAt('trim_pieces.piece_check', 'T1')).toBe('type the length measured');
    trim.enter('trim_pieces', 'T1', 'measured', '60');
    trim.enter('trim_pieces', 'T1', 'times', '1');
    expect(trim.textAt('trim_pieces.piece_check', 'T1')).toBe('');
    expect(trim.state('pieces_left_out').state).toBe('blank');
  });
});
