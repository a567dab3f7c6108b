/** What a target may be solved for by changing: typed numbers and empty ones, each told from the others. */
import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../../src/engine/index.ts';
import { Session } from '../../../src/face/session.svelte.ts';
import { cellOptions, typedNumbers } from '../../../src/face/whatif/cells.ts';
import { Workbook, type WorkbookDocument } from '../../../src/workbook/index.ts';

const cell = (name: string, label: string, text: string) => ({
  kind: 'cell',
  id: name,
  name,
  label,
  type: 'number',
  unit: '',
  text,
});
const section = (id: string, title: string, ...items: unknown[]) => ({ id, title, items });

const session = new Session(
  new Workbook(
    {
      title: 'Boards',
      units: 'us',
      sheets: [
        {
          id: 's',
          title: 'Walls',
          sections: [
            section('a', 'North', cell('north', 'Width', '4'), cell('empty', 'Height', '')),
            section('b', 'South', cell('south', 'Width', '5'), cell('both', 'Both', 'north + south')),
            section('c', 'East', cell('east', 'Depth', '1'), cell('east_2', 'Depth', '2')),
            section('d', 'Results', cell('waits', 'Area', 'empty * 2'), cell('spaces', 'Free', ' ')),
          ],
        },
        { id: 't', title: 'Roof', sections: [section('e', 'Rafters', cell('rafter', 'Width', '6'))] },
      ],
    } as unknown as WorkbookDocument,
    new FunctionLibrary([]),
  ),
);

test('a formula is no input, also while its value is blank', () => {
  expect(session.state('waits').state).toBe('blank');
  expect(typedNumbers(session).map(({ name }) => name)).toEqual([
    'north',
    'empty',
    'south',
    'east',
    'east_2',
    'spaces',
    'rafter',
  ]);
});

test('equal labels are told apart by worksheet, section or name', () => {
  const options = cellOptions(session, typedNumbers(session));
  expect(options.map(({ group, words }) => `${group}: ${words}`)).toEqual([
    'Walls: Width · North',
    'Walls: Height',
    'Walls: Width · South',
    'Walls: Depth · east',
    'Walls: Depth · east_2',
    'Walls: Free',
    'Roof: Width',
  ]);
});
