/** What a blank result waits for, in the demo with some of its figures taken away. */
import { expect, test } from 'vitest';
import { Session } from '../../../src/face/session.svelte.ts';
import { missingFor } from '../../../src/face/worksheet/missing.ts';
import { Open } from '../../templates/open.ts';

function without(...names: string[]) {
  const open = new Open('juniper-hollow.json');
  for (const name of names) open.type(name, '');
  const session = new Session(open.workbook);
  return (name: string, row?: number) =>
    missingFor(session, name, row).map((each) =>
      [each.name, each.row].filter((part) => part !== undefined).join(' '),
    );
}

test('a figure of the site far behind a result is named, and what formulas can do without is not', () => {
  // A fit of readings whose densities hang on the elevation; a barometer, humidities and a sensor factor may stay blank.
  expect(without('site_elevation')('q50')).toEqual(['site_elevation']);
  expect(without('site_elevation')('ach50')).toEqual(['site_elevation']);
});

test('several are named, nearest first, and a result that is there waits for nothing', () => {
  const missing = without('target_ach50', 'main_wing_length');
  expect(missing('margin_ach50')).toEqual(['target_ach50', 'main_wing_length']);
  expect(missing('flow_coefficient')).toEqual([]);
});

test('a table without rows is named as such, and an entry with its row', () => {
  const open = new Open('juniper-hollow.json');
  const row = open.row('rooms', 'study');
  open.enter('rooms', 'study', 'width', '');
  const session = new Session(open.workbook);
  expect(missingFor(session, 'rooms.floor_area', row)).toEqual([{ name: 'rooms.width', row }]);

  const readings = session.outline.byName.get('readings')?.item;
  if (readings?.kind !== 'table') throw new Error('no readings');
  const rows = readings.rows.map(({ id }) => id);
  session.apply({ kind: 'remove-rows', table: readings.id, rows });
  expect(missingFor(session, 'q50').map(({ name }) => name)).toEqual(['readings']);
});

test('of several tests without their temperature the one that is shown is named', () => {
  const open = new Open('juniper-hollow.json');
  for (const test of ['membrane up', 'sealed, depressurised'])
    open.enter('tests', test, 'indoor_temperature', '');
  open.type('shown_test', 'sealed, depressurised');
  const row = open.row('tests', 'sealed, depressurised');
  expect(missingFor(new Session(open.workbook), 'q50')).toEqual([{ name: 'tests.indoor_temperature', row }]);
});
