/** No exception escapes, whatever is typed: garbage by the thousand as formulas, values, units and columns. */
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary, renderDiagnostic, type EntryType } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { chanceFrom, pick, type Chance } from './calculation/random-formula.ts';

const LIBRARY = new FunctionLibrary(tradeFunctions);
const NAMES = ['a', 'b', 'c', 'd', 't', 'u', 'fit', 'blank', '__proto__', 'constructor', 'Δp', 'if'];
const PIECES = [
  ...NAMES,
  ...[
    't.x',
    't.y',
    't.key',
    'u.n',
    't.t',
    'fit.exponent',
    'fit.coefficient',
    'fit.no',
    'a.b.c.d',
    '.x',
    't.',
  ],
  ...[
    '0',
    '1',
    '-1',
    '0.5',
    '1e308',
    '1e-320',
    '1e999',
    '9^9^9',
    '½',
    "5'",
    '3/8"',
    '20.0(5)',
    '1_000',
    '0x1f',
  ],
  ...['12 ft', '20 ± 0.5 Pa', '68 degF', '5 %', '± 3', '1 cfm', 'Pa', 'ft2', 'degC', '$5', '1 h', '2 e'],
  ...['+', '-', '*', '/', '^', '(', ')', ',', '?', ':', '==', '!=', '<', '<=', '>', '>=', 'and', 'or', 'not'],
  ...[
    '=',
    ';',
    '[',
    ']',
    '{',
    '}',
    '!',
    '%',
    '"',
    '""',
    '"k"',
    "'",
    '`',
    '\\',
    '\0',
    '\n',
    '\u202e',
    '\ud800',
    '🙂',
  ],
  ...['sum(', 'mean(', 'min(', 'max(', 'count(', 'where(', 'lookup(', 'is_blank(', 'otherwise(', 'nominal('],
  ...['uncertainty(', 'chance(', 'absolute(', 'round(', 'sqrt(', 'log(', 'abs(', 'pi', 'true', 'false'],
  ...tradeFunctions.map((f) => `${f.name}(`),
];

/** Sound ends, so that much of it gets past the reader and on to the checker and the run. */
const SOUND = [
  'sum(t.x)',
  'mean(where(t.x, t.y > a))',
  'lookup(t.x, t.key, "k")',
  'power_law_fit(t.x, t.y).exponent',
  'a / (b - b)',
  'sqrt(-a)',
  'chance(a < b)',
  'uncertainty(fit.exponent)',
  'c ? a : b',
  'otherwise(blank, a)',
  'max(t.x) - min(t.y)',
  'log(0 * a)',
  'a ^ b',
  'round(a, 0)',
  'fan_flow(t.x)',
  'count(where(t.x, is_blank(t.y)))',
];

function garbage(chance: Chance): string {
  const r = chance();
  if (r < 0.1)
    return Array.from({ length: Math.floor(chance() * 30) }, () =>
      String.fromCharCode(Math.floor(chance() * (chance() < 0.7 ? 128 : 65536))),
    ).join('');
  const length = 1 + Math.floor(chance() * (r < 0.9 ? 8 : 40));
  const list = Array.from({ length }, () => pick(chance, chance() < 0.3 ? SOUND : PIECES));
  return list.join(pick(chance, ['', ' ', ' ', '+', ' * ', ',']));
}

const UNITS = ['', '', '', 'ft', 'Pa', 'degF', 'cfm', 'm3/h', '%', 'furlong', 'ft^^2', '1/0', '__proto__'];

function readAll(engine: Engine): void {
  for (const name of NAMES) {
    const state = engine.read(name);
    if (state.state === 'value' && typeof state.value === 'number') {
      expect(state.value).not.toBeNaN();
      if (state.plusMinus !== undefined) expect(state.plusMinus).toBeGreaterThanOrEqual(0);
    }
    if (state.state === 'invalid') renderDiagnostic('', state.diagnostic);
    engine.budget(name);
    engine.precedents(name);
  }
  for (const [table, column] of [
    ['t', 'x'],
    ['t', 'y'],
    ['t', 'key'],
    ['u', 'n'],
  ] as const)
    for (let row = -1; row < 4; row++) {
      engine.readRow(table, column, row);
      engine.budget(`${table}.${column}`, row);
    }
}

function somethingTyped(engine: Engine, chance: Chance): void {
  const text = garbage(chance);
  const unit = pick(chance, UNITS);
  const type = pick<EntryType>(chance, ['number', 'number', 'number', 'text', 'choice']);
  if (chance() < 0.6) {
    const name = pick(
      chance,
      NAMES.filter((n) => n !== 't' && n !== 'u'),
    );
    engine.defineCell({ name, type, text, unit, ...(type === 'choice' ? { choices: ['k', 'l'] } : {}) });
    return;
  }
  const column = (name: string): Parameters<Engine['defineTable']>[0]['columns'][number] => ({
    name,
    type: name === 'key' ? 'text' : 'number',
    unit: pick(chance, UNITS),
    ...(chance() < 0.4 ? { formula: garbage(chance) } : {}),
    ...(chance() < 0.2 ? { each: garbage(chance), shared: pick(chance, ['1 %', '2 Pa', 'x']) } : {}),
    entries: [pick(chance, ['1', '2 ± 0.1', 'k', '']), garbage(chance), '3'],
  });
  engine.defineTable(
    chance() < 0.8
      ? { name: 't', rows: 3, columns: [column('x'), column('y'), column('key')] }
      : { name: 'u', rows: 2, columns: [column('n')] },
  );
}

describe('garbage', { timeout: 120_000 }, () => {
  test('every text is read or refused with a place inside it', () => {
    const chance = chanceFrom(41);
    const engine = new Engine(LIBRARY);
    somethingTyped(engine, chance);
    engine.recalculate();
    let refused = 0;
    for (let i = 0; i < 6000; i++) {
      const text = garbage(chance);
      const found = engine.check(text, chance() < 0.3 ? { table: 't' } : { unit: pick(chance, UNITS) });
      if (!found) continue;
      refused++;
      expect(found.span.start, text).toBeGreaterThanOrEqual(0);
      expect(found.span.start, text).toBeLessThanOrEqual(text.length);
      expect(found.span.end, text).toBeGreaterThanOrEqual(found.span.start);
      expect(renderDiagnostic(text, found), text).not.toMatch(/undefined$|NaN$|\[object/m);
    }
    expect(refused).toBeGreaterThan(3000);
    expect(refused).toBeLessThan(6000);
  });

  test.each([1, 2, 3, 4, 5, 6, 7, 8])('a workbook of garbage runs and is read, seed %i', (seed) => {
    const chance = chanceFrom(seed);
    const engine = new Engine(LIBRARY);
    for (let i = 0; i < 150; i++) {
      const count = 1 + Math.floor(chance() * 4);
      for (let k = 0; k < count; k++) somethingTyped(engine, chance);
      if (chance() < 0.05) engine.removeTable(pick(chance, ['t', 'u']));
      if (chance() < 0.05) engine.removeCell(pick(chance, NAMES));
      engine.recalculate();
      readAll(engine);
    }
  });
});
