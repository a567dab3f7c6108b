/** A fault of a calculation leads to the entry that a person typed. */
import { expect, test, vi } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { awaited, blamed } from '../../src/face/blamed.ts';
import { Session } from '../../src/face/session.svelte.ts';
import { faultOf } from '../../src/face/shown-rows.ts';
import { Workbook, type WorkbookDocument } from '../../src/workbook/index.ts';
import { Open } from '../templates/open.ts';

/** The air test with one of its conditions typed anew. */
function airTest(column: string, text: string): Session {
  const open = new Open('juniper-hollow.json');
  open.enter('tests', 'before board, first', column, text);
  return new Session(open.workbook);
}

test('a density that is not shown leads to the temperature that was typed', async () => {
  const session = airTest('indoor_temperature', '680 degF');
  const { row } = session.faults.find(({ where }) => where === 'tests.density_indoors') ?? {};
  const entry = { name: 'tests.indoor_temperature', row };
  expect(blamed(session, 'tests.density_indoors', row)).toEqual(entry);
  expect(awaited(session, `tests.density_indoors, row ${(row ?? 0) + 1}`)).toEqual({
    ...entry,
    words: `Tests, Temperature indoors, row ${(row ?? 0) + 1}`,
  });
  const table = session.outline.byName.get('tests')?.item;
  if (table?.kind !== 'table') throw new Error('no tests');
  expect(faultOf(session, table, row ?? 0)).toBe(
    'Temperature indoors: 680 °F is no temperature of the air at a test.',
  );
  const gone = vi.spyOn(session, 'goTo').mockResolvedValue();
  await session.nextFault();
  expect(gone).toHaveBeenCalledWith('tests.indoor_temperature', expect.any(Number));
  expect(session.announcement).toMatch(/^Fault 1 of \d, Tests, Temperature indoors, row \d: 680 °F/);
});

test('what is wrong where it was typed stays there', () => {
  const session = airTest('indoor_temperature', 'warm');
  expect(blamed(session, 'tests.indoor_temperature', 1)).toBeUndefined();
});

const cell = (name: string, text: string) => ({
  kind: 'cell',
  id: name,
  name,
  label: '',
  type: 'number',
  unit: '',
  text,
});

test('two typed values that may be to blame: neither is, and of a chain its beginning', () => {
  const cells = [
    cell('a', '-4'),
    cell('b', '1'),
    cell('blank', ''),
    cell('half', 'a / 2'),
    cell('root', 'b + sqrt(half)'),
    cell('both', 'sqrt(a * b)'),
    cell('less', 'sqrt(otherwise(blank, a))'),
  ];
  const document = {
    title: 'Roots',
    units: 'us',
    sheets: [{ id: 's', title: 'S', sections: [{ id: 'x', title: 'X', items: cells }] }],
  } as unknown as WorkbookDocument;
  const session = new Session(new Workbook(document, new FunctionLibrary([])));
  expect(session.state('root').state).toBe('fault');
  expect(blamed(session, 'root', undefined)).toEqual({ name: 'a' });
  expect(blamed(session, 'both', undefined)).toBeUndefined();
  expect(blamed(session, 'less', undefined)).toEqual({ name: 'a' });
});
