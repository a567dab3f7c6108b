import { beforeEach, describe, expect, test } from 'vitest';
import { tablesOf } from '../../src/workbook/index.ts';
import { Open } from './open.ts';

const BOARD = 'board may start';

let house: Open;
beforeEach(() => {
  house = new Open('juniper-hollow.json');
});

/** A row added to a table, as a person would type it. */
function add(open: Open, name: string, entries: Readonly<Record<string, string>>): void {
  const table = [...tablesOf(open.workbook.document)].find((one) => one.name === name);
  if (!table) throw new Error(`no table ${name}`);
  const ids = Object.entries(entries).map(
    ([column, text]) => [table.columns.find((one) => one.name === column)?.id ?? '', text] as const,
  );
  const row = { id: `${name}_new_${table.rows.length}`, entries: Object.fromEntries(ids) };
  const done = open.workbook.apply({
    kind: 'insert-rows',
    table: table.id,
    at: table.rows.length,
    rows: [row],
  });
  if ('problem' in done) throw new Error(done.problem);
}

function closeFraming(): void {
  for (const mark of ['F04', 'F09']) house.enter('framing_readings', mark, 'reading', '0.0625');
  house.enter('framing_moisture', 'M4', 'moisture', '11');
}

function closeLeaks(): void {
  for (const mark of ['L15', 'L16']) house.enter('leak_finds', mark, 'status', 'sealed');
  house.enter('penetrations', 'P10', 'status', 'closed');
}

/** The readings of the last test again, at another stage, with the fan's flow multiplied. */
function retest(factor: number): void {
  const readings = [...tablesOf(house.workbook.document)].find((one) => one.name === 'readings');
  const rows = house.rowsOf('sealed, depressurised').map((row) => readings?.rows[row]?.entries ?? {});
  add(house, 'tests', {
    test: 'last before board',
    stage: 'before cover',
    direction: 'depressurise',
    date: 'day 138',
    indoor_temperature: '65',
    outdoor_temperature: '38',
    wind_speed: '4',
    baseline_before: '-2.0',
    baseline_after: '-1.6',
  });
  for (const entries of rows) {
    const flowPressure = Number(entries.fan_pressure) * factor ** 2;
    add(house, 'readings', {
      test: 'last before board',
      fan_range: entries.fan_range ?? '',
      house_pressure: entries.house_pressure ?? '',
      fan_pressure: String(flowPressure),
    });
  }
}

test('in the demo nothing may be covered: framing, leaks, a penetration and the last test hold the board', () => {
  expect(house.textAt('hold_points.state', house.rowWhere('hold_points', { hold_point: BOARD }))).toBe(
    'hold',
  );
  expect(house.text('board_may_start')).toBe('hold');
  expect(house.text('framing_out')).toBe('F04, F09');
  expect(house.text('leaks_open')).toBe('L15, L16');
  expect(house.text('penetrations_open')).toBe('P10');
  expect(house.text('units_off')).toBe('unit N');
  expect(house.text('wood_wet')).toBe('living_3');
  expect(house.text('jambs_off')).toBe('D10 pantry');
});

test('the points that are released in the demo are those of its hold-point list', () => {
  const states = Array.from({ length: 12 }, (_, row) => house.textAt('hold_points.state', row));
  expect(states.map((state) => state.startsWith('released'))).toEqual([
    ...[true, true, true, false, true],
    ...Array.from({ length: 7 }, () => false),
  ]);
});

test('the board turns from hold to release when the retest is entered and the last leak is closed', () => {
  closeFraming();
  house.enter('leak_finds', 'L15', 'status', 'sealed');
  expect(house.text('board_may_start')).toBe('hold');
  retest(0.95);
  expect(house.text('finds_cover_test')).toBe('met');
  expect(house.text('board_may_start')).toBe('hold');
  expect(house.text('leaks_open')).toBe('L16');
  house.enter('penetrations', 'P10', 'status', 'closed');
  expect(house.textAt('penetrations.stands', 'P10')).toBe('open: its leak find is still open');
  house.enter('leak_finds', 'L16', 'status', 'sealed');
  expect(house.textAt('penetrations.stands', 'P10')).toBe('closed');
  expect(house.text('board_may_start')).toBe('ready to release');
  house.workbook.undo();
  expect(house.text('board_may_start')).toBe('hold');
});

test('held to both targets, the board waits for the one that the test does not surely meet', () => {
  closeFraming();
  closeLeaks();
  retest(0.95);
  expect(house.text('board_may_start')).toBe('ready to release');
  house.type('held_to', 'both targets');
  // 0.073 cfm/ft² before board; five in a hundred less is about the target of 0.070.
  expect(house.number('cover_second_chance', '%')).toBeLessThan(house.number('cover_chance', '%'));
  expect(house.text('finds_cover_test')).toBe('too close to call');
  expect(house.text('cover_test_said')).toBe('the second target is too close to call at 95 % confidence');
  expect(house.text('board_may_start')).toBe('hold');
  house.type('target_permeability50', '0.08');
  expect(house.text('finds_cover_test')).toBe('met');
  house.type('target_permeability50', '');
  expect(house.text('finds_cover_test')).toBe('not known yet');
  expect(house.text('cover_test_said')).toBe('a target, the volume or the area is not typed yet');
  house.type('held_to', 'first target');
  expect(house.text('finds_cover_test')).toBe('met');
});

test('a retest over the target holds the board', () => {
  closeFraming();
  closeLeaks();
  retest(1.5);
  expect(house.number('cover_ach50', '1/h')).toBeGreaterThan(1.2);
  expect(house.text('finds_cover_test')).toBe('not met');
  expect(house.text('board_may_start')).toBe('hold');
});

describe('released', () => {
  const row = () => house.rowWhere('hold_points', { hold_point: BOARD });

  beforeEach(() => {
    closeFraming();
    closeLeaks();
    retest(0.95);
    house.enter('hold_points', row(), 'released', 'yes');
  });

  test('without a name and a date it is still on hold', () => {
    expect(house.textAt('hold_points.state', row())).toBe('hold: write who released it and when');
  });

  test('it says so when a condition fails later; a written reason releases it, and another failure does not', () => {
    house.enter('hold_points', row(), 'who', 'site lead');
    house.enter('hold_points', row(), 'released_on', 'day 139');
    expect(house.textAt('hold_points.state', row())).toBe('released');
    house.enter('leak_finds', 'L07', 'status', 'open');
    expect(house.textAt('hold_points.state', row())).toContain('a condition fails after the release');
    expect(house.textAt('hold_points.why', row())).toBe('no leak find of the size that holds is open');
    const leaks = house.rowWhere('hold_conditions', { hold_point: BOARD, check: 'leaks closed' });
    expect(house.textAt('hold_conditions.found', leaks)).toBe('L07');
    house.enter(
      'hold_conditions',
      leaks,
      'reason',
      'threshold comes on day 150; door reached from both sides',
    );
    expect(house.textAt('hold_points.state', row())).toBe('released against a condition, with a reason');
    expect(house.textAt('hold_points.reasons', row())).toContain('threshold comes on day 150');
    house.enter('framing_readings', 'F01', 'reading', '0.5');
    expect(house.textAt('hold_points.state', row())).toContain('a condition fails after the release');
  });
});

test('a tick without who and when does not count', () => {
  const tick = house.rowWhere('hold_conditions', { hold_point: BOARD, check: 'a person looks' });
  expect(house.textAt('hold_conditions.outcome', tick)).toBe('met');
  house.enter('hold_conditions', tick, 'who', '');
  expect(house.textAt('hold_conditions.outcome', tick)).toBe('not met');
  expect(house.textAt('hold_conditions.found', tick)).toBe('ticked: write who and when as well');
});

test('rooms are released one by one', () => {
  expect(house.text('rooms_held')).toBe('gallery_hall, dining, landing, bath_2');
  house.enter('framing_readings', 'F09', 'reading', '0.0625');
  expect(house.text('rooms_held')).toBe('gallery_hall, dining, landing');
});

test('a room whose framing nobody has measured is not released', () => {
  const pantry = house.row('room_releases', 'pantry');
  expect(house.textAt('room_releases.room_state', pantry)).toBe('no framing reading yet');
  expect(house.text('sheet_rooms_released')).not.toContain('pantry');
  expect(house.text('sheet_rooms_unread')).toContain('pantry');
  const reading = { mark: 'F11', room: 'pantry', check: 'plumb', base_length: '96' };
  add(house, 'framing_readings', { ...reading, reading: '0.0625' });
  expect(house.textAt('room_releases.room_state', pantry)).toBe('released');
  house.enter('framing_readings', 'F11', 'reading', '0.5');
  expect(house.textAt('room_releases.room_state', pantry)).toBe('hold');
  add(house, 'room_releases', {});
  expect(house.stateAt('room_releases.room_state', 18).state).toBe('blank');
});

test('a repair that was not pressed, or not checked under pressure, is open whatever its status says', () => {
  expect(house.textAt('repairs.stands', 'R01')).toBe('closed');
  house.enter('repairs', 'R01', 'pressed', 'no');
  expect(house.textAt('repairs.stands', 'R01')).toBe('open: not pressed with a roller');
  expect(house.text('repairs_open')).toBe('R01');
});

test('a condition that reads its own hold point is told as a circle', () => {
  const table = [...tablesOf(house.workbook.document)].find((one) => one.name === 'hold_conditions');
  const outcome = table?.columns.find((one) => one.name === 'outcome');
  if (!table || !outcome) throw new Error('no hold_conditions.outcome');
  house.workbook.apply({
    kind: 'set-column',
    table: table.id,
    column: outcome.id,
    patch: { formula: 'lookup(hold_points.state, hold_points.hold_point, hold_point)' },
  });
  const told = house.workbook.faults();
  expect(told.length).toBeGreaterThan(0);
  // The way round is named, from the faulty column back to itself.
  for (const { where, message } of told) {
    const way = /^this cell depends on itself: (.+)$/u.exec(message)?.[1]?.split(' → ') ?? [];
    expect(way.length).toBeGreaterThan(2);
    expect([way[0], way.at(-1)]).toEqual([where, where]);
    expect(way).toContain('hold_points.state');
  }
  expect(told.some((fault) => fault.where.startsWith('hold_conditions'))).toBe(true);
  expect(house.state('ach50').state).toBe('value');
});

describe('what is only half written down holds, and nothing half written releases', () => {
  const said = () => house.text('board_may_start');

  beforeEach(() => {
    closeFraming();
    closeLeaks();
    retest(0.95);
    expect(said()).toBe('ready to release');
  });

  test('a find without a status is open: it holds the board, its room and its place in the budget', () => {
    add(house, 'leak_finds', { mark: 'L17', room: 'living', size_kind: 'flow', flow_at_50: '40' });
    expect(said()).toBe('hold');
    expect(house.text('leaks_open')).toBe('L17');
    expect(house.text('rooms_held')).toBe('living');
    expect(house.number('finds_open', '')).toBe(1);
    expect(house.number('open_finds_flow', 'cfm')).toBeCloseTo(40, 9);
  });

  test.each([
    ['leak_finds', { room: 'living', status: 'open' }, 'leaks_open'],
    ['penetrations', { room: 'living', service: 'cable' }, 'penetrations_open'],
    ['repairs', { room: 'living', cause: 'nail' }, 'repairs_open'],
    ['framing_readings', { room: 'living', check: 'plumb', base_length: '108', reading: '3' }, 'framing_out'],
    ['framing_moisture', { room: 'living', moisture: '28' }, 'framing_wet'],
  ])('a row of %s without its mark holds too', (table, entries, listed) => {
    add(house, table, entries);
    expect(said()).toBe('hold');
    expect(house.text(listed)).toBe('one without a mark');
  });

  test.each(['leak_finds', 'penetrations', 'repairs'])('an empty row of %s is no open item', (table) => {
    add(house, table, {});
    expect(said()).toBe('ready to release');
  });

  test('a condition without a way to judge it, or without words, is not met', () => {
    add(house, 'hold_conditions', { hold_point: BOARD, condition: 'inspector has signed' });
    const at = house.rowWhere('hold_conditions', { condition: 'inspector has signed' });
    expect(said()).toBe('hold');
    expect(house.textAt('hold_conditions.found', at)).toBe('choose what it is judged by');
    house.workbook.undo();
    expect(said()).toBe('ready to release');
    add(house, 'hold_conditions', { hold_point: BOARD, check: 'a person looks' });
    expect(said()).toBe('hold');
    expect(house.textAt('hold_points.why', house.rowWhere('hold_points', { hold_point: BOARD }))).toBe(
      'a condition without words',
    );
  });

  test('a repair is open while the leak found at it is open', () => {
    expect(house.textAt('repairs.stands', 'R02')).toBe('closed');
    house.enter('leak_finds', 'L09', 'status', 'open');
    expect(house.textAt('repairs.stands', 'R02')).toBe('open: its leak find is still open');
    expect(house.text('repairs_open')).toBe('R02');
  });
});

test('what is open in the logs of penetrations and repairs stands before the leak hunt', () => {
  expect(house.text('hunt_penetrations')).toBe('P10');
  expect(house.text('hunt_repairs')).toBe('none');
  // P10 has its row in the leak log; a cut that nobody has hunted yet has none.
  expect(house.number('logs_without_find', '')).toBe(0);
  add(house, 'repairs', { mark: 'R04', room: 'study', cause: 'saw' });
  expect(house.text('hunt_repairs')).toBe('R04');
  expect(house.number('logs_without_find', '')).toBe(1);
});

test('each trade reads the rooms that are released to it', () => {
  expect(house.text('sheet_rooms_released')).toContain('living, kitchen');
  expect(house.text('sheet_rooms_ready')).toBe('living');
  expect(house.text('sheet_rooms_trim')).toBe('none yet');
});

describe('the template on its own', () => {
  test('holds everything, and nothing in it is counted as met before it is typed', () => {
    const blank = new Open('hold-points.json');
    const states = Array.from({ length: 12 }, (_, row) => blank.textAt('hold_points.state', row));
    expect(states.slice(0, 5)).toEqual(['hold', 'hold', 'hold', 'hold', 'hold']);
    expect(blank.text('board_may_start')).toBe('hold');
    expect(blank.text('finds_wood')).toBe('not known yet');
    expect(blank.text('finds_balance')).toBe('not known yet');
  });

  test.each([
    ['finds_leaks', 'no_leaks_by', 'sheet_leaks', 'leaks_holding', 'leak_finds'],
    ['finds_repairs', 'no_cuts_by', 'repairs_open', 'repairs_waiting', 'repairs'],
  ])('%s: an empty log is met once somebody says that there was nothing', (finds, by, says, waiting, log) => {
    const job = new Open('hold-points.json');
    expect(job.text(finds)).toBe('not known yet');
    expect(job.text(says)).toMatch(/is written down yet$/u);
    expect(job.state(waiting).state).toBe('blank');
    job.type(by, 'air keeper, day 130');
    expect(job.text(finds)).toBe('met');
    expect(job.text(says)).toMatch(/^(none)?$/u);
    add(job, log, { mark: 'X1' });
    expect(job.text(finds)).toBe('not met');
    expect(job.text(says)).toBe('X1');
    expect(job.number(waiting, '')).toBe(1);
  });
});

test('what is still to be chosen or tested is named, and nothing else in its place', () => {
  const house = new Open('juniper-hollow.json');
  house.type('held_to', '');
  for (const name of ['board_test_said', 'cover_test_said']) {
    if (name === 'cover_test_said') house.type('cover_stage', 'after sealing');
    expect(house.text(name)).toContain('Tests before board and cover are held to');
  }
  const row = house.rowWhere('hold_conditions', { check: 'first test made' });
  expect(house.textAt('hold_conditions.found', row)).toBe('yes');
  house.type('first_test_stage', 'shell');
  expect(house.textAt('hold_conditions.found', row)).toBe('no test of its stage yet');
});
