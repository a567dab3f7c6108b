/**
 * Every mistake that a formula can hold, with the whole of what is said about it. One formula a case; the message is
 * a snapshot, so that a change of words is seen and read.
 */
import { describe, expect, it } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { defineFunction, Engine, FunctionLibrary, renderDiagnostic } from '../../../src/engine/index.ts';

const half = defineFunction({
  name: 'half_of',
  summary: 'half of a length, and its square',
  source: 'arithmetic',
  limits: 'none',
  parameters: [{ name: 'length', type: { kind: 'quantity', unit: 'm' }, summary: 'a length' }],
  result: {
    kind: 'record',
    fields: {
      half: { type: { kind: 'quantity', unit: 'm' }, summary: 'half' },
      square: { type: { kind: 'quantity', unit: 'm2' }, summary: 'its square' },
    },
  },
  example: { arguments: [2], result: { half: 1, square: 1 } },
  compute: (length: number) => ({ half: length / 2, square: length ** 2 / 4 }),
});
const fitting = defineFunction({
  name: 'slope_of',
  summary: 'rise over run of two columns',
  source: 'arithmetic',
  limits: 'none',
  parameters: [
    { name: 'run', type: { kind: 'quantity', unit: 'Pa' }, column: true, summary: 'run' },
    { name: 'rise', type: { kind: 'quantity', unit: 'm3/s' }, column: true, summary: 'rise' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: { result: 0 },
  compute: () => 1,
});
const alike = defineFunction({
  name: 'between',
  summary: 'a value held between two others',
  source: 'arithmetic',
  limits: 'none',
  parameters: ['low', 'value', 'high'].map((name) => ({
    name,
    type: { kind: 'generic', letter: 'A' } as const,
    summary: name,
  })),
  result: { kind: 'generic', letter: 'A' },
  example: { result: 0 },
  compute: (low: number, value: number, high: number) => Math.min(high, Math.max(low, value)),
});

function house(): Engine {
  const engine = new Engine(new FunctionLibrary([half, fitting, alike]));
  const cells: readonly (readonly [string, string, string?])[] = [
    ['floor_area', '2,698 ft2', 'ft2'],
    ['ceiling_height', `8' 1"`, 'ft'],
    ['indoor', '68 degF'],
    ['outdoor', '30 degF'],
    ['swing', '5 Fdeg'],
    ['flow', '431 cfm', 'cfm'],
    ['exponent', '0.65'],
    ['leaky', 'flow > 400 cfm'],
    ['parts', 'half_of(ceiling_height)'],
    ['broken', 'floor_area + ceiling_height'],
  ];
  for (const [name, text, unit = ''] of cells) engine.defineCell({ name, type: 'number', text, unit });
  engine.defineCell({ name: 'trade', type: 'text', text: 'plasterer' });
  engine.defineTable({
    name: 'readings',
    rows: 2,
    columns: [
      { name: 'test', type: 'text', entries: ['a', 'a'] },
      { name: 'pressure', type: 'number', unit: 'Pa', entries: ['50', '25'] },
      { name: 'flow', type: 'number', unit: 'cfm', entries: ['430', '275'] },
      { name: 'warmth', type: 'number', unit: 'degF', entries: ['68', '66'] },
    ],
  });
  engine.defineTable({
    name: 'tests',
    rows: 1,
    columns: [
      { name: 'name', type: 'text', entries: ['a'] },
      { name: 'baseline', type: 'number', unit: 'Pa', entries: ['-1'] },
    ],
  });
  engine.recalculate();
  return engine;
}

/** Formula, and the column's table or the unit of the cell it stands in. */
const CASES: readonly (readonly [
  formula: string,
  place?: { readonly table?: string; readonly unit?: string },
])[] = [
  ['floor_area + ceiling_height'],
  ['68 degF + 70 degF'],
  ['flow ^ exponent'],
  ['swing - indoor'],
  ['indoor > swing'],
  ['indoor + 3'],
  ['indoor * 2'],
  ['-indoor'],
  ['floor_area + 3'],
  ['3 + floor_area'],
  ['floor_area > flow'],
  ['leaky ? floor_area : flow'],
  ['floor_area ? 1 : 2'],
  ['trade + 1'],
  ['trade < "x"'],
  ['trade == 3'],
  ['leaky + 1'],
  ['not floor_area'],
  ['floor_area and leaky'],
  ['parts + 1'],
  ['parts.halff'],
  ['floor_area.half'],
  ['half_of(2 m).thing'],
  ['half_of(2 m, 3 m)'],
  ['half_of(2 Pa)'],
  ['half_of'],
  ['halff_of(2 m)'],
  ['floor_area(2)'],
  ['flor_area * 2'],
  ['Pa * 2'],
  ['readings'],
  ['readings.pressure'],
  ['readings.presure'],
  ['sum(readings.pressure) + sum(readings.flow)'],
  ['sum(readings.pressure * tests.baseline)'],
  ['sum(floor_area)'],
  ['mean(pressure)', { table: 'readings' }],
  ['sum(readings.warmth)'],
  ['sum(readings.test)'],
  ['where(readings.flow, readings.pressure > 30 Pa)'],
  ['sum(where(readings.flow, readings.pressure))'],
  ['sum(where(readings.flow, sum(readings.pressure) > 1 Pa))'],
  ['lookup(readings.flow, tests.name, "a")'],
  ['lookup(readings.flow, readings.test, 3)'],
  ['lookup(readings.flow * 2, readings.test, "a")'],
  ['slope_of(readings.pressure, tests.baseline)'],
  ['between(1 m, 2 m, 3 Pa)'],
  ['sqrt(indoor)'],
  ['log(flow)'],
  ['round(floor_area)'],
  ['round(floor_area, 1 m)'],
  ['round(indoor, 1 Fdeg)'],
  ['absolute(swing)'],
  ['chance(flow)'],
  ['chance(flow * 2 > 800 cfm)'],
  ['uncertainty(flow + flow)'],
  ['floor_area ^ 2 m'],
  ['flow ^ trade'],
  ['floor_area * 2', { unit: 'ft' }],
  ['exponent * 2', { unit: 'ft' }],
  ['indoor - outdoor', { unit: 'degF' }],
  ['parts', { unit: 'ft' }],
  ['flow * 2', { unit: 'furlongz' }],
  ['12 fts', { unit: 'ft' }],
  ['3 kg', { unit: 'ft' }],
  ['1,5', { unit: 'ft' }],
  ['2 +'],
  ['* 2'],
  ['(flow + 1 cfm'],
  ['flow)'],
  ['max(flow, 2 cfm'],
  ['flow, 2'],
  ['flow 2'],
  ['flow outdoor'],
  ['exponent Pa'],
  ['2 exponent'],
  ['flow to cfm'],
  ['7 mod 2'],
  ['leaky xor leaky'],
  ['1 < 2 < 3'],
  ['leaky ? 1'],
  ['"open'],
  ['x = 3'],
  ['f(x) = x^2'],
  ['1; 2'],
  ['[1, 2, 3]'],
  ['{a: 1}'],
  ['1:10'],
  ['flow % 2'],
  ['5!'],
  ['2 ** 3'],
  ['leaky && leaky'],
  ['leaky || leaky'],
  ['~leaky'],
  ['1 <> 2'],
  ['1 << 2'],
  ['8 >> 1'],
  ['flow ?? 2'],
  ['flow .* 2'],
  ["flow'"],
  ['flow @ 2'],
  ['flow.constructor'],
  ['parts.half.more'],
  ['readings.pressure()'],
  [`${'('.repeat(201)}1${')'.repeat(201)}`],
  ['1 '.repeat(5001)],
  [`max(${'-1,'.repeat(2600)}1)`],
  [Array.from({ length: 600 }, () => '1').join('+')],
  ['(20 Pa ± 3 m)'],
];

function rendered(formula: string, place: { readonly table?: string; readonly unit?: string } = {}): string {
  const found = house().check(formula, place);
  const shown = formula.length > 80 ? `${formula.slice(0, 40)}… (${formula.length} characters)` : formula;
  return found ? renderDiagnostic(shown, found) : `${formula}\n(no message)`;
}

describe('every diagnostic, whole', () => {
  it.each(CASES.map(([formula, place], at) => [at, formula, place] as const))(
    '%i: %s',
    (at, formula, place) => {
      const text = rendered(formula, place);
      expect(text).not.toContain('(no message)');
      const words = formula
        .replace(/[^a-z0-9]+/gi, '-')
        .replace(/^-|-$/g, '')
        .slice(0, 40);
      return expect(`${text}\n`).toMatchFileSnapshot(
        `diagnostics/${String(at).padStart(3, '0')}-${words}.txt`,
      );
    },
  );

  it('a circle names its cells in order', () => {
    const engine = new Engine(new FunctionLibrary([]));
    for (const [name, text] of [
      ['a', 'b + 1'],
      ['b', 'c * 2'],
      ['c', 'a'],
    ] as const)
      engine.defineCell({ name, type: 'number', text });
    engine.recalculate();
    const state = engine.read('a');
    expect(state.state === 'invalid' && state.diagnostic.found).toBe('a → b → c → a');
    engine.defineCell({ name: 'c', type: 'number', text: '4' });
    engine.recalculate();
    expect(engine.read('a')).toMatchObject({ state: 'value', value: 9 });
  });

  it('leaves no code without a case', () => {
    const codes = new Set<string>(['loop', 'unknown-name', 'unknown-field']);
    const engine = house();
    for (const [formula, place] of CASES) {
      const found = engine.check(formula, place);
      if (found) codes.add(found.code);
    }
    const written = new Set<string>();
    for (const file of readdirSync('src/engine/formula')) {
      const text = readFileSync(`src/engine/formula/${file}`, 'utf8');
      for (const pattern of [/#fail\(\s*'([a-z-]+)'/g, /diagnostic\(\s*'([a-z-]+)'/g, /code: '([a-z-]+)'/g])
        for (const match of text.matchAll(pattern)) written.add(match[1] ?? '');
    }
    expect([...written].filter((code) => !codes.has(code))).toEqual([]);
  });
});
