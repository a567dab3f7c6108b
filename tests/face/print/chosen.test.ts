import { describe, expect, test } from 'vitest';
import { chosenParts, choosing, moved, together } from '../../../src/face/print/chosen.ts';
import type { Item, WorkbookDocument } from '../../../src/workbook/index.ts';

const prose = (id: string): Item => ({ kind: 'prose', id, text: id });
const house: WorkbookDocument = {
  title: 'House',
  units: 'us',
  sheets: [
    {
      id: 'air',
      title: 'Air',
      note: '',
      sections: [
        { id: 'test', title: 'Test', note: '', items: [prose('a'), prose('b')] },
        { id: 'leaks', title: 'Leaks', note: '', items: [prose('c')] },
      ],
    },
  ],
};
const idsOf = (ids: readonly string[]) =>
  together(chosenParts(house, ids)).map(({ id, items }) => [id, ...items.map((item) => item.id)].join(' '));

describe('what is chosen for the report', () => {
  test('comes where it stands in the workbook, until it is moved', () => {
    const both = choosing(house, choosing(house, [], ['leaks'], true), ['a'], true);
    expect(both).toEqual(['a', 'leaks']);
    const turned = moved(both, 'a', 1);
    expect(turned).toEqual(['leaks', 'a']);
    expect(moved(turned, 'a', 1)).toBe(turned);
    expect(idsOf(turned)).toEqual(['leaks c', 'test a']);
  });

  test('parts of one section that follow each other stand under its title once', () => {
    expect(idsOf(['a', 'b', 'leaks'])).toEqual(['test a b', 'leaks c']);
    expect(idsOf(['a', 'leaks', 'b'])).toEqual(['test a', 'leaks c', 'test b']);
  });

  test('a whole section takes the place of its parts, and what left the workbook is left out', () => {
    expect(choosing(house, ['b', 'gone', 'leaks'], ['test'], true)).toEqual(['test', 'leaks']);
    expect(choosing(house, ['test', 'leaks'], ['test'], false)).toEqual(['leaks']);
    expect(idsOf(['gone', 'c'])).toEqual(['leaks c']);
  });
});
