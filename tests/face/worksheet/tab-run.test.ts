import { expect, test } from 'vitest';
import { TabRun } from '../../../src/face/worksheet/tab-run.ts';

const TAB = { rows: 0, columns: 1 };
const BACK = { rows: 0, columns: -1 };
const ENTER = { rows: 1, columns: 0 };
const at = (row: number, column: number) => ({ row, column });

test('Enter after Tab goes on under where the row began', () => {
  const run = new TabRun();
  expect(run.next(at(3, 1), TAB, 8)).toEqual(at(3, 2));
  expect(run.next(at(3, 2), TAB, 8)).toEqual(at(3, 3));
  expect(run.next(at(3, 3), ENTER, 8)).toEqual(at(4, 1));
  // And so from row to row; alone it goes straight down.
  expect(run.next(at(4, 1), TAB, 8)).toEqual(at(4, 2));
  expect(run.next(at(4, 2), ENTER, 8)).toEqual(at(5, 1));
  expect(run.next(at(5, 1), ENTER, 8)).toEqual(at(6, 1));
  expect(run.next(at(6, 2), ENTER, 8)).toEqual(at(7, 2));
});

test('a cell that is passed over does not end the row, and going elsewhere does', () => {
  const run = new TabRun();
  run.next(at(0, 1), TAB, 8);
  run.pass(at(0, 2), at(0, 3));
  expect(run.next(at(0, 3), ENTER, 8)).toEqual(at(1, 1));

  run.next(at(0, 1), TAB, 8);
  run.pass(at(5, 2), at(5, 3));
  expect(run.next(at(5, 3), ENTER, 8)).toEqual(at(6, 3));

  run.next(at(0, 1), TAB, 8);
  run.next(at(0, 2), BACK, 8);
  expect(run.next(at(0, 1), ENTER, 8)).toEqual(at(1, 1));
});

test('past the last column the next row begins, before the first the one before it', () => {
  const run = new TabRun();
  expect(run.next(at(2, 7), TAB, 8)).toEqual(at(3, 0));
  expect(run.next(at(3, 0), ENTER, 8)).toEqual(at(4, 0));
  expect(run.next(at(2, 0), BACK, 8)).toEqual(at(1, 7));
  expect(run.next(at(0, 0), { rows: -1, columns: 0 }, 8)).toEqual(at(0, 0));
});

test('Tab passes over what stays blank in a row that is typed with Tab, and leaves the table otherwise', () => {
  const run = new TabRun();
  expect(run.tab(at(0, 2), false, 7)).toBeUndefined();

  run.next(at(0, 1), TAB, 10);
  expect(run.tab(at(0, 2), false, 7)).toEqual(at(0, 3));
  expect(run.tab(at(0, 3), false, 7)).toEqual(at(0, 4));
  expect(run.tab(at(0, 4), true, 7)).toEqual(at(0, 3));
  expect(run.next(at(0, 3), ENTER, 10)).toEqual(at(1, 1));

  // Behind the last cell to type into the next row begins; the next Tab leaves, so that nobody is caught.
  run.next(at(1, 1), TAB, 10);
  run.next(at(1, 2), TAB, 10);
  run.pass(at(1, 3), at(1, 7));
  expect(run.tab(at(1, 7), false, 7)).toEqual(at(2, 1));
  expect(run.tab(at(2, 1), false, 7)).toBeUndefined();

  // Back before where the row began it leaves as well, and so it does once the row was left.
  run.next(at(1, 1), TAB, 10);
  expect(run.tab(at(1, 2), true, 7)).toEqual(at(1, 1));
  expect(run.tab(at(1, 1), true, 7)).toBeUndefined();
  run.next(at(1, 1), TAB, 10);
  run.end();
  expect(run.tab(at(1, 2), false, 7)).toBeUndefined();
});
