/** What the command line says of a list that is blank, and of a file without rows. */
import { expect, test } from 'vitest';
import { calc, ownFiles } from './calc-run.ts';

const file = ownFiles();

test('blank: which table has no rows, and that those there are give nothing to name', async () => {
  const text = JSON.stringify({
    app: 'close-in',
    format: 1,
    title: 'Rooms',
    units: 'us',
    sheets: [
      {
        id: 'one',
        title: 'One',
        sections: [
          {
            id: 'all',
            title: 'All',
            items: [
              {
                kind: 'cell',
                id: 'tall',
                name: 'tall',
                label: '',
                type: 'text',
                text: '= listed(where(rooms.room, rooms.height > 9 ft))',
              },
              { kind: 'cell', id: 'said', name: 'said', label: '', type: 'text', text: '= tall' },
              {
                kind: 'table',
                id: 'rooms',
                name: 'rooms',
                label: '',
                columns: [
                  { id: 'room', name: 'room', label: 'Room', type: 'text' },
                  { id: 'height', name: 'height', label: 'Height', unit: 'ft' },
                ],
                rows: [],
              },
            ],
          },
        ],
      },
    ],
  });
  const rooms = file('rooms.json', text);
  expect((await calc(rooms, '--get', 'tall', '--get', 'said')).errors).toEqual([
    'tall: rooms has no rows yet',
    'said: rooms has no rows yet',
  ]);
  const low = await calc(rooms, '--table', `rooms=${file('low.csv', 'Room,Height\nattic,7 ft\n')}`);
  expect(low.out).toMatch(/^tall +\(blank\) nothing to name in the rows there are$/mu);
  const headings = file('headings.csv', 'Room,Height\n');
  expect((await calc(rooms, '--table', `rooms=${headings}`)).errors).toEqual([
    `${headings}: nothing was calculated, because there are no rows in it`,
  ]);
});
