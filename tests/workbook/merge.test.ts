import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyEdit,
  editTo,
  mergeOf,
  merged,
  pairOf,
  taking,
  writeWorkbook,
  type Cell,
  type Edit,
  type MergeDifference,
  type Table,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';
import { anyDocument } from './arbitrary-document.ts';
import { anyWishes, editFor } from './arbitrary-edit.ts';

/** Written, so that the order in which fields stand in memory does not matter. */
const same = (a: unknown, b: WorkbookDocument) => {
  expect(writeWorkbook(a as WorkbookDocument)).toBe(writeWorkbook(b));
};
const all = () => true;
const none = () => false;

/** A document and another that came of it by random edits. */
const anyDescent = fc
  .tuple(anyDocument, anyWishes, anyWishes)
  .map(([base, first, second]) => ({ base, mine: edited(base, first), theirs: edited(base, second) }));

function edited(document: WorkbookDocument, wishes: Parameters<typeof editFor>[1][]): WorkbookDocument {
  let now = document;
  for (const wish of wishes) {
    const applied = applyEdit(now, editFor(now, wish));
    if ('document' in applied) now = applied.document;
  }
  return now;
}

describe('two workbooks compared', () => {
  test('one and the same do not differ', () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        expect(pairOf(document, document).differences).toEqual([]);
        expect(pairOf(document, structuredClone(document)).differences).toEqual([]);
      }),
    );
  });

  test('all differences taken over give the other, none leave the one', () => {
    fc.assert(
      fc.property(anyDescent, ({ mine, theirs }) => {
        const pair = pairOf(mine, theirs);
        same(taking(pair, all), pair.to);
        same(taking(pair, none), mine);
        expect(pairOf(taking(pair, all), pair.to).differences).toEqual([]);
      }),
    );
  });

  test('workbooks that have nothing to do with each other are compared too', () => {
    fc.assert(
      fc.property(anyDocument, anyDocument, (one, other) => {
        const pair = pairOf(one, other);
        same(taking(pair, all), pair.to);
        same(taking(pair, none), one);
      }),
    );
  });

  test('any choice among the differences keeps every part that neither takes away', () => {
    fc.assert(
      fc.property(
        anyDescent,
        fc.array(fc.boolean(), { minLength: 40, maxLength: 40 }),
        ({ mine, theirs }, choices) => {
          const pair = pairOf(mine, theirs);
          const result = taking(
            pair,
            (difference) => choices[pair.differences.indexOf(difference) % 40] === true,
          );
          const ids = new Set([...pairOf(result, result).a.keys()]);
          for (const key of pair.a.keys()) if (pair.b.has(key)) expect(ids).toContain(key);
        },
      ),
    );
  });
});

describe('three versions put together', () => {
  test('where only one side changed, the other adds nothing', () => {
    fc.assert(
      fc.property(anyDescent, ({ base, mine }) => {
        same(merged(mergeOf(base, mine, base)), mine);
        const theirs = mergeOf(base, base, mine);
        same(merged(theirs), theirs.pair.to);
        expect(theirs.differences.filter(({ changedBy }) => changedBy !== 'theirs')).toEqual([]);
      }),
    );
  });

  const cell = (name: string, text: string): Cell => ({
    kind: 'cell',
    id: name,
    name,
    label: name,
    type: 'number',
    text,
    unit: '',
    note: '',
  });
  const table: Table = {
    kind: 'table',
    id: 'rooms',
    name: 'rooms',
    label: 'Rooms',
    note: '',
    columns: ['room', 'area'].map((name) => ({
      id: name,
      name,
      label: name,
      type: 'text',
      unit: '',
      note: '',
    })),
    rows: ['r1', 'r2', 'r3'].map((id) => ({ id, entries: { room: id, area: '1' } })),
  };
  const base: WorkbookDocument = {
    title: 'House',
    units: 'us',
    sheets: ['one', 'two'].map((id) => ({
      id,
      title: id,
      note: '',
      sections: [
        {
          id: `${id}-section`,
          title: 'Part',
          note: '',
          items: id === 'one' ? [cell('a', '1'), cell('b', '2'), cell('c', 'a + b')] : [table],
        },
      ],
    })),
  };
  const EDITS: readonly Edit[] = [
    { kind: 'set-cell', cell: 'a', patch: { text: '10' } },
    { kind: 'set-cell', cell: 'b', patch: { note: 'measured', label: 'B' } },
    { kind: 'set-cell', cell: 'c', patch: { text: 'a * b' } },
    { kind: 'set-entries', table: 'rooms', entries: [{ row: 'r1', column: 'area', text: '5' }] },
    { kind: 'set-entries', table: 'rooms', entries: [{ row: 'r2', column: 'area', text: '7' }] },
    { kind: 'insert-rows', table: 'rooms', at: 1, rows: [{ id: 'r4', entries: { room: 'new' } }] },
    { kind: 'remove-rows', table: 'rooms', rows: ['r3'] },
    {
      kind: 'insert-column',
      table: 'rooms',
      at: 2,
      column: { id: 'use', name: 'use', label: 'Use', type: 'text', unit: '', note: '' },
      entries: [{ row: 'r1', text: 'kitchen' }],
    },
    { kind: 'insert-item', section: 'one-section', at: 3, item: cell('d', 'c * 2') },
    { kind: 'set-sheet', sheet: 'two', patch: { title: 'Rooms' } },
    { kind: 'insert-sheet', at: 2, sheet: { id: 'three', title: 'Three', note: '', sections: [] } },
    { kind: 'set-document', patch: { title: 'Barn' } },
    { kind: 'set-document', patch: { scenarios: [{ id: 's', name: 'S', note: '', overrides: [] }] } },
  ];
  const apply = (document: WorkbookDocument, edit: Edit | undefined) => {
    const applied = edit && applyEdit(document, edit);
    if (!applied || 'problem' in applied) throw new Error(applied?.problem);
    return applied.document;
  };
  const sorted = (document: WorkbookDocument): string =>
    writeWorkbook(document)
      .split('\n')
      .map((line) => line.replace(/,$/, ''))
      .sort()
      .join('\n');

  test('changes in different places are both there, whichever side is merged into which', () => {
    for (const first of EDITS) {
      for (const second of EDITS) {
        if (first === second) continue;
        const [mine, theirs] = [apply(base, first), apply(base, second)];
        const merge = mergeOf(base, mine, theirs);
        expect(merge.differences.filter(({ changedBy }) => changedBy === 'both')).toEqual([]);
        const both = apply(mine, second);
        // Rows that both sides added at the same place stand in the one order or the other.
        expect(sorted(merged(merge) as WorkbookDocument)).toBe(sorted(both));
        expect(sorted(merged(mergeOf(base, theirs, mine)) as WorkbookDocument)).toBe(sorted(both));
      }
    }
  });

  test('the same change on both sides is no difference', () => {
    for (const edit of EDITS)
      expect(mergeOf(base, apply(base, edit), apply(base, edit)).differences).toEqual([]);
  });

  const mine = apply(base, { kind: 'set-cell', cell: 'a', patch: { text: '3' } });
  const theirs = apply(base, { kind: 'set-cell', cell: 'a', patch: { text: '4' } });
  const text = (document: unknown) =>
    (document as { sheets: { sections: { items: Cell[] }[] }[] }).sheets[0]?.sections[0]?.items[0]?.text;

  test('a value that both changed is a conflict: mine stays until theirs is chosen', () => {
    const merge = mergeOf(base, mine, theirs);
    expect(merge.differences).toMatchObject([{ changedBy: 'both', field: 'text', from: '3', to: '4' }]);
    expect(text(merged(merge))).toBe('3');
    expect(text(merged(merge, (difference: MergeDifference) => difference.field === 'text'))).toBe('4');
  });

  test('what one side removed and the other changed is a conflict, and stays until it is chosen to go', () => {
    const gone = apply(base, { kind: 'remove-item', item: 'a' });
    const merge = mergeOf(base, mine, gone);
    expect(merge.differences).toMatchObject([{ what: 'removed', key: 'cell:a', changedBy: 'both' }]);
    expect(text(merged(merge))).toBe('3');
    expect(mergeOf(base, gone, mine).differences).toMatchObject([{ what: 'added', changedBy: 'both' }]);
  });

  test('a cell that I renamed is found by the formulas that the other side added or changed', () => {
    const renamed = apply(base, { kind: 'rename', what: 'cell', id: 'a', name: 'length' });
    const longer = apply(base, { kind: 'set-cell', cell: 'c', patch: { text: 'a + b + 1' } });
    const added = apply(longer, {
      kind: 'insert-item',
      section: 'one-section',
      at: 3,
      item: cell('d', 'a * 2'),
    });
    const merge = mergeOf(base, renamed, added);
    expect(merge.differences.filter(({ changedBy }) => changedBy !== 'theirs')).toEqual([]);
    const result = merged(merge) as WorkbookDocument;
    const texts = result.sheets[0]?.sections[0]?.items.map((item) =>
      'name' in item && 'text' in item ? item.text : '',
    );
    expect(texts).toEqual(['1', '2', 'length + b + 1', 'length * 2']);
  });

  test('without a common version everything is asked, and mine stays', () => {
    const merge = mergeOf(undefined, mine, theirs);
    expect(merge.differences.map(({ changedBy }) => changedBy)).toEqual(['unknown']);
    same(merged(merge), mine);
  });

  test('what has other ids is matched by its name', () => {
    const other: WorkbookDocument = JSON.parse(
      JSON.stringify(base)
        .replaceAll('"id":"a"', '"id":"x-7"')
        .replaceAll('"id":"area"', '"id":"k9"')
        .replaceAll('"area":"1"', '"k9":"1"')
        .replaceAll('"id":"one"', '"id":"sheet-9"'),
    ) as WorkbookDocument;
    expect(pairOf(base, other).differences).toEqual([]);
  });

  test('two things of one name cannot both stand: it is said, and nothing is made', () => {
    const one = apply(base, {
      kind: 'insert-item',
      section: 'one-section',
      at: 0,
      item: { ...cell('x', '1'), id: 'q' },
    });
    const renamed = apply(base, { kind: 'rename', what: 'cell', id: 'a', name: 'x' });
    const result = merged(mergeOf(base, one, renamed));
    expect(result).toMatchObject({ problem: expect.stringContaining('x') as string });
  });

  test('the result is one step, and its undoing brings the document back to the byte', () => {
    fc.assert(
      fc.property(anyDescent, ({ mine: from, theirs: to }) => {
        const applied = applyEdit(from, editTo(from, to, 'merge'));
        if ('problem' in applied) throw new Error(applied.problem);
        same(applied.document, to);
        const back = applyEdit(applied.document, applied.inverse);
        if ('problem' in back) throw new Error(back.problem);
        same(back.document, from);
      }),
    );
  });
});
