import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readWorkbook, type FileError, type Opened } from '../../../src/workbook/file/read.ts';
import { writeWorkbook } from '../../../src/workbook/file/write.ts';
import { findTable, itemsOf } from '../../../src/workbook/locate.ts';

const frozen = readFileSync(new URL('./frozen/format-1.json', import.meta.url), 'utf8');

function open(file: unknown): Opened {
  const result = readWorkbook(typeof file === 'string' ? file : JSON.stringify(file));
  if (!('document' in result)) throw new Error(JSON.stringify(result));
  return result;
}
function refusal(file: unknown): FileError {
  const result = readWorkbook(typeof file === 'string' ? file : JSON.stringify(file));
  if ('document' in result) throw new Error('it opened');
  return result;
}
const withItems = (...items: object[]) => ({
  app: 'close-in',
  format: 1,
  sheets: [{ sections: [{ items }] }],
});
const cell = { kind: 'cell', name: 'volume', text: '500 m3' };
const table = {
  kind: 'table',
  name: 'readings',
  columns: [{ name: 'test' }, { name: 'flow' }],
  rows: [] as object[],
};

describe('a file of format 1, frozen', () => {
  test('opens for ever, and is written again byte for byte', () => {
    const { document, warnings, readOnly } = open(frozen);
    expect(warnings).toEqual([]);
    expect(readOnly).toBeUndefined();
    expect(writeWorkbook(document)).toBe(frozen);
  });

  test('means what it meant', () => {
    const { document } = open(frozen);
    expect(document.title).toBe('Air test of an invented house "A"');
    expect([...itemsOf(document)].map((item) => ('name' in item ? item.name : item.id))).toEqual([
      ...[
        'welcome',
        'building_volume',
        'ceiling_height',
        'target_ach50',
        'flow_50',
        'ach50',
        'margin_ach50',
        'verdict',
      ],
      ...['shown_test', 'stage', 'ρ_air', 'tests', 'readings', 'fit'],
    ]);
    expect(findTable(document, 'readings')?.rows[1]).toEqual({
      id: 'r7',
      entries: { test: 'sealed', house_pressure: '0.2 inH2O', flow: '425', left_out: 'a door stood open' },
      note: 'gusts',
    });
  });
});

describe('a file written by hand', () => {
  test('gets ids from names and places, the same each time, beside those it has', () => {
    const { document } = open({
      app: 'close-in',
      format: 1,
      sheets: [
        {
          sections: [
            { items: [cell, { kind: 'prose', id: 'tests', text: '' }, { ...table, name: 'tests' }] },
          ],
        },
        {
          id: 'sheet-1',
          sections: [
            {
              items: [
                { kind: 'prose', text: 'a' },
                { kind: 'prose', text: 'b' },
              ],
            },
          ],
        },
      ],
    });
    expect(document.sheets.map(({ id }) => id)).toEqual(['sheet-1-2', 'sheet-1']);
    expect(document.sheets.map(({ sections }) => sections[0]?.id)).toEqual(['section-1', 'section-2']);
    expect([...itemsOf(document)].map(({ id }) => id)).toEqual([
      'volume',
      'tests',
      'tests-2',
      'prose-1',
      'prose-2',
    ]);
    expect(open(writeWorkbook(document)).document).toStrictEqual(document);
  });

  test('may begin with a byte order mark and leave out what is empty', () => {
    const { document } = open(`\ufeff${JSON.stringify({ app: 'close-in', format: 1, sheets: [] })}`);
    expect(document).toStrictEqual({ title: '', units: 'us', sheets: [] });
  });

  test('has blank entries and notes taken for none, and accents joined to their letters', () => {
    const rows = [{ test: ' ', 'La\u0308nge': '3', $note: '' }];
    const { document } = open(
      withItems({ ...table, columns: [{ name: 'test' }, { name: 'La\u0308nge' }], rows }),
    );
    expect(findTable(document, 'readings')?.rows).toStrictEqual([{ id: 'r1', entries: { Länge: '3' } }]);
    expect(findTable(document, 'readings')?.columns[1]?.name).toBe('L\u00e4nge');
  });
});

describe('what a file says that is not known or leads nowhere', () => {
  test('is kept out and named', () => {
    const rows = [
      { test: 'A', colour: 'red' },
      { test: 'B', colour: 'blue', $who: 'me' },
    ];
    const file = {
      ...withItems({ ...cell, formula: '1' }, { ...table, rows }),
      author: 'someone',
      __proto__x: 1,
    };
    const { document, warnings } = open(file);
    expect(warnings).toEqual([
      {
        where: 'sheet 1, section 1, item 1 (volume)',
        message: 'The field “formula” is not known here and was left out.',
      },
      { where: 'the file', message: 'The field “author” is not known here and was left out.' },
      { where: 'the file', message: 'The field “__proto__x” is not known here and was left out.' },
      { where: 'table readings', message: 'It has no column “colour”: 2 entries were left out.' },
      { where: 'table readings', message: 'It has no column “$who”: 1 entry was left out.' },
    ]);
    expect(writeWorkbook(document)).not.toMatch(/author|colour|formula/);
  });

  test('is told for the title block and for tables, and stays', () => {
    const { document, warnings } = open({
      ...withItems(cell, { ...table, reasonColumn: 'why', shownBy: { column: 'test', cell: 'readings' } }),
      titleBlock: { result: 'volume', target: 'goal', margin: 'readings' },
    });
    expect(warnings.map(({ where, message }) => `${where}: ${message}`)).toEqual([
      'titleBlock, target: There is no cell “goal” in the workbook.',
      'titleBlock, margin: There is no cell “readings” in the workbook.',
      'table readings, reasonColumn: There is no column “readings.why” in the workbook.',
      'table readings, shownBy: There is no cell “readings” in the workbook.',
    ]);
    expect(open(writeWorkbook(document)).document).toStrictEqual(document);
  });

  test('never comes as more than fifty warnings of unknown fields', () => {
    const strange = Object.fromEntries(
      Array.from({ length: 500 }, (_, index) => [`field${String(index)}`, 1]),
    );
    const { warnings } = open({ ...withItems(), ...strange });
    expect(warnings).toHaveLength(51);
    expect(warnings[50]?.message).toBe('450 more unknown fields were left out.');
  });
});

describe('a newer format', () => {
  const newer = { ...withItems(cell), format: 2, sections: 'something new' };

  test('opens for reading only while its shape still fits', () => {
    const opened = open(newer);
    expect(opened.readOnly).toBe(
      'This is a workbook of format 2; this version knows format 1 or older. It is open for reading only, and parts that are new may be missing.',
    );
    expect([...itemsOf(opened.document)]).toHaveLength(1);
    expect(opened.warnings[0]?.message).toBe('The field “sections” is not known here and was left out.');
  });

  test('is refused when it does not fit', () => {
    expect(refusal({ ...newer, sheets: { air: [] } })).toEqual({
      code: 'newer-format',
      where: 'sheets',
      found: 'a workbook of format 2',
      expected: 'format 1 or older',
      suggestion: 'It was saved by a newer Close-in: load this page again to get that version.',
    });
  });
});

describe('refusals say where, what was found, what was expected, and what to do', () => {
  const cases: [string, unknown][] = [
    ['an empty file', ''],
    ['no JSON', 'hello'],
    ['a cut file', frozen.slice(0, 500)],
    ['a comma too many', '{\n  "app": "close-in",\n}'],
    ['a key twice', '{\n  "app": "close-in",\n  "format": 1,\n  "app": "other"\n}'],
    ['nesting 200 deep', `${'['.repeat(200)}${']'.repeat(200)}`],
    ['another kind of JSON', { name: 'package' }],
    ['another app', { app: 'other', format: 1 }],
    ['a list', []],
    ['null', 'null'],
    ['no format', { app: 'close-in' }],
    ['half a format', { app: 'close-in', format: 1.5 }],
    ['a format in quotes', { app: 'close-in', format: '1' }],
    ['no sheets', { app: 'close-in', format: 1 }],
    ['an unknown kind of item', withItems({ kind: 'macro' })],
    ['a number in place of text', withItems(cell, { ...cell, name: 'height', text: 3 })],
    ['too many decimals', withItems({ ...cell, places: 40 })],
    ['choices of a wrong sort', withItems({ ...cell, choices: [1] })],
    ['a formula past the limit', withItems({ ...cell, text: 'x'.repeat(10_001) })],
    ['an entry that is a number', withItems({ ...table, rows: [{ flow: -0.5 }] })],
    ['an entry that is nothing', withItems({ ...table, rows: [{ flow: null }] })],
    ['an entry past the limit', withItems({ ...table, rows: [{ flow: '1'.repeat(10_001) }] })],
    ['a row that is a list', withItems({ ...table, rows: [['A']] })],
    ['a name that is none', withItems({ ...cell, name: 'house volume' })],
    ['a name with a look-alike', withItems({ ...cell, name: 'v\u043elume' })],
    ['a name taken', withItems(cell, { ...table, name: 'volume' })],
    ['a column name taken', withItems({ ...table, columns: [{ name: 'flow' }, { name: 'flow' }] })],
    ['an id taken', withItems({ ...cell, id: 'a' }, { ...table, id: 'a' })],
    ['a row id taken', withItems({ ...table, rows: [{ $id: 'a' }, { $id: 'a' }] })],
    ['an id that is none', withItems({ ...cell, id: 'a b' })],
    ['50,001 rows', withItems({ ...table, rows: Array.from({ length: 50_001 }, () => ({})) })],
    [
      '201 columns',
      withItems({ ...table, columns: Array.from({ length: 201 }, (_, i) => ({ name: `c${String(i)}` })) }),
    ],
    ['a table as CSV', 'House,Fan\n-60,100\n'],
    ['a photo', '\ufffd\ufffd\u0000\u0001JFIF'],
  ];
  test.each(cases)('%s', (_, file) => {
    expect(refusal(file)).toMatchSnapshot();
  });

  test('a name or an id of a million characters, without repeating it', () => {
    for (const long of ['x'.repeat(1_000_000), '\u0430'.repeat(1_000_000)]) {
      for (const item of [
        { ...cell, name: long },
        { ...cell, id: long },
        { ...table, columns: [{ name: long }] },
      ]) {
        expect(JSON.stringify(refusal(withItems(item))).length).toBeLessThan(600);
      }
    }
  });

  test('a file past 50 million characters, before it is looked at', () => {
    expect(refusal(' '.repeat(50_000_001))).toMatchObject({
      code: 'too-large',
      found: '50,000,001 characters',
    });
  });
});

describe('words that every object answers to', () => {
  test.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf'])(
    '%s does no harm',
    (word) => {
      const key = JSON.stringify(word);
      const json = (text: string) => text.replaceAll('"WORD"', key);
      for (const item of [
        '{"kind": "cell", "name": "WORD"}',
        '{"kind": "cell", "name": "a", "id": "WORD"}',
        '{"kind": "table", "name": "WORD", "columns": []}',
        '{"kind": "table", "name": "t", "columns": [{"name": "WORD"}]}',
        '{"kind": "table", "name": "t", "columns": [{"name": "a", "id": "WORD"}]}',
        '{"kind": "table", "name": "t", "columns": [], "rows": [{"$id": "WORD"}]}',
      ]) {
        expect(
          refusal(json(`{"app": "close-in", "format": 1, "sheets": [{"sections": [{"items": [${item}]}]}]}`))
            .code,
        ).toMatch(/^bad-(name|id)$/);
      }
      for (const item of [
        '{"kind": "cell", "name": "a", "WORD": {"polluted": 1}}',
        '{"kind": "table", "name": "t", "columns": [{"name": "a", "WORD": {"polluted": 1}}], "rows": [{"WORD": "x"}]}',
        '{"kind": "figure", "figure": "fit", "bindings": {"x": "a"}, "WORD": {"polluted": 1}}',
      ]) {
        const { document } = open(
          json(
            `{"app": "close-in", "format": 1, "WORD": {"polluted": 1}, "sheets": [{"sections": [{"items": [${item}]}]}]}`,
          ),
        );
        expect(writeWorkbook(document)).not.toContain('polluted');
        for (const found of itemsOf(document)) {
          expect(Object.getPrototypeOf(found)).toBe(Object.prototype);
          expect(Object.hasOwn(found, word)).toBe(false);
        }
      }
      expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    },
  );
});
