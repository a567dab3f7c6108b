/** Every mistake a formula can hold, one a case; all that is said is a snapshot, so that a change is read. */
import { describe, expect, it } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { CONSTANT_WAYS, FUNCTION_WAYS } from '../../../src/engine/formula/foreign-names.ts';
import { REFUSED_SIGNS, REFUSED_WORDS } from '../../../src/engine/formula/refused.ts';
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
  // Behind the others, because the place in this list is part of the snapshot's name.
  ['flow ./ 2'],
  ['flow .^ 2'],
  ['readings?.flow'],
  ['1 >>> 2'],
  ['1 ^| 0'],
  ['leaky & leaky'],
  ['leaky | leaky'],
  ['!leaky'],
  ['|exponent|'],
  ['flow := 2'],
  ['exponent += 1'],
  ['exponent -= 1'],
  ['exponent *= 2'],
  ['exponent /= 2'],
  ['f(x) => x'],
  ['flow => 2 cfm'],
  ['flow =< 2 cfm'],
  ['leaky === leaky'],
  ['leaky !== leaky'],
  ['flow -> cfm'],
  ['flow → cfm'],
  ['flow in cfm'],
  ['5 ft in m'],
  ['flow as cfm'],
  ['flow # as read'],
  ['flow // as read'],
  ['flow /* as read */'],
  ['max(flow; 2 cfm)'],
  ['readings!flow'],
  ['readings.flow[1]'],
  ['1]'],
  ['1}'],
  ["trade == 'plasterer'"],
  ['trade == “plasterer”'],
  ['trade == ‘plasterer’'],
  ['trade & "s"'],
  ['"a" + "b"'],
  ['ceiling_height²'],
  ['√2'],
  ['exponent • 2'],
  ['exponent ∕ 2'],
  ['exponent \\ 2'],
  ['exponent — 2'],
  ['exponent ± 0.1'],
  ['$A$1'],
  ['A1 * 2'],
  ['readings.'],
  ['leaky AND leaky'],
  ['leaky Or leaky'],
  ['NOT leaky'],
  ['exponent not 2'],
  ['exponent is 2'],
  ['exponent equals 2'],
  ['flow per floor_area'],
  ['10 % of flow'],
  ['exponent times 2'],
  ['12 ft x 8 ft'],
  ['exponent plus 2'],
  ['exponent minus 2'],
  ['if leaky then 1 else 2'],
  ['leaky then 1'],
  ['leaky else 1'],
  ['if(leaky, 1, 2)'],
  ['TRUE'],
  ['π * 2'],
  ['null'],
  ['0x10'],
  ['flow + 10 %'],
  ['flow - 10 %'],
  ['1,000 + exponent'],
  ['2(exponent)'],
  ['12 lpm', { unit: 'L/s' }],
  ['$2.50 * exponent'],
  ['"Area is " + floor_area'],
  ['"Area is " & floor_area'],
  ['trade + "x"'],
  ['sum(where(readings.flow, test == "a"))'],
];

/** Signs that mean the same; the first of each has a case. */
const KINDS = ['“”„«»', '‘’`', '²³⁴', '•∙∗', '∕⁄', '—‐‑'] as const;

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

  it('leaves no sign and no word of the refused ones without a case', () => {
    const engine = house();
    const told = CASES.flatMap(([formula, place]) => {
      const found = engine.check(formula, place);
      return found === undefined ? [] : [{ code: found.code, at: formula.slice(found.span.start) }];
    });
    for (const [sign, code] of REFUSED_SIGNS) {
      // Kinds of one sign, such as the quotation marks, share a case.
      if (KINDS.some((kind) => kind.includes(sign) && !kind.startsWith(sign))) continue;
      expect(
        told.some((each) => each.code === code && each.at.startsWith(sign)),
        sign,
      ).toBe(true);
    }
    for (const [word, { code }] of REFUSED_WORDS)
      expect(
        told.some((each) => each.code === code && each.at.toLowerCase().startsWith(word)),
        word,
      ).toBe(true);
  });

  it('every sign and word of mathjs’s grammar is one of ours or refused with a reason', () => {
    const source = readFileSync('node_modules/mathjs/lib/esm/expression/parse.js', 'utf8');
    const listed = (name: string): string[] =>
      [
        ...(new RegExp(`var ${name} = \\{([^]*?)\\n  \\};`).exec(source)?.[1] ?? '').matchAll(
          /^\s*(?:'(.+?)'|(\w+)): true/gm,
        ),
      ].map(([, quoted, bare]) => (quoted ?? bare ?? '').replace('\\', ''));
    const signs = listed('DELIMITERS');
    const words = listed('NAMED_DELIMITERS');
    expect(signs.length).toBeGreaterThan(35);
    expect(words).toEqual(['mod', 'to', 'in', 'and', 'xor', 'or', 'not']);
    const ours = [',', '(', ')', '"', '+', '-', '*', '/', '^', '?', '==', '!=', '<', '>', '<=', '>='];
    const refused = REFUSED_SIGNS.map(([sign]) => sign);
    expect(signs.filter((sign) => !ours.includes(sign) && !refused.includes(sign))).toEqual([]);
    for (const word of words)
      expect(['and', 'or', 'not'].includes(word) || REFUSED_WORDS.has(word)).toBe(true);
    // Each is refused behind and before a value, in words of its own.
    const engine = house();
    for (const sign of refused)
      for (const formula of [`exponent ${sign} 2`, `${sign} exponent`]) {
        const found = engine.check(formula);
        // One = before a formula is read over.
        if (formula !== '= exponent') expect(found, formula).toBeDefined();
        expect(found?.code === 'character', formula).toBe(false);
      }
  });

  it('functions and constants of other languages, each with what to write', () => {
    const engine = house();
    const said = [
      ...[...FUNCTION_WAYS.keys()].map((name) => [name, engine.check(`${name}(exponent)`)] as const),
      ...[...CONSTANT_WAYS.keys()].map((name) => [name, engine.check(`${name} * 1`)] as const),
    ].map(([name, found]) => `${name.padEnd(14)}${found?.suggestion ?? '(no message)'}`);
    return expect(`${said.join('\n')}\n`).toMatchFileSnapshot('diagnostics/names-of-other-languages.txt');
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
