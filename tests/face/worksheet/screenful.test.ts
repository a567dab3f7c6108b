import { expect, test } from 'vitest';
import { readWorkbook, type Sheet } from '../../../src/workbook/index.ts';
import { screenful } from '../../../src/face/worksheet/screenful.ts';

/** Sections with so many cells each. */
function sheet(...cells: number[]): Sheet {
  const text = JSON.stringify({
    app: 'close-in',
    format: 1,
    title: 'House',
    units: 'us',
    sheets: [
      {
        title: 'One',
        sections: cells.map((count, section) => ({
          title: `Section ${section}`,
          items: Array.from({ length: count }, (_, k) => ({ kind: 'cell', name: `c${section}_${k}` })),
        })),
      },
    ],
  });
  const opened = readWorkbook(text);
  if ('code' in opened) throw new Error(opened.found);
  return opened.document.sheets[0]!;
}

test('as many sections as reach the end of the screen', () => {
  expect(screenful(sheet(5, 5, 5, 5), 0)).toBe(0);
  expect(screenful(sheet(5, 5, 5, 5), 100)).toBe(1);
  expect(screenful(sheet(5, 5, 5, 5), 300)).toBe(2);
  expect(screenful(sheet(100, 5), 900)).toBe(1);
  expect(screenful(sheet(5, 5), 900)).toBe(2);
  expect(screenful(sheet(), 900)).toBe(0);
});
