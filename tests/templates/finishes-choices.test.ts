/** Finishes where a job differs from the demo: two coats, taped board, box beams, a wall that juts in, tight laps. */
import { beforeEach, describe, expect, it } from 'vitest';
import { tablesOf } from '../../src/workbook/index.ts';
import { Open } from './open.ts';

let job: Open;
beforeEach(() => {
  job = new Open('finishes.json');
});

const ordered = (item: string) => job.at('finish_order.quantity', item, '');

describe('plaster', () => {
  // Geometry, ft³ for 1,000 ft².
  it.each([
    ['1/16"', 5.2083],
    ['3/32"', 7.8125],
    ['1/8"', 10.4167],
  ])('%s over 1,000 ft²', (thickness, volume) => {
    job.type('plaster_area', '1000 ft2');
    job.type('plaster_thickness', thickness);
    expect(job.number('plaster_volume', 'ft3')).toBeCloseTo(volume, 4);
  });

  it('1/16 in over 100 yd²: a building-construction handbook takes 5.2 ft³, a ninth over the bare volume', () => {
    job.type('plaster_area', '900 ft2');
    job.type('plaster_thickness', '1/16"');
    expect(job.number('plaster_volume', 'ft3')).toBeCloseTo(4.6875, 6);
    expect(5.2 / job.number('plaster_volume', 'ft3') - 1).toBeCloseTo(0.109, 3);
  });

  it('of two coats the base and the finish coat are bags of their own', () => {
    job.type('plaster_area', '1000 ft2');
    job.type('plaster_thickness', '1/8"');
    job.type('plaster_system', 'two-coat veneer plaster');
    // Base 1/16 in: 1000 × 1.08 × (1/16) / (92 × 3/32) = 7.83. Finish coat: 1080 / 138 = 7.83.
    expect(ordered('plaster')).toBe(8);
    expect(ordered('finish coat')).toBe(8);
    expect(job.number('plaster_water_total', 'qt')).toBeCloseTo(16 * 15.5, 9);
    job.type('plaster_system', 'one-coat veneer plaster');
    expect(ordered('plaster')).toBe(16);
    expect(ordered('finish coat')).toBe(0);
  });

  it('a finish coat as thick as all coats is told', () => {
    job.type('plaster_system', 'two-coat veneer plaster');
    job.type('finish_coat_thickness', '3/32"');
    expect(job.text('plaster_thickness_check')).toBe('the finish coat alone is as thick as all coats');
  });

  it('taped board: 35 gal of compound for 7,000 ft² (a published estimating textbook), no plaster, days to tape', () => {
    job.type('plaster_system', 'taped board');
    for (const row of [1, 2, 3, 4]) job.enter('board_surfaces', row, 'repeats', '0');
    for (const [column, text] of [
      ['own_length', '100'],
      ['own_height', '10'],
      ['repeats', '7'],
    ] as const)
      job.enter('board_surfaces', 0, column, text);
    expect(ordered('joint compound')).toBe(35);
    expect(ordered('plaster')).toBe(0);
    expect(job.number('plaster_volume', 'ft3')).toBe(0);
    expect(job.number('finish_build', 'in')).toBeCloseTo(0.5, 12);
    // Two people at 400 ft² a day, to the next half day.
    expect(job.number('plaster_days', 'day')).toBe(9);
  });
});

describe('equal clear bays', () => {
  it('are equal for beams of unlike widths too', () => {
    job.enter('beam_rooms', 'room_1', 'rule', 'equal clear bays');
    job.enter('beams', 'beam_2', 'beam_width', '7.5');
    // By hand: (192 in - 5 1/2 in - 7 1/2 in) / 3.
    for (const beam of ['beam_1', 'beam_2'])
      expect(job.at('beams.clear_before', beam, 'in')).toBeCloseTo(179 / 3, 9);
    expect(job.at('beam_rooms.clear_last', 'room_1', 'in')).toBeCloseTo(179 / 3, 9);
    expect(job.at('beam_rooms.equal_bays_first', 'room_1', 'in')).toBeCloseTo(179 / 3 + 5.5 / 2, 9);
  });
});

describe('what an order would be short of', () => {
  it('a room without the finish of its ceiling is asked for, and no plaster is ordered without it', () => {
    expect(job.number('plaster_area', 'ft2')).toBeGreaterThan(0);
    job.enter('rooms', 'room_1', 'ceiling', '');
    expect(job.textAt('finish_areas.area_check', 'room_1')).toContain('finish of its ceiling');
    expect(job.state('plaster_area').state).toBe('blank');
    expect(job.state('plaster_bags').state).toBe('blank');
  });

  it('a surface says what it is still to be told', () => {
    for (const [column, words] of [
      ['direction', 'choose how the sheets run'],
      ['sheet', 'choose the sheet'],
      ['repeats', 'type how many there are'],
      ['plane', 'choose the plane'],
      ['room', 'choose the room'],
    ] as const) {
      job.enter('board_surfaces', 0, column, '');
      expect(job.textAt('board_surfaces.layout_check', 0)).toBe(words);
    }
  });
});

describe('a wall that juts into the room', () => {
  beforeEach(() => {
    job.enter('beam_spans', 'beam_2', 'span', '100');
    job.enter('beam_rooms', 'room_1', 'jut_line', `8'`);
    job.enter('beam_rooms', 'room_1', 'jut_corner', 'north-east');
  });

  const cut = (beam: string) => job.at('beam_spans.order_length', beam, 'in');

  it('ends the beams on its side, which then set no length', () => {
    expect(job.textAt('beams.beam_check', 'beam_2')).toContain('ends at the wall that juts in');
    expect(job.textAt('beams.beam_check', 'beam_1')).toBe('');
    expect(cut('beam_2')).toBeCloseTo(100 - 2 * (1 / 2 + 3 / 32 + 1 / 8), 9);
    expect(cut('beam_1')).toBeCloseTo(144 - 2 * (1 / 2 + 3 / 32 + 1 / 8), 9);
  });

  it('at the south end the beam is drawn from the north wall', () => {
    job.enter('beam_rooms', 'room_1', 'jut_corner', 'south-east');
    const end = job.at('beams.plan_from', 'beam_2', 'in') + cut('beam_2');
    expect(end).toBeCloseTo(144 - (1 / 2 + 3 / 32 + 1 / 8), 9);
  });

  it('is drawn in the plan where it stands, as deep as it shortens the beam that ends at it', () => {
    const drawn = () =>
      ['from_west', 'from_south', 'width', 'depth'].map((what) => job.number(`shown_jut_${what}`, 'in'));
    const across = job.number('shown_across', 'in');
    const close = (wanted: readonly number[]) => {
      for (const [at, inches] of drawn().entries()) expect(inches).toBeCloseTo(wanted[at] ?? NaN, 9);
    };
    close([96, 100, across - 96, 44]);
    job.enter('beam_rooms', 'room_1', 'jut_corner', 'south-east');
    close([96, 0, across - 96, 44]);
    job.enter('beam_spans', 'beam_2', 'span', '144');
    job.enter('beam_spans', 'beam_1', 'span', '100');
    job.enter('beam_rooms', 'room_1', 'jut_corner', 'north-west');
    close([0, 100, 96, 44]);
    job.enter('beam_rooms', 'room_1', 'jut_line', '');
    job.enter('beam_rooms', 'room_1', 'jut_corner', '');
    expect(drawn()[2]).toBe(0);
  });

  it('a beam on its very corner, and a corner that is not named, are told', () => {
    job.enter('beam_rooms', 'room_1', 'jut_line', `10' 8"`);
    expect(job.textAt('beams.beam_check', 'beam_2')).toContain('lands on the outside corner');
    job.enter('beam_rooms', 'room_1', 'jut_corner', '');
    expect(job.textAt('beams.beam_check', 'beam_1')).toContain('which corner of the room');
  });
});

describe('the order of beams', () => {
  it('smaller than the beam, and a beam left out', () => {
    job.enter('beam_order', 0, 'nominal_width', '6');
    expect(job.textAt('beam_order.order_check', 0)).toBe('smaller than the beam');
    job.enter('beam_order', 1, 'beam', 'beam_1');
    expect(job.text('beams_not_ordered')).toBe('beam_2');
  });

  it('a box needs its boards: sides, bottom, thickness', () => {
    const demo = new Open('juniper-hollow.json');
    const row = demo.row('beam_order', 'kitchen_west');
    const said = (column: string, text: string, at = row) => {
      demo.enter('beam_order', at, column, text);
      return demo.textAt('beam_order.order_check', at);
    };
    expect(demo.textAt('beam_order.order_check', row)).toBe('');
    expect(said('nominal_width', '8')).toBe('narrower than the side');
    expect(said('pieces', '1')).toBe('a box has two sides');
    expect(said('nominal_width', '5', row + 1)).toBe('narrower than the bottom');
    expect(said('part', 'solid')).toBe('write sides or bottom under Part');
    demo.enter('beams', 'kitchen_west', 'box_board', '');
    expect(demo.textAt('beams.beam_check', 'kitchen_west')).toContain('type the thickness');
    demo.enter('beams', 'kitchen_west', 'box_board', '4');
    expect(demo.textAt('beams.beam_check', 'kitchen_west')).toContain('fill the box');
  });
});

it('what the gaps at the walls do not take of a ceiling’s movement is shared by its laps', () => {
  const at = (column: string, unit: string) => job.at(`board_ceilings.${column}`, 'room_2', unit);
  const taken = at('lap_opening', 'in') * at('courses', '') + 2 * 0.375;
  expect(taken).toBeCloseTo(at('across_change', 'in'), 9);
  job.type('ceiling_wall_gap', '1"');
  expect(at('lap_opening', 'in')).toBe(0);
});

describe('framing readings as a person types them', () => {
  const read = (entries: Readonly<Record<string, string>>) => {
    for (const [column, text] of Object.entries({ base_length: '', ...entries }))
      job.enter('framing_readings', 0, column, text);
    return job.textAt('framing_readings.verdict', 0);
  };

  it('out of plane needs no length of a level', () => {
    expect(read({ check: 'plane', reading: '1/4' })).toBe('fail');
    expect(read({ check: 'plane', reading: '1/16' })).toBe('pass');
  });

  it('plumb and bow ask for it, and a reading asks what was checked', () => {
    expect(read({ check: 'plumb', reading: '1/4' })).toBe('type the length of the level');
    expect(read({ check: 'bow', reading: '1/4' })).toBe('type the length of the level');
    expect(read({ check: '', reading: '1/4' })).toBe('choose what was checked');
  });
});

it.each(['finishes.json', 'juniper-hollow.json'])('%s: laps are over or within one figure', (file) => {
  const laps = [...tablesOf(new Open(file).workbook.document)]
    .flatMap(({ columns }) => columns)
    .find(({ name }) => name === 'movement_check');
  const figures = laps?.formula?.match(/(?<="(?:over|within) )[^"]*?\)/gu) ?? [];
  expect(figures).toEqual(['1/16 in (1½ mm)', '1/16 in (1½ mm)']);
  expect(laps?.settled).toEqual(['within 1/16 in (1½ mm) a board']);
});
