import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyEdit,
  mergeOf,
  merged,
  writeWorkbook,
  type Cell,
  type Edit,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';

describe('renamed on one side or on both, and put together', () => {
  const cell = (name: string, text: string): Cell => ({
    ...{ kind: 'cell', id: name, name, label: name, type: 'number', text, unit: '', note: '' },
  });
  const base: WorkbookDocument = {
    title: 'House',
    units: 'us',
    sheets: [
      {
        ...{ id: 'one', title: 'One', note: '' },
        sections: [
          {
            ...{ id: 'one-section', title: 'Part', note: '' },
            items: [
              cell('a', '1'),
              cell('b', '2'),
              cell('c', 'a + b'),
              {
                ...{ kind: 'table', id: 'rooms', name: 'rooms', label: 'Rooms', note: '' },
                columns: ['room', 'area'].map((name) => ({
                  ...{ id: name, name, label: name, type: 'number', unit: '', note: '' },
                })),
                rows: [{ id: 'r1', entries: { area: '1' } }],
              },
            ],
          },
        ],
      },
    ],
  };
  const apply = (document: WorkbookDocument, edit: Edit) => {
    const applied = applyEdit(document, edit);
    if ('problem' in applied) throw new Error(applied.problem);
    return applied.document;
  };
  const rename = (document: WorkbookDocument, id: string, name: string) =>
    apply(document, { kind: 'rename', what: 'cell', id, name });
  const formulas = (document: unknown) =>
    (document as WorkbookDocument).sheets[0]?.sections[0]?.items.flatMap((item) =>
      item.kind === 'cell' ? [`${item.name}: ${item.text}`] : [],
    );
  const mineAdds = apply(apply(base, { kind: 'set-cell', cell: 'c', patch: { text: 'a + b + 1' } }), {
    kind: 'insert-item',
    section: 'one-section',
    at: 3,
    item: cell('d', 'a * 2'),
  });

  test('a cell that the other side renamed is found by the formulas that I added or changed', () => {
    const merge = mergeOf(base, mineAdds, rename(base, 'a', 'width'));
    // One difference: not one in every formula that reads it.
    expect(merge.differences.filter(({ changedBy }) => changedBy !== 'mine')).toMatchObject([
      { key: 'cell:a', field: 'name', from: 'a', to: 'width', changedBy: 'theirs' },
    ]);
    expect(formulas(merged(merge))).toEqual(['width: 1', 'b: 2', 'c: width + b + 1', 'd: width * 2']);
    // The person may keep the name: all that is theirs then goes by it.
    expect(writeWorkbook(merged(merge, () => false) as WorkbookDocument)).toBe(writeWorkbook(mineAdds));
  });

  test('renamed differently on both sides: the person decides, and every formula follows', () => {
    const mine = rename(mineAdds, 'a', 'length');
    const theirs = apply(rename(base, 'a', 'width'), {
      kind: 'insert-item',
      section: 'one-section',
      at: 3,
      item: cell('e', 'width / 2'),
    });
    const merge = mergeOf(base, mine, theirs);
    expect(merge.differences.filter(({ changedBy }) => changedBy === 'both')).toMatchObject([
      { key: 'cell:a', field: 'name', from: 'length', to: 'width' },
    ]);
    expect(formulas(merged(merge))?.sort()).toEqual(
      ['length: 1', 'b: 2', 'c: length + b + 1', 'd: length * 2', 'e: length / 2'].sort(),
    );
    const all = merged(merge, ({ changedBy }) => changedBy !== 'mine');
    expect(formulas(all)?.sort()).toEqual(
      ['width: 1', 'b: 2', 'c: width + b + 1', 'd: width * 2', 'e: width / 2'].sort(),
    );
  });

  test('two cells that changed names with each other, and a name that is given anew', () => {
    const exchanged = rename(rename(rename(base, 'a', 'x'), 'b', 'a'), 'a', 'b');
    expect(formulas(exchanged)).toEqual(['b: 1', 'a: 2', 'c: b + a']);
    expect(formulas(merged(mergeOf(base, mineAdds, exchanged)))).toEqual([
      'b: 1',
      'a: 2',
      'c: b + a + 1',
      'd: b * 2',
    ]);
    const anew = apply(rename(base, 'a', 'width'), {
      kind: 'insert-item',
      section: 'one-section',
      at: 0,
      item: { ...cell('a', '7'), id: 'second-a' },
    });
    expect(formulas(merged(mergeOf(base, mineAdds, anew)))?.sort()).toEqual(
      ['a: 7', 'width: 1', 'b: 2', 'c: width + b + 1', 'd: width * 2'].sort(),
    );
  });

  test('a column and a table that the other side renamed are found by what I added', () => {
    const mine = apply(base, {
      kind: 'insert-item',
      section: 'one-section',
      at: 3,
      item: cell('d', 'sum(rooms.area)'),
    });
    const theirs = apply(apply(base, { kind: 'rename', what: 'table', id: 'rooms', name: 'spaces' }), {
      kind: 'rename',
      what: 'column',
      table: 'rooms',
      id: 'area',
      name: 'floor',
    });
    const merge = mergeOf(base, mine, theirs);
    expect(formulas(merged(merge))?.at(-1)).toBe('d: sum(spaces.floor)');
    const tableOnly = merged(merge, ({ key }) => key === 'table:rooms');
    expect(formulas(tableOnly)?.at(-1)).toBe('d: sum(spaces.area)');
  });

  /** Renames only, and values: whatever is chosen, a formula goes on reading what it read. */
  test('after random renames on both sides no formula of either loses what it reads', () => {
    const NAMES = ['a', 'b', 'c', 'u', 'v', 'w'];
    let checked = 0;
    const deed = fc.record({ id: fc.constantFrom('a', 'b', 'c'), name: fc.constantFrom(...NAMES) });
    const renamedBy = (document: WorkbookDocument, deeds: readonly { id: string; name: string }[]) =>
      deeds.reduce((now, { id, name }) => {
        const applied = applyEdit(now, { kind: 'rename', what: 'cell', id, name });
        return 'document' in applied ? applied.document : now;
      }, document);
    const nameNow = (document: WorkbookDocument, id: string) =>
      document.sheets[0]?.sections[0]?.items.flatMap((item) =>
        item.kind === 'cell' && item.id === id ? [item.name] : [],
      )[0] ?? '';
    const adding = (document: WorkbookDocument, id: string, reads: string) =>
      apply(document, {
        kind: 'insert-item',
        section: 'one-section',
        at: 3,
        item: { ...cell(id, `${nameNow(document, reads)} * 2`), id },
      });
    fc.assert(
      fc.property(
        ...[fc.array(deed, { maxLength: 6 }), fc.array(deed, { maxLength: 6 })],
        ...[fc.constantFrom('a', 'b', 'c'), fc.constantFrom('a', 'b', 'c')],
        fc.array(fc.boolean(), { minLength: 3, maxLength: 3 }),
        (
          first: { id: string; name: string }[],
          second: { id: string; name: string }[],
          x: string,
          y: string,
          picks: boolean[],
        ) => {
          const mine = adding(renamedBy(base, first), 'mine_1', x);
          const theirs = adding(renamedBy(base, second), 'theirs_1', y);
          const merge = mergeOf(base, mine, theirs);
          for (const takes of [undefined, picks] as const) {
            const result = merged(
              merge,
              takes &&
                (({ what, field, key }) =>
                  what === 'added' ||
                  (field === 'name' && takes[['a', 'b', 'c'].indexOf(key.slice(5))] === true)),
            );
            // Two that want one name: said, and nothing is made.
            if ('problem' in result) continue;
            checked++;
            const text = (id: string) =>
              result.sheets[0]?.sections[0]?.items.flatMap((item) =>
                item.kind === 'cell' && item.id === id ? [item.text] : [],
              )[0];
            expect(text('mine_1')).toBe(`${nameNow(result, x)} * 2`);
            expect(text('theirs_1')).toBe(`${nameNow(result, y)} * 2`);
            expect(text('c')).toBe(`${nameNow(result, 'a')} + ${nameNow(result, 'b')}`);
          }
        },
      ),
      { numRuns: 400 },
    );
    expect(checked).toBeGreaterThan(400);
  });
});
