import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyEdit, touched, type Edit } from '../../src/workbook/edit.ts';
import { readWorkbook } from '../../src/workbook/file/read.ts';
import { writeWorkbook } from '../../src/workbook/file/write.ts';
import { findItem, itemsOf } from '../../src/workbook/locate.ts';
import { anyDocument } from './arbitrary-document.ts';
import { anyWishes, editFor } from './arbitrary-edit.ts';

function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

describe('laws of edits', () => {
  test(
    'an edit then its inverse restores the document exactly, and the inverse of that repeats the edit',
    { timeout: 60_000 },
    () => {
      const kinds = new Set<string>();
      fc.assert(
        fc.property(anyDocument, anyWishes, (start, wishes) => {
          let document = frozen(start);
          for (const wish of wishes) {
            const edit = frozen(editFor(document, wish));
            const applied = applyEdit(document, edit);
            if ('problem' in applied) continue;
            kinds.add(edit.kind);
            const back = applyEdit(applied.document, applied.inverse);
            if ('problem' in back) throw new Error(`${edit.kind}: ${back.problem}`);
            expect(back.document).toStrictEqual(document);
            expect(writeWorkbook(back.document)).toBe(writeWorkbook(document));
            const again = applyEdit(back.document, back.inverse);
            if ('problem' in again) throw new Error(`${edit.kind}: ${again.problem}`);
            expect(again.document).toStrictEqual(applied.document);
            document = frozen(applied.document);
          }
        }),
        { numRuns: 300 },
      );
      // Were the edits never accepted, the law above would hold of nothing.
      expect([...kinds].sort()).toHaveLength(27);
    },
  );

  test('undoing all and redoing all gives the same bytes as before', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyDocument, anyWishes, (start, wishes) => {
        const states = [start];
        const undo: Edit[] = [];
        let document = start;
        for (const wish of wishes) {
          const applied = applyEdit(document, editFor(document, wish));
          if ('problem' in applied) continue;
          document = applied.document;
          states.push(document);
          undo.push(applied.inverse);
        }
        const redo: Edit[] = [];
        for (const edit of undo.reverse()) {
          const applied = applyEdit(document, edit);
          if ('problem' in applied) throw new Error(applied.problem);
          document = applied.document;
          redo.push(applied.inverse);
        }
        expect(writeWorkbook(document)).toBe(writeWorkbook(start));
        for (const edit of redo.reverse()) {
          const applied = applyEdit(document, edit);
          if ('problem' in applied) throw new Error(applied.problem);
          document = applied.document;
        }
        expect(writeWorkbook(document)).toBe(writeWorkbook(states.at(-1) ?? start));
      }),
      { numRuns: 200 },
    );
  });

  test('whatever edits make can be saved and opened again', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyDocument, anyWishes, (start, wishes) => {
        let document = start;
        for (const wish of wishes) {
          const applied = applyEdit(document, editFor(document, wish));
          if (!('problem' in applied)) document = applied.document;
        }
        const opened = readWorkbook(writeWorkbook(document));
        if (!('document' in opened)) throw new Error(JSON.stringify(opened));
        expect(opened.document).toStrictEqual(document);
      }),
      { numRuns: 200 },
    );
  });

  test('what an edit does not touch is the same object as before', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyDocument, anyWishes, (start, wishes) => {
        for (const wish of wishes) {
          const edit = editFor(start, wish);
          const applied = applyEdit(start, edit);
          const touches = touched(start, edit);
          if ('problem' in applied) {
            expect([touches.cells.size, touches.tables.size, touches.shown.size, touches.outline]).toEqual([
              0,
              0,
              0,
              false,
            ]);
            continue;
          }
          for (const item of itemsOf(start)) {
            const isTouched =
              touches.cells.has(item.id) || touches.tables.has(item.id) || touches.shown.has(item.id);
            if (!isTouched) expect(findItem(applied.document, item.id)).toBe(item);
          }
          for (const item of itemsOf(applied.document)) {
            if (findItem(start, item.id)) continue;
            expect(
              touches.cells.has(item.id) || touches.tables.has(item.id) || touches.shown.has(item.id),
            ).toBe(true);
          }
        }
      }),
      { numRuns: 200 },
    );
  });
});
