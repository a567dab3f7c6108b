import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import type { Table } from '../../src/workbook/document.ts';
import { LIMITS, readWorkbook, Workbook, writeWorkbook } from '../../src/workbook/index.ts';
import { readLink, writeLink } from '../../src/workbook/link.ts';
import { photoProblem } from '../../src/workbook/photo.ts';
import { jpeg } from './jpeg.ts';

const table = {
  kind: 'table',
  name: 'log',
  columns: [{ name: 'mark', type: 'text' }],
  rows: [
    { $id: 'r1', mark: 'P-1' },
    { $id: 'r2', mark: 'P-2' },
  ],
};
const file = (more: object = {}, rows: readonly object[] = table.rows) =>
  JSON.stringify({
    app: 'close-in',
    format: 1,
    sheets: [{ title: 'S', sections: [{ title: 'P', items: [{ ...table, rows }] }] }],
    ...more,
  });
function opened(text = file()) {
  const read = readWorkbook(text);
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  return { workbook: new Workbook(read.document, new FunctionLibrary([])), warnings: read.warnings };
}
const logOf = (workbook: Workbook) => workbook.document.sheets[0]?.sections[0]?.items[0] as Table;
const photo = (id: string, data = jpeg(640, 480)) => ({ id, data, caption: `photo ${id}` });
const add = (row: string, id: string, data?: string) =>
  ({ kind: 'add-photo', table: 'log', row, at: 0, photo: photo(id, data) }) as const;

describe('what is taken for a photo', () => {
  test('a JPEG of a bearable size is', () => {
    expect(photoProblem(jpeg(1600, 1200))).toBeUndefined();
    expect(photoProblem(jpeg(LIMITS.photoSide, 1))).toBeUndefined();
  });

  test.each([
    ['an HTML page', Buffer.from('<script>alert(1)</script>').toString('base64'), /no JPEG/],
    ['a PNG', Buffer.from('\x89PNG\r\n\x1a\n', 'latin1').toString('base64'), /no JPEG/],
    ['an address', 'https://example.org/photo.jpg', /no JPEG/],
    ['base64 with something in it', `${jpeg(64, 48)}"onerror=`, /no JPEG/],
    ['one that would fill the memory when shown', jpeg(60_000, 60_000), /60,000 by 60,000 pixels; 4,096/],
    ['a JPEG of no height', jpeg(64, 0), /cannot be read/],
    ['one cut behind its beginning', jpeg(64, 48).slice(0, 24), /cannot be read/],
    ['a file too large', jpeg(64, 48, LIMITS.photoCharacters), /280,000 is the most/],
  ])('%s is not', (_what, data, message) => {
    expect(photoProblem(data)).toMatch(message);
  });
});

describe('photos of a row', () => {
  test('are added, described and removed, each in one step that can be undone', () => {
    const { workbook } = opened();
    const before = workbook.document;
    workbook.apply(add('r1', 'a'));
    workbook.apply({
      kind: 'set-photo',
      table: 'log',
      row: 'r1',
      photo: 'a',
      patch: { caption: 'tape in view' },
    });
    expect(logOf(workbook).rows[0]?.photos).toEqual([{ ...photo('a'), caption: 'tape in view' }]);
    expect(workbook.undoLabel).toBe('words of a photo');
    workbook.apply({ kind: 'remove-photo', table: 'log', row: 'r1', photo: 'a' });
    expect(logOf(workbook).rows[0]).not.toHaveProperty('photos');
    workbook.undo();
    expect(logOf(workbook).rows[0]?.photos?.[0]?.caption).toBe('tape in view');
    workbook.undo();
    workbook.undo();
    expect(workbook.document).toEqual(before);
  });

  test('go with their row and come back with it', () => {
    const { workbook } = opened();
    workbook.apply(add('r1', 'a'));
    workbook.apply({ kind: 'set-row-note', table: 'log', row: 'r1', note: 'seen' });
    workbook.apply({ kind: 'order-rows', table: 'log', rows: ['r2', 'r1'] });
    expect(logOf(workbook).rows[1]?.photos).toHaveLength(1);
    workbook.apply({ kind: 'remove-rows', table: 'log', rows: ['r1'] });
    expect(writeWorkbook(workbook.document)).not.toContain('"photos"');
    workbook.undo();
    expect(logOf(workbook).rows[1]?.photos?.map(({ id }) => id)).toEqual(['a']);
  });

  test('what does not fit is refused in words and changes nothing', () => {
    const { workbook } = opened();
    const before = workbook.document;
    expect(workbook.apply(add('r1', 'a', 'R0lGODlh'))).toMatchObject({ problem: /no JPEG/ });
    expect(workbook.apply(add('r9', 'a'))).toMatchObject({ problem: /no longer has that row/ });
    expect(workbook.document).toBe(before);
    for (let at = 0; at < LIMITS.photosARow; at++) workbook.apply(add('r1', `p${at}`));
    expect(workbook.apply(add('r1', 'one_more'))).toMatchObject({ problem: /A row holds at most 12 photos/ });
    expect(workbook.apply(add('r2', 'p3'))).toMatchObject({ problem: /id “p3”/ });
  });

  test('all together have a limit, and the message says so before it is passed', () => {
    const large = jpeg(1600, 1200, 200_000);
    const most = Math.floor(LIMITS.photosCharacters / large.length);
    const rows = Array.from({ length: 9 }, (_, at) => ({ $id: `r${at}` }));
    const { workbook } = opened(file({}, rows));
    for (let at = 0; at < most; at++)
      expect(workbook.apply(add(`r${at % 9}`, `p${at}`, large))).not.toHaveProperty('problem');
    const refused = workbook.apply(add('r8', 'last', large));
    expect(refused).toMatchObject({
      problem: 'The photos of a workbook together have at most 12 MB, and this one would pass it.',
    });
    expect('document' in readWorkbook(writeWorkbook(workbook.document))).toBe(true);
  });
});

describe('photos in files and links', () => {
  test('stand at the end of the file, each on one line, and come back the same', () => {
    const { workbook } = opened();
    workbook.apply(add('r2', 'b'));
    const text = writeWorkbook(workbook.document);
    expect(text).toContain('{"$id": "r2", "mark": "P-2", "$photos": ["b"]}');
    expect(text.indexOf('"photos": [')).toBeGreaterThan(text.indexOf('"sheets": ['));
    const read = opened(text);
    expect(read.workbook.document).toEqual(workbook.document);
    expect(read.warnings).toEqual([]);
  });

  test('a photo that no row names, and a name without a photo, are told', () => {
    const rows = [
      { $id: 'r1', $photos: ['gone', 'a'] },
      { $id: 'r2', $photos: ['a'] },
    ];
    const { warnings } = opened(file({ photos: [photo('left'), photo('a')] }, rows));
    expect(warnings.map(({ message }) => message)).toEqual([
      'Its photo “gone” is not in the file.',
      'Its photo “a” belongs to a row before it.',
      '1 photo belongs to no row and was left out.',
    ]);
  });

  test.each([
    [{ photos: [photo('a', 'PHNjcmlwdD4=')] }, 'wrong-shape'],
    [{ photos: [{ id: 'a' }] }, 'wrong-shape'],
    [{ photos: [photo('a'), photo('a')] }, 'duplicate-id'],
    [{ photos: 'many' }, 'wrong-shape'],
  ])('a file with a photo that is none is refused', (more, code) => {
    expect(readWorkbook(file(more, [{ $id: 'r1', $photos: ['a'] }]))).toMatchObject({ code });
  });

  test('a list of photos that is none is refused at its row', () => {
    expect(readWorkbook(file({}, [{ $id: 'r1', $photos: [1] }]))).toMatchObject({
      where: 'table log, row 1, $photos',
    });
  });

  test('a link leaves them behind', async () => {
    const { workbook } = opened();
    const bare = await writeLink(workbook.document);
    workbook.apply(add('r1', 'a'));
    expect(await writeLink(workbook.document)).toBe(bare);
    const read = await readLink(bare);
    expect('text' in read && read.text).not.toContain('photo');
  });
});
