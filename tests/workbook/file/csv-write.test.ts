import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Row } from '../../../src/workbook/document.ts';
import { guarded, readCsv, unguarded, writeCsv } from '../../../src/workbook/file/csv.ts';
import { expectTenfold } from '../../growth.ts';
import { column, readings } from './readings-table.ts';

describe('fields that a spreadsheet would run', () => {
  test.each([
    '=1+1',
    '+A1',
    '-A1',
    '@SUM(A1)',
    '\tx',
    '＝1',
    '＋1',
    '－1',
    '＠1',
    '-30.1 Pa',
    "'=1",
    ' =1',
    '=',
    '-',
    '+-1',
  ])('%j is guarded, and comes back', (text) => {
    expect(guarded(text)).toBe(`'${text}`);
    expect(unguarded(guarded(text))).toBe(text);
  });

  test.each(['-5.00', '+5', '-1,234.5', '-1e-3', '30.1', 'a=b', "it's", "'quoted'", ''])(
    '%j stays as it is',
    (text) => {
      expect(guarded(text)).toBe(text);
      expect(unguarded(text)).toBe(text);
    },
  );

  test('every text outlives guarding', () => {
    const risky = fc.string({
      unit: fc.constantFrom("'", '=', '-', '+', '@', ' ', '\t', '5', '.', 'a', '＝', '\n'),
      maxLength: 6,
    });
    fc.assert(
      fc.property(risky, (text) => {
        expect(unguarded(guarded(text))).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('writing a table', () => {
  const rows: Row[] = [
    {
      id: 'r1',
      entries: { 'c-test': 'A, "first"', 'c-house_pressure': '-30.1 ± 0.5', 'c-measured_flow': '-5.00' },
    },
    {
      id: 'r2',
      entries: { 'c-test': '=HYPERLINK("x")', 'c-house_pressure': '20.0(5) Pa', 'c-induced': '7' },
      note: 'gusts',
    },
    { id: 'r3', entries: { 'c-house_pressure': '0.12 inH2O', 'c-fan_range': 'mid' } },
  ];
  const text = writeCsv({ ...readings, rows }, (row, { name }) => `${name} of ${row.id}`);

  test('gives names with units, ± and overrides in columns of their own, and marks what is calculated', () => {
    expect(text.split('\r\n')).toEqual([
      '\ufefftest,house_pressure (Pa),± house_pressure (Pa),fan_range,measured_flow (cfm),temperature (degC),induced [computed] (Pa),induced [typed] (Pa),$note',
      '"A, ""first""",-30.1,0.5,,-5.00,,induced of r1,,',
      `"'=HYPERLINK(""x"")",20.0(5) Pa,,,,,induced of r2,7,gusts`,
      ',0.12 inH2O,,mid,,,induced of r3,,',
      '',
    ]);
  });

  test('read again it is the same table', () => {
    const reading = readCsv(text, readings);
    expect(reading.problems).toEqual([]);
    expect(reading.missing).toEqual([]);
    expect(reading.rows).toEqual(rows.map(({ id: _id, ...row }) => row));
  });

  test('has no byte order mark where plain letters do', () => {
    expect(writeCsv({ ...readings, columns: [column('flow', { unit: 'cfm' })], rows: [] }, () => '')).toBe(
      'flow (cfm)\r\n',
    );
  });

  const anyText = fc.oneof(
    fc.constantFrom(
      '=x',
      "'=x",
      '-',
      'a,b',
      'a;b\tc',
      'two\nlines',
      '"',
      '""',
      ' outer ',
      '± 5',
      '$note',
      '-5.00',
      '\ufeff',
    ),
    fc.string({ unit: 'binary', maxLength: 8 }).map((typed) => typed.replaceAll('\r', ' ')),
  );
  const anyNumber = fc.oneof(
    fc.constantFrom(
      '-30.1',
      '30.1 ± 0.5',
      '30.1±0.5',
      '20.0(5)',
      '1,234.5',
      '30 Pa ± 2 %',
      '-0.12 inH2O',
      '1e-3 ± 1e-4',
      '−5',
      '.5 ± 5.',
      'n/a',
      '1,2',
    ),
    anyText,
  );

  test('any table read again is the same, but for rows with nothing in them', () => {
    const columns = [
      column('a', { type: 'text' }),
      column('b', { unit: 'Pa' }),
      column('c', { unit: 'no unit at all' }),
      column('d', { formula: 'b', unit: 'Pa' }),
      column('e', { type: 'choice', choices: 'other.column' }),
    ];
    const anyRow = fc.record({
      texts: fc.tuple(anyText, anyNumber, anyNumber, anyNumber, anyText),
      note: fc.option(anyText),
    });
    fc.assert(
      fc.property(fc.array(anyRow, { maxLength: 5 }), (made) => {
        const filled = made.flatMap(({ texts, note }): Omit<Row, 'id'>[] => {
          const pairs = columns.map(({ id }, index) => [id, texts[index] ?? ''] as const);
          const entries = Object.fromEntries(pairs.filter(([, entry]) => entry.trim() !== ''));
          const noted = note === null || note === '' ? {} : { note };
          return Object.keys({ ...entries, ...noted }).length === 0 ? [] : [{ entries, ...noted }];
        });
        const table = {
          ...readings,
          columns,
          rows: filled.map((row, index) => ({ id: String(index), ...row })),
        };
        expect(
          readCsv(
            writeCsv(table, () => '=calculated'),
            table,
          ).rows,
        ).toEqual(filled);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('files of any kind', () => {
  test('are read without anything thrown', () => {
    const piece = fc.constantFrom(
      ',',
      ';',
      '\t',
      '\n',
      '\r\n',
      '"',
      'test',
      'house pressure (Pa)',
      '±',
      '-30,1',
      '(',
      ')',
      '[typed]',
      '1',
      ' ',
      '\ufeff',
      '__proto__',
    );
    fc.assert(
      fc.property(
        fc.string({ unit: fc.oneof(piece, fc.string({ maxLength: 1 })), maxLength: 60 }),
        (text) => {
          const { rows, problems } = readCsv(text, readings);
          for (const { entries } of rows) for (const id of Object.keys(entries)) expect(id).toMatch(/^c-/);
          for (const problem of problems) expect(problem.line).toBeGreaterThan(0);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('many rows take no long time', () => {
    expectTenfold((rows) => {
      const lines = Array.from({ length: rows }, (_, index) => `A,-${String(index)}.5,${String(index)}`);
      const text = `test,house pressure (Pa),measured flow (m3/h)\n${lines.join('\n')}\n`;
      expect(readCsv(text, readings).rows).toHaveLength(rows);
    }, 5_000);
  });

  test.each<[string, (size: number) => string, number]>([
    ['digits without end', (lines) => `house_pressure\n${`${'1'.repeat(9_999)}x\n`.repeat(lines)}`, 30],
    ['a heading of spaces', (spaces) => `test,a${' '.repeat(spaces)}b,c\n1,2,3\n`, 100_000],
    ['brackets without end', (pairs) => `test,${'('.repeat(pairs)}${')'.repeat(pairs)}\n1,2\n`, 50_000],
    ['spaces without end', (lines) => `house_pressure\n${`1${' '.repeat(9_990)}x\n`.repeat(lines)}`, 30],
    ['a field that never ends', (commas) => `test\n"${'a,'.repeat(commas)}`, 100_000],
  ])('%s take no longer', (_, textOf, size) => {
    expectTenfold((many) => {
      readCsv(textOf(many), readings);
    }, size);
  });
});
