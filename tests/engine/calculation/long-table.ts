/** Long tables of entered and computed columns, with something odd in them, and formulas for their rows. */
import { Engine, FunctionLibrary, type TableDefinition } from '../../../src/engine/index.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';

const NOTHING = new FunctionLibrary([]);
export interface Book {
  readonly cells: Readonly<Record<string, string>>;
  readonly columns: Readonly<Record<string, readonly (string | undefined)[]>>;
  /** Rows of the computed column `f` that are typed over. */
  readonly over: ReadonlyMap<number, string>;
}

function numbers(rows: number, seed: number): (string | undefined)[] {
  const chance = chanceFrom(seed);
  return Array.from({ length: rows }, (_, row) => {
    // Something odd at both sides of every seam, and now and then.
    const seam = row % 512 === 511 || row % 512 === 0 || row === rows - 1;
    const r = chance();
    if (seam ? r < 0.5 : r < 0.04) return pick(chance, [undefined, '', 'abc', '3 s', '1 ± 0.1']);
    return pick(chance, [
      () => '0',
      () => '2',
      () => '-1',
      () => String(Math.round(chance() * 1e4) / 1e3 - 3),
    ])();
  });
}

export function bookOf(rows: number, seed: number, odd: boolean): Book {
  const plain = (s: number): string[] =>
    Array.from({ length: rows }, (_, row) => String(((row * 7 + s) % 23) / 4 + 0.5));
  const columns = odd
    ? { x: numbers(rows, seed), y: numbers(rows, seed + 1), z: numbers(rows, seed + 2) }
    : { x: plain(1), y: plain(2), z: plain(3) };
  const chance = chanceFrom(seed + 3);
  const over = new Map<number, string>();
  if (odd)
    for (let row = 0; row < rows; row++)
      if (chance() < 0.02 || row === 511 || row === 512)
        over.set(row, pick(chance, ['7', '8 ± 1', 'abc', '3 s']));
  return { cells: { g: '1.5', h: '-2', none: '', zero: '0', bad: '= 1 / zero' }, columns, over };
}

function tableOf(book: Book, formula: string, from: number, to: number): TableDefinition {
  const entries = (list: readonly (string | undefined)[]): (string | undefined)[] => list.slice(from, to);
  const over = Array.from({ length: to - from }, (_, k) => book.over.get(from + k));
  return {
    name: 't',
    rows: to - from,
    columns: [
      ...Object.entries(book.columns).map(([name, list]) => ({
        name,
        type: 'number' as const,
        entries: entries(list),
      })),
      { name: 'f', type: 'number', formula, entries: over },
      { name: 'next', type: 'number', formula: 'f * g + 1', entries: [] },
    ],
  };
}

export function engineOf(book: Book, formula: string, from: number, to: number): Engine {
  const engine = new Engine(NOTHING);
  for (const [name, text] of Object.entries(book.cells)) engine.defineCell({ name, type: 'number', text });
  engine.defineTable(tableOf(book, formula, from, to));
  engine.recalculate();
  return engine;
}

export const FORMULAS = [
  // The fused shapes, and what comes near them.
  ...['x * g / h', 'g * x / h', 'x * g / zero', 'x * y / h', 'x * g / y', '(x * g) / (h * g)'],
  ...['(x + y) * g', 'g * (x + y)', '(x + x) * g', '(x + g) * h', '(x + y) * z', '(x + y) * (x + y)'],
  ...['x > y ? y : x', 'x > g ? x : y', 'g > x ? x : y', 'x > y ? g : h', 'x > y ? x > z ? x : z : y'],
  ...[
    'x < y ? x : y',
    'x >= y ? z : x',
    'x > y and y > z ? x : z',
    'x > y or x > z ? 1 : 0',
    'g > h ? x : y',
  ],
  // One shape each.
  ...['x', 'x + y', 'x - y', 'x * y', 'x / y', 'x ^ y', 'x + g', 'x - g', 'x * g', 'x / g', 'x ^ g'],
  ...['g + x', 'g - x', 'g * x', 'g / x', 'g ^ x', '-x', 'x ^ 2', 'abs(x)', 'sqrt(x)', 'exp(x)', 'log(x)'],
  ...['min(x, y)', 'max(x, g)', 'min(x, y, z)', 'x == y ? 1 : 0', 'x != y ? 1 : 0', 'x <= y ? 1 : 0'],
  ...['not (x > y) ? x : y', 'x / (x - x)', '1 / (1 / x)', 'x * 0', 'x ^ 0', '0 ^ x', 'exp(exp(exp(x ^ 2)))'],
  // Scalars that are no value, and parts that no kernel has.
  ...['x + none', 'x * bad', 'x > none ? x : y', 'x > bad ? x : y', 'x > y ? none : bad', 'g * 2'],
  ...['otherwise(x, y)', 'is_blank(x) ? y : x', 'round(x)', 'sin(x) + cos(y)', 'x > 0 and y > 0 ? x : none'],
];

export function anyFormula(chance: Chance, depth: number): string {
  if (depth === 0 || chance() < 0.15) return pick(chance, ['x', 'y', 'z', 'x', 'g', 'h', 'none', '2', '0.5']);
  const part = (): string => anyFormula(chance, depth - 1);
  const r = chance();
  if (r < 0.7) return `(${part()} ${pick(chance, ['+', '-', '*', '/', '*', '/'])} ${part()})`;
  if (r < 0.85)
    return `(${part()} ${pick(chance, ['>', '>', '<', '<=', '=='])} ${part()} ? ${part()} : ${part()})`;
  return `${pick(chance, ['abs', '-', 'sqrt', 'exp', 'log'])}(${part()})`;
}
