import fc from 'fast-check';
import { expect, test } from 'vitest';
import { editOf } from '../../../src/face/keeping/log-entry.ts';
import { applyEdit, checksumOf } from '../../../src/workbook/index.ts';
import { anyDocument } from '../../workbook/arbitrary-document.ts';
import { anyWishes, editFor } from '../../workbook/arbitrary-edit.ts';

test('any edit and its inverse, kept as text and read again, do the same', { timeout: 120_000 }, () => {
  const again = (edit: ReturnType<typeof editFor>) => {
    const text = JSON.stringify(edit);
    const read = editOf({ id: 'a', sequence: 1, text, checksum: checksumOf(text), at: 0 });
    if (!read) throw new Error('damaged');
    return read;
  };
  fc.assert(
    fc.property(anyDocument, anyWishes, (start, wishes) => {
      let document = start;
      for (const wish of wishes) {
        const edit = editFor(document, wish);
        const applied = applyEdit(document, edit);
        const replayed = applyEdit(document, again(edit));
        expect(replayed).toStrictEqual(applied);
        if ('problem' in applied) continue;
        const undone = applyEdit(applied.document, again(applied.inverse));
        expect(undone).toHaveProperty('document');
        if ('document' in undone) expect(undone.document).toStrictEqual(document);
        document = applied.document;
      }
    }),
    { numRuns: 150 },
  );
});
