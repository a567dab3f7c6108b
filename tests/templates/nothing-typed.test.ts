/** What is said when nothing or only part is typed: sums wait and name the row, lists do not say “none”. */
import { describe, expect, test } from 'vitest';
import { FunctionLibrary, type CellState } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { newJob, readWorkbook, Workbook } from '../../src/workbook/index.ts';
import { Open, templateText } from './open.ts';

function emptyJob(file: string): Workbook {
  const opened = readWorkbook(templateText(file));
  if ('code' in opened) throw new Error(opened.found);
  return new Workbook(
    newJob(opened.document, { id: file, title: 'The next job' }),
    new FunctionLibrary(tradeFunctions),
  );
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

describe.each([
  ['house-envelope-ventilation.json', [...HOUSE, ...AIR]],
  ['juniper-hollow.json', [...HOUSE, ...AIR]],
])('a new job from %s', (file, names) => {
  const job = emptyJob(file);
  test.each(names)('%s is not known yet', (name) => {
    expect(job.state(name).state).toBe('blank');
  });
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
      expect(reasonIn(house.state(name)), name).toBe('rooms.volume has nothing in row 3 yet');
    // Its floor is typed, so the floor area stands.
    expect(house.state('room_floor_area').state).toBe('value');
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
    for (let row = 0; row < 15; row++) house.enter('openings', row, 'kind', 'door');
    expect(house.number('window_area', 'ft2')).toBe(0);
  });
});

test('a layer that the assembly shown does not have is not safe from condensation', () => {
  const house = new Open('juniper-hollow.json');
  house.type('checked_layer', 'no such layer of it');
  for (const name of ['checked_number', 'sheathing_temperature', 'sheathing_verdict'])
    expect(house.state(name).state, name).not.toBe('value');
});

describe('ventilation', () => {
  test('with exhaust alone is judged by the exhaust: there is no supply, which is nought and known', () => {
    const house = new Open('house-envelope-ventilation.json');
    house.type('system_balance', 'exhaust or supply only');
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

  test('with a room that has no design flow its unit and the house wait, and the unit says so', () => {
    const house = new Open('juniper-hollow.json');
    const room = house.rowWhere('ventilation_rooms', { direction: 'supply' });
    house.enter('ventilation_rooms', room, 'room', '');
    expect(house.state('house_design_supply').state).toBe('value');
    house.enter('ventilation_rooms', room, 'design_flow', '');
    expect(house.state('house_design_supply').state).toBe('blank');
    expect(house.text('unit_checks')).not.toBe('');
    expect(house.state('rate_verdict').state).toBe('value');
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
    house.enter('grille_readings', grille('exhaust', 'unit S'), 'measured_flow', '');
    expect(house.text('units_out_of_balance')).toBe('not one is measured yet');
    expect(house.text('commission_verdict')).toBe('not measured yet');
  });

  test('a duct or grille of no room, or of one without a design flow, is neither quiet nor met', () => {
    const house = new Open('juniper-hollow.json');
    house.enter('duct_runs', 0, 'room', 'attic');
    expect(house.textAt('duct_runs.velocity_verdict', 0)).toBe('');
    expect(house.textAt('duct_runs.check', 0)).toBe('no such room and air on the ventilation sheet');
    house.enter('grille_readings', 0, 'room', 'attic');
    expect(house.stateAt('grille_readings.reading_verdict', 0).state).toBe('blank');
  });
});
