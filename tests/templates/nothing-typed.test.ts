/** What is said when nothing or only part is typed: sums wait and name the row, lists do not say “none”. */
import { describe, expect, test } from 'vitest';
import { FunctionLibrary, type CellState } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { newJob, readWorkbook, tablesOf, Workbook, type Table } from '../../src/workbook/index.ts';
import { Open, templateText } from './open.ts';

function emptyJob(file: string): Workbook {
  const opened = readWorkbook(templateText(file));
  if ('code' in opened) throw new Error(opened.found);
  return new Workbook(
    newJob(opened.document, { id: file, title: 'The next job' }),
    new FunctionLibrary(tradeFunctions),
  );
}

function tableOf(open: Open, name: string): Table {
  for (const table of tablesOf(open.workbook.document)) if (table.name === name) return table;
  throw new Error(`no table ${name}`);
}

const rowsOf = (open: Open, name: string) => tableOf(open, name).rows.length;

function addRow(open: Open, name: string, entries: Readonly<Record<string, string>>): void {
  const { id, rows } = tableOf(open, name);
  const at = rows.length;
  open.workbook.apply({ kind: 'insert-rows', table: id, at, rows: [{ id: `new_${at}`, entries: {} }] });
  for (const [column, text] of Object.entries(entries)) open.enter(name, at, column, text);
}

const HOUSE = [
  ...['room_floor_area', 'room_volume', 'room_perimeter', 'room_wall_gross', 'room_wall_net'],
  ...['plaster_ceiling_area', 'board_ceiling_area', 'window_area', 'exterior_door_area', 'envelope_area'],
  ...['ua_total', 'conduction_design', 'total_design', 'heat_year', 'ach50'],
];
const AIR = [
  ...['house_design_supply', 'house_design_exhaust', 'house_measured_supply', 'house_measured_exhaust'],
  ...['provided_rate', 'spare_rate', 'rate_verdict', 'supplied_floor', 'house_balance_difference'],
  ...['house_allowed_difference', 'balance_spread', 'rooms_not_measured', 'units_not_measured'],
  ...['units_out_of_balance', 'rooms_short'],
];

const FINISHES = [
  ...['walls_gross', 'plaster_area', 'plaster_bags_exact', 'plaster_bags', 'plaster_bags_gross'],
  ...['plaster_volume', 'plaster_water_total', 'hang_days', 'plaster_days', 'joint_length', 'rooms_left_out'],
];
const TRIM = [
  'trim_price',
  'trim_order_price',
  'trim_first_fit_price',
  'trim_saving',
  'trim_ten_percent_price',
];

describe.each([
  ['house-envelope-ventilation.json', [...HOUSE, ...AIR]],
  ['finishes.json', FINISHES],
  ['trim.json', TRIM],
  ['hold-points.json', ['timeline_end', 'timeline_days']],
  ['juniper-hollow.json', [...HOUSE, ...AIR, ...FINISHES, ...TRIM, 'timeline_end']],
])('a new job from %s', (file, names) => {
  const job = emptyJob(file);
  test.each(names)('%s is not known yet', (name) => {
    expect(job.state(name).state).toBe('blank');
  });
});

test.each(['finishes.json', 'juniper-hollow.json'])('and nothing is to be ordered: %s', (file) => {
  const job = emptyJob(file);
  const columns = [
    ...['board_area', 'sheets_by_area', 'sheets_by_layout', 'sheets_together', 'sheets_ordered'].map(
      (column) => ['board_sizes', column] as const,
    ),
    ['finish_order', 'quantity'] as const,
  ];
  const numbers = columns.flatMap(([table, column]) =>
    [0, 1, 2, 3, 4, 5, 6].flatMap((row) => {
      const state = job.columnState(table, column, row);
      return state.state === 'value' ? [`${table}.${column}[${row}]: ${String(state.value)}`] : [];
    }),
  );
  // One coat of plaster on board: no second coat and no compound, whatever the rooms are.
  expect(numbers.filter((each) => !/^finish_order\.quantity\[\d\]: 0$/u.test(each))).toEqual([]);
  expect(numbers.length).toBeLessThanOrEqual(2);
});

test('nothing is measured in a new job, rather than held', () => {
  expect(emptyJob('house-envelope-ventilation.json').state('commission_verdict')).toMatchObject({
    value: 'not measured yet',
  });
});

/** Why a cell is blank. */
function reasonIn(state: CellState): string | undefined {
  return state.state === 'blank' ? state.reason : `is ${state.state}`;
}

describe('a room half typed', () => {
  test('without a height the volume of the air test and the air changes wait, and name its row', () => {
    const house = new Open('house-envelope-ventilation.json');
    expect(house.state('ach50').state).toBe('value');
    house.enter('rooms', 2, 'height', '');
    for (const name of ['room_volume', 'building_volume', 'ach50'])
      expect(house.state(name), name).toEqual({ state: 'waiting', for: 'rooms.mean_height, row 3' });
    // Its floor is typed, so the floor area stands.
    expect(house.state('room_floor_area').state).toBe('value');
    house.enter('rooms', 2, 'length', '');
    for (const name of ['room_volume', 'building_volume', 'ach50'])
      expect(reasonIn(house.state(name)), name).toBe('rooms.volume has nothing in row 3 yet');
    expect(reasonIn(house.state('room_floor_area'))).toBe('rooms.floor_area has nothing in row 3 yet');
  });

  test('without a name it is counted all the same, and a row with nothing typed is not missed', () => {
    const house = new Open('house-envelope-ventilation.json');
    const all = house.number('room_volume', 'ft3');
    house.enter('rooms', 2, 'room', '');
    expect(house.number('room_volume', 'ft3')).toBeCloseTo(all, 9);
    for (const column of ['length', 'width', 'height', 'typed_area', 'average_height'])
      house.enter('rooms', 2, column, '');
    expect(house.number('room_volume', 'ft3')).toBeLessThan(all);
  });

  test('a window without a size holds up the heat loss; a house without a window loses none by them', () => {
    const house = new Open('house-envelope-ventilation.json');
    const window = house.rowWhere('openings', { kind: 'window' });
    house.enter('openings', window, 'height', '');
    for (const name of ['window_area', 'ua_total'])
      expect(house.state(name), name).toMatchObject({ state: 'blank' });
    expect(house.textAt('openings.check', window)).toBe('type its width and height: it is not taken off yet');
    for (let row = 0; row < 15; row++) house.enter('openings', row, 'kind', 'exterior door');
    expect(house.number('window_area', 'ft2')).toBe(0);
  });
});

test('a layer that the assembly shown does not have is not safe from condensation', () => {
  const house = new Open('juniper-hollow.json');
  const sheathing = house.rowWhere('assembly_layers', { layer: 'sheathing, 7/16 in' });
  house.enter('assembly_layers', sheathing, 'assembly', 'flat_ceiling');
  for (const name of ['checked_number', 'sheathing_temperature', 'sheathing_verdict', 'exterior_insulation'])
    expect(house.state(name).state, name).not.toBe('value');
});

describe('a surface half typed', () => {
  const SHEET = 'wall 4x12';
  const open = (column: string, row = 0) => {
    const demo = new Open('juniper-hollow.json');
    const at = row + demo.rowWhere('board_surfaces', { sheet: SHEET });
    demo.enter('board_surfaces', at, column, '');
    return { demo, at };
  };

  test('without its count holds up the order of its own sheet, by area, layout and shared offcuts', () => {
    const { demo, at } = open('repeats');
    const row = `row ${at + 1}`;
    for (const column of ['sheets_by_area', 'sheets_by_layout', 'sheets_together', 'sheets_ordered'])
      expect(reasonIn(demo.stateAt(`board_sizes.${column}`, SHEET)), column).toContain(row);
    expect(demo.stateAt('board_sizes.sheets_ordered', 'ceiling 4x8').state).toBe('value');
    expect(reasonIn(demo.stateAt('finish_order.quantity', SHEET))).toContain(row);
    for (const item of ['screws', 'tape'])
      expect(reasonIn(demo.stateAt('finish_order.quantity', item)), item).toContain(row);
    expect(reasonIn(demo.state('hang_days'))).toContain(row);
  });

  test('without a sheet holds up every sheet: it may be any', () => {
    const { demo, at } = open('sheet');
    for (const sheet of [SHEET, 'ceiling 4x8'])
      expect(reasonIn(demo.stateAt('board_sizes.sheets_ordered', sheet)), sheet).toBe(
        `row ${at + 1} of board_surfaces gives nothing for it yet`,
      );
  });

  test('a sheet that no surface takes is ordered nought times', () => {
    const demo = new Open('juniper-hollow.json');
    for (;;) {
      const at = demo.rowWhere('board_surfaces', { sheet: SHEET });
      if (at < 0) break;
      demo.enter('board_surfaces', at, 'sheet', 'ceiling 4x8');
    }
    for (const column of ['sheets_by_area', 'sheets_by_layout', 'sheets_together'])
      expect(demo.at(`board_sizes.${column}`, SHEET, ''), column).toBe(0);
  });

  test('without the floor of its room no weight of a floor is said', () => {
    const demo = new Open('juniper-hollow.json');
    expect(demo.stateAt('delivery.floor_load', 0).state).toBe('value');
    demo.enter('rooms', demo.textAt('board_surfaces.room', 0), 'floor_level', '');
    for (const load of ['board_load', 'plaster_load', 'floor_load'])
      expect(demo.stateAt(`delivery.${load}`, 0).state, load).toBe('blank');
  });
});

test('a room that stands twice among the areas says so, and one that is missing there is counted', () => {
  const demo = new Open('juniper-hollow.json');
  expect(demo.number('rooms_left_out', '')).toBe(0);
  demo.enter('finish_areas', 1, 'room', demo.textAt('finish_areas.room', 0));
  expect(demo.textAt('finish_areas.area_check', 0)).toBe('this room stands twice, and so do its areas');
});

test('a stage without its days holds up the dates behind it, and the last day', () => {
  const demo = new Open('juniper-hollow.json');
  const board = demo.rowWhere('timeline_stages', { stage: 'Board' });
  demo.enter('timeline_stages', board, 'rate', '');
  expect(demo.textAt('timeline_stages.start', board)).toBe('2027-04-05');
  const why = `timeline_stages.work_days has nothing in row ${board + 1} yet`;
  expect(reasonIn(demo.stateAt('timeline_stages.start', board + 1))).toBe(why);
  expect(reasonIn(demo.state('timeline_end'))).toBe(why);
  // Days to wait alone do not stand for a quantity that is counted elsewhere.
  demo.enter('timeline_stages', board, 'waiting', '3');
  expect(demo.stateAt('timeline_stages.work_days', board).state).toBe('blank');
});

describe('ventilation', () => {
  test('with exhaust alone is judged by the exhaust: there is no supply, which is nought and known', () => {
    const house = new Open('house-envelope-ventilation.json');
    house.type('system_balance', 'not balanced');
    for (let row = 0; row < 7; row++) {
      house.enter('ventilation_rooms', row, 'direction', 'exhaust');
      house.enter('ventilation_rooms', row, 'design_flow', '20');
    }
    expect(house.number('house_design_supply', 'cfm')).toBe(0);
    expect(house.number('provided_rate', 'cfm')).toBeCloseTo(140, 6);
    expect(house.text('rate_verdict')).toBe('met');
    expect(house.text('provided_basis')).toBe('design flows');
    for (let row = 0; row < 7; row++) house.enter('ventilation_rooms', row, 'measured_flow', '15');
    expect(house.text('provided_basis')).toBe('measured flows');
    expect(house.number('house_measured_supply', 'cfm')).toBe(0);
    expect(house.number('provided_rate', 'cfm')).toBeCloseTo(105, 6);
  });

  test.each(['exhaust', 'supply'])(
    'with %s alone, as chosen, nothing is held for its balance',
    (direction) => {
      const house = new Open('house-envelope-ventilation.json');
      for (let row = 0; row < 7; row++) {
        house.enter('ventilation_rooms', row, 'direction', direction);
        house.enter('ventilation_rooms', row, 'design_flow', '20');
      }
      const check = () => house.textAt('ventilation_units.check', 0);
      expect(check()).toBe('the design flows do not balance');
      house.type('system_balance', 'not balanced');
      expect(check()).toBe('some rooms are not measured yet');
      expect(house.text('house_balance_verdict')).toBe('not measured');
      for (let row = 0; row < 7; row++) house.enter('ventilation_rooms', row, 'measured_flow', '20');
      expect(house.text('unit_checks')).toBe('');
      expect(house.textAt('ventilation_units.balance_verdict', 0)).toBe('one way');
      expect(house.number('units_not_measured', '')).toBe(0);
      expect(house.text('units_out_of_balance')).toBe('');
      expect(house.text('house_balance_verdict')).toBe('not balanced, as chosen');
      expect(house.text('commission_verdict')).toBe('released');
      // Fans that should balance are held as before.
      house.type('system_balance', 'balanced');
      expect(house.text('commission_verdict')).toBe('held');
    },
  );

  test('with a room that has no design flow its unit and the house wait, and the unit says so', () => {
    const house = new Open('juniper-hollow.json');
    const room = house.rowWhere('ventilation_rooms', { direction: 'supply' });
    expect(house.text('unit_checks')).toBe('');
    for (const column of ['room', 'design_flow']) house.enter('ventilation_rooms', room, column, '');
    const row = Number(house.textAt('ventilation_rooms.recovery_unit', room) === 'unit N');
    expect(reasonIn(house.state('house_design_supply'))).toContain('gives nothing for it yet');
    expect(house.textAt('ventilation_units.check', row)).toBe('a room of it has no design flow yet');
    expect(house.state('rate_verdict').state).toBe('blank');
  });

  test('no unit out of balance is “none” only once all are measured; else it is said how many are not', () => {
    const house = new Open('juniper-hollow.json');
    expect(house.number('units_not_measured', '')).toBe(0);
    expect(house.text('units_out_of_balance')).toBe('unit N');
    const grille = (direction: string, unit: string) => {
      const room = house.rowWhere('ventilation_rooms', { direction, recovery_unit: unit });
      const name = house.textAt('ventilation_rooms.room', room);
      return house.rowWhere('grille_readings', { direction, room: name });
    };
    house.enter('grille_readings', grille('supply', 'unit N'), 'measured_flow', '');
    expect(house.textAt('ventilation_units.balance_verdict', 'unit N')).toBe('not measured');
    expect(house.number('units_not_measured', '')).toBe(1);
    expect(house.text('units_out_of_balance')).toBe('none so far; 1 is not measured yet');
    expect(house.text('commission_reason_units')).toBe('none so far; 1 is not measured yet');
    expect(house.text('house_balance_verdict')).toBe('not measured');
    // What brings a unit back into the band is not “none” while it is not measured.
    expect(house.stateAt('ventilation_units.exhaust_behind', 'unit N').state).toBe('blank');
    house.enter('grille_readings', grille('exhaust', 'unit S'), 'measured_flow', '');
    expect(house.text('units_out_of_balance')).toBe('not one is measured yet');
    expect(house.text('commission_verdict')).toBe('not measured yet');
  });

  test('a duct or grille of no room, or of one without a design flow, is neither quiet nor met', () => {
    const house = new Open('juniper-hollow.json');
    house.enter('duct_runs', 0, 'room', '');
    expect(house.textAt('duct_runs.velocity_verdict', 0)).toBe('');
    expect(house.textAt('duct_runs.check', 0)).toBe('no such room and air on the ventilation sheet');
    house.enter('grille_readings', 0, 'room', '');
    expect(house.stateAt('grille_readings.reading_verdict', 0).state).toBe('blank');
  });
});

describe('what is typed twice or wrongly says so in its row', () => {
  const again = 'another room has this name: give one of them another';

  test.each(['finishes.json', 'trim.json'])('a room of one name twice, in %s', (file) => {
    const open = new Open(file);
    addRow(open, 'rooms', { room: open.textAt('rooms.room', 0) });
    const last = rowsOf(open, 'rooms') - 1;
    expect(open.textAt('rooms.check', 0)).toBe(again);
    expect(open.textAt('rooms.check', last)).toBe(again);
    open.enter('rooms', last, 'room', 'another');
    expect(open.textAt('rooms.check', 0)).toBe('');
    expect(open.textAt('rooms.check', last)).toMatch(/^type length and width/u);
  });

  test('and among the hold points, where a room has but its name', () => {
    const open = new Open('hold-points.json');
    for (const room of ['study', 'bath', 'study']) addRow(open, 'rooms', { room });
    expect([0, 1, 2].map((row) => open.textAt('rooms.check', row))).toEqual([again, '', again]);
  });

  test('an opening for trim: its mark twice, no size, no room', () => {
    const open = new Open('trim.json');
    expect(open.textAt('openings.check', 0)).toBe('');
    expect(open.textAt('openings.check', 1)).toBe('');
    open.enter('openings', 0, 'room', '');
    expect(open.textAt('openings.check', 0)).toBe('no room of the schedule has this name');
    open.enter('openings', 0, 'width', '');
    expect(open.textAt('openings.check', 0)).toBe('type its width and height');
    open.enter('openings', 0, 'mark', open.textAt('openings.mark', 1));
    for (const row of [0, 1])
      expect(open.textAt('openings.check', row)).toBe(
        'another opening has this mark: give one of them another',
      );
  });

  test('a negative flow of a leak holds the board, however small it looks', () => {
    const open = new Open('hold-points.json');
    addRow(open, 'leak_finds', { mark: 'L1', place: 'sill', find_flow50: '2' });
    expect(open.number('leaks_holding', '')).toBe(0);
    expect(open.text('finds_leaks')).toBe('met');
    open.enter('leak_finds', 0, 'find_flow50', '-20');
    expect(open.textAt('leak_finds.check', 0)).toBe(
      'a flow cannot be negative: type it as a positive number',
    );
    expect(open.number('leaks_holding', '')).toBe(1);
    expect(open.text('leaks_open')).toBe('L1');
    expect(open.text('finds_leaks')).toBe('not met');
    open.enter('leak_finds', 0, 'find_flow50', '');
    expect(open.number('leaks_holding', '')).toBe(1);
  });
});
