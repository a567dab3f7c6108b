import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readWorkbook } from '../../../src/workbook/file/read.ts';
import { writeWorkbook } from '../../../src/workbook/file/write.ts';
import { photosOf } from '../../../src/workbook/photo.ts';
import { expectTenfold } from '../../growth.ts';
import { anyDocument, anyText } from '../arbitrary-document.ts';

const frozen = readFileSync(new URL('./frozen/format-1.json', import.meta.url), 'utf8');

describe('laws of the file', () => {
  test(
    'reading what was written gives the document, and writing that gives the bytes',
    { timeout: 60_000 },
    () => {
      fc.assert(
        fc.property(anyDocument, (document) => {
          const text = writeWorkbook(document);
          const opened = readWorkbook(text);
          if (!('document' in opened)) throw new Error(JSON.stringify(opened));
          expect(opened.document).toStrictEqual(document);
          expect(opened.readOnly).toBeUndefined();
          expect(writeWorkbook(opened.document)).toBe(text);
        }),
        { numRuns: 500 },
      );
    },
  );

  test('equal documents give equal bytes, in whatever order their fields stand', { timeout: 60_000 }, () => {
    const turned = <T>(value: T): T => {
      if (Array.isArray(value)) return value.map(turned) as T;
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, inner]: [string, unknown]) => [key, turned(inner)]),
      ) as T;
    };
    fc.assert(
      fc.property(anyDocument, (document) => {
        expect(writeWorkbook(turned(document))).toBe(writeWorkbook(document));
      }),
    );
  });

  test('every cell, column, row and photo has a line of its own', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        const lines = writeWorkbook(document).split('\n');
        const items = document.sheets.flatMap(({ sections }) => sections.flatMap((section) => section.items));
        const things = items.flatMap<object>((item) =>
          item.kind === 'table' ? [...item.columns, ...item.rows] : [item],
        );
        expect(lines.filter((line) => /^ +\{"(kind|id|\$id)": /.test(line))).toHaveLength(
          things.length + [...photosOf(document)].length,
        );
        expect(lines.at(-1)).toBe('');
      }),
    );
  });
});

/** A file with lines, characters or values changed: still JSON often enough to reach every stage. */
const mutated = fc
  .tuple(
    fc.oneof(anyDocument.map(writeWorkbook), fc.constant(frozen)),
    fc.array(
      fc.record({
        way: fc.nat(5),
        at: fc.nat(),
        other: fc.nat(),
        put: fc.oneof(
          fc.constantFrom(
            'null',
            '[]',
            '{}',
            '-1',
            '1e999',
            '"__proto__"',
            '"constructor"',
            '"',
            ',',
            '}',
            '\\',
            '"kind"',
            'true',
          ),
          anyText.map((text) => JSON.stringify(text)),
          fc.json({ maxDepth: 2 }),
        ),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  )
  .map(([text, changes]) => changes.reduce(changed, text));

function changed(text: string, change: { way: number; at: number; other: number; put: string }): string {
  const lines = text.split('\n');
  const line = change.at % lines.length;
  const values = [...text.matchAll(/: ("(?:[^"\\]|\\.)*"|\d+|true|false|\{[^{}]*\})/g)];
  const value = values[change.at % Math.max(1, values.length)];
  const place = change.at % (text.length + 1);
  switch (change.way) {
    case 0:
      return text.slice(0, place) + change.put + text.slice(place);
    case 1:
      return text.slice(0, place) + text.slice(place + 1 + (change.other % 5));
    case 2:
      return lines.toSpliced(line, 1).join('\n');
    case 3:
      return lines.toSpliced(line, 0, `${lines[line]?.replace(/,$/, '') ?? ''},`).join('\n');
    default: {
      if (!value) return text;
      const start = value.index + 2;
      const put = change.way === 4 ? change.put : (values[change.other % values.length]?.[1] ?? '');
      return text.slice(0, start) + put + text.slice(start + (value[1]?.length ?? 0));
    }
  }
}

describe('mutated files by the thousand', () => {
  test(
    'open or are refused in words; nothing is thrown, and what opens can be saved',
    { timeout: 60_000 },
    () => {
      const outcomes = new Map<string, number>();
      fc.assert(
        fc.property(mutated, (text) => {
          const result = readWorkbook(text);
          const outcome = 'document' in result ? 'opened' : result.code;
          outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
          if ('document' in result) {
            const again = readWorkbook(writeWorkbook(result.document));
            if (!('document' in again)) throw new Error(JSON.stringify(again));
            expect(again.document).toStrictEqual(result.document);
          } else {
            const { where, found, expected, suggestion } = result;
            for (const words of [where, found, expected, suggestion]) expect(words).not.toBe('');
          }
        }),
        { numRuns: 5000 },
      );
      // Were all of them refused at the door, the rooms behind it would not have been tried.
      for (const stage of ['opened', 'not-json', 'wrong-shape', 'duplicate-id', 'bad-name']) {
        expect(outcomes.get(stage) ?? 0, stage).toBeGreaterThan(10);
      }
    },
  );

  test('a table of the most rows takes no long time', { timeout: 60_000 }, () => {
    expectTenfold((many) => {
      const rows = Array.from(
        { length: many },
        (_, index) => `{"a": "${String(index)}", "b": "x", "c": "-30.1 Pa"}`,
      );
      const table = `{"kind": "table", "name": "t", "columns": [{"name": "a"}, {"name": "b"}, {"name": "c"}], "rows": [${rows.join()}]}`;
      const text = `{"app": "close-in", "format": 1, "sheets": [{"sections": [{"items": [${table}]}]}]}`;
      expect('document' in readWorkbook(text)).toBe(true);
    }, 5_000);
  });
});
