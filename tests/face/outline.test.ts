/** The outline after an edit is that of the document as it is then, whether it was made anew or from the one before. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { outlineOf } from '../../src/face/outline.ts';
import { applyEdit } from '../../src/workbook/index.ts';
import { anyDocument } from '../workbook/arbitrary-document.ts';
import { anyWishes, editFor } from '../workbook/arbitrary-edit.ts';

test('follows every edit', () => {
  let followed = 0;
  fc.assert(
    fc.property(anyDocument, anyWishes, (document, wishes) => {
      let now = document;
      let outline = outlineOf(now);
      for (const wish of wishes) {
        const applied = applyEdit(now, editFor(now, wish));
        if ('problem' in applied) continue;
        now = applied.document;
        outline = outlineOf(now, outline);
        expect(outline).toEqual(outlineOf(now));
        for (const [name, { item, sheet }] of outlineOf(now).byName) {
          expect(outline.byName.get(name)?.item).toBe(item);
          expect(outline.byName.get(name)?.sheet).toBe(sheet);
        }
        followed++;
      }
    }),
    { numRuns: 150 },
  );
  expect(followed).toBeGreaterThan(200);
});
