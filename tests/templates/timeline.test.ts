import { beforeEach, describe, expect, test } from 'vitest';
import { Open } from './open.ts';

let house: Open;
beforeEach(() => {
  house = new Open('juniper-hollow.json');
});

const row = (stage: string) => house.rowWhere('timeline_stages', { stage });
const start = (stage: string) => house.textAt('timeline_stages.start', row(stage));
const finish = (stage: string) => house.textAt('timeline_stages.finish', row(stage));

test('days of work are quantity over pace and crews, in whole days, and agree with the take-off', () => {
  // 9,322 ft² of board at 600 ft² a head and day, two hangers: 7.8, so 8; the board sheet says 8.0 days.
  expect(house.textAt('timeline_stages.start', 0)).toBe('2027-04-05');
  expect(house.number('hang_days', 'day')).toBe(8);
  // 2027-04-05 is a Monday; eight working days end on Wednesday of the next week.
  expect(finish('Board')).toBe('2027-04-14');
  expect(start('Plaster')).toBe('2027-04-15');
  expect(start('Plaster dries') > finish('Plaster')).toBe(true);
});

test('dates move when a quantity, a crew, the week or the start changes', () => {
  const before = house.text('timeline_end');
  house.enter('timeline_stages', row('Board'), 'crews', '1');
  expect(finish('Board')).toBe('2027-04-26');
  expect(house.text('timeline_end') > before).toBe(true);
  house.workbook.undo();
  house.enter('rooms', 'living', 'length', '60 ft');
  expect(house.text('timeline_end') > before).toBe(true);
  house.workbook.undo();
  expect(house.text('timeline_end')).toBe(before);
  house.type('work_week', '6');
  expect(finish('Board')).toBe('2027-04-13');
  expect(house.text('timeline_end') < before).toBe(true);
  house.type('start_date', '4/10/2027');
  // A Saturday, on which a week of six days works.
  expect(start('Board')).toBe('2027-04-10');
});

test('a start that is no date is told, and nothing else of the workbook waits for it', () => {
  house.type('start_date', 'in spring');
  expect(house.state('timeline_end')).toMatchObject({ state: 'fault', fault: '“in spring” is not a date.' });
  expect(house.state('ach50').state).toBe('value');
});

describe('the template on its own', () => {
  test('has stages and no dates, and no fault, until a start and quantities are typed', () => {
    const blank = new Open('hold-points.json');
    expect(blank.workbook.faults()).toEqual([]);
    expect(blank.state('timeline_end').state).not.toBe('value');
    blank.type('start_date', '2027-04-05');
    blank.enter('timeline_stages', 0, 'typed_quantity', '1000');
    blank.enter('timeline_stages', 0, 'rate', '600');
    blank.enter('timeline_stages', 0, 'crews', '1');
    expect(blank.textAt('timeline_stages.finish', 0)).toBe('2027-04-06');
  });
});
