import { expect, test } from 'vitest';
import {
  readWorkbook,
  sharedVersion,
  stamped,
  versionOf,
  writeWorkbook,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';

const house: WorkbookDocument = { title: 'House', units: 'us', sheets: [] };
const barn: WorkbookDocument = { ...house, title: 'Barn' };

test('a file holds the fingerprints it was saved as; saved again unchanged it is the same file', () => {
  const first = stamped(house);
  expect(first.versions).toEqual([versionOf(house)]);
  expect(stamped(first)).toEqual(first);
  const opened = readWorkbook(writeWorkbook(first));
  expect('document' in opened && opened.document).toEqual(first);
  expect(versionOf(first)).toBe(versionOf(house));
});

test('two copies that went different ways find the version they both come from', () => {
  const sent = stamped(house);
  const mine = stamped({ ...barn, versions: sent.versions ?? [] });
  const theirs = stamped({ ...sent, title: 'Shed' });
  expect(sharedVersion(mine.versions ?? [], theirs.versions ?? [])).toBe(versionOf(house));
  expect(
    sharedVersion(mine.versions ?? [], stamped({ ...house, title: 'Other' }).versions ?? []),
  ).toBeUndefined();
});

test('the newest of several is taken, and only so many are carried along', () => {
  expect(sharedVersion(['a', 'b', 'c'], ['a', 'b', 'x'])).toBe('b');
  let document = house;
  for (let n = 0; n < 100; n++) document = stamped({ ...document, title: String(n) });
  expect(document.versions).toHaveLength(60);
  expect(document.versions?.at(-1)).toBe(versionOf(document));
});
