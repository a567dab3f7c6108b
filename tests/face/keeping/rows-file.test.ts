import { expect, test } from 'vitest';
import { rowsIn, textOf } from '../../../src/face/keeping/rows-file.ts';

const file = (bytes: readonly number[] | string, name = 'rows.csv') =>
  new File([typeof bytes === 'string' ? bytes : new Uint8Array(bytes)], name);
const latin = (text: string) => Array.from({ length: text.length }, (_, at) => text.charCodeAt(at));
const wide = (text: string) => latin(text).flatMap((code) => [code & 0xff, code >> 8]);

test.each([
  ['UTF-8', [...new TextEncoder().encode('Küche ± 5 m³')], 'Küche ± 5 m³'],
  ['UTF-8 with its mark', [0xef, 0xbb, 0xbf, ...new TextEncoder().encode('Küche')], 'Küche'],
  // The encoding that spreadsheets on Windows save by default, windows-1252 in the WHATWG Encoding Standard.
  ['Windows-1252', latin('Küche ± 5 m³'), 'Küche ± 5 m³'],
  ['UTF-16', [0xff, 0xfe, ...wide('Küche\t1')], 'Küche\t1'],
  ['UTF-16, big end first', [0xfe, 0xff, 0, 0x4b, 0, 0xfc], 'Kü'],
])('%s is read', (_name, bytes, text) => {
  expect(textOf(new Uint8Array(bytes))).toBe(text);
});

test('text becomes rows', async () => {
  expect(await rowsIn(file('House,Fan\n1,2\n'))).toEqual({ text: 'House,Fan\n1,2\n' });
});

test.each([
  ['an empty file', file(''), 'rows.csv is empty: nothing was read.'],
  ['blank lines alone', file('\n \n'), 'rows.csv is empty: nothing was read.'],
  ['a zipped spreadsheet', file([0x50, 0x4b, 3, 4, 9], 'rows.ods'), 'rows.ods is a spreadsheet’s own file'],
  [
    'an old spreadsheet',
    file([0xd0, 0xcf, 0x11, 0xe0, 9], 'rows.xls'),
    'rows.xls is a spreadsheet’s own file',
  ],
  ['a PDF', file('%PDF-1.7'), 'rows.csv is a PDF'],
  ['a photo', file([0xff, 0xd8, 0xff, 0xe0], 'wall.jpg'), 'wall.jpg is a picture'],
  ['anything else that is no text', file([1, 0, 2, 3]), 'rows.csv is no text'],
])('%s is refused in words', async (_name, found, words) => {
  const read = await rowsIn(found);
  expect('problem' in read && read.problem).toContain(words);
});
