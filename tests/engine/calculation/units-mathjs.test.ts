/** Rule D2 and all arithmetic: random formulas with units equal mathjs evaluated with its Units (Apache-2.0, 15.2). */
import { all, create, type Unit } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../../src/engine/index.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';

const math = create(all!, {});

/** Exponents of length, time and mass. */
type Dim = readonly [number, number, number];
const PLAIN: Dim = [0, 0, 0];
const DIMENSIONS: readonly Dim[] = [
  PLAIN,
  [1, 0, 0],
  [2, 0, 0],
  [3, 0, 0],
  [0, 1, 0],
  [3, -1, 0],
  [-1, -2, 1],
];

/** Ours and mathjs's spelling, by dimension. */
const UNITS: readonly (readonly [Dim, string, string])[] = [
  [PLAIN, '', ''],
  [[1, 0, 0], 'ft', 'ft'],
  [[1, 0, 0], 'm', 'm'],
  [[1, 0, 0], 'in', 'inch'],
  [[2, 0, 0], 'ft2', 'ft^2'],
  [[2, 0, 0], 'm2', 'm^2'],
  [[3, 0, 0], 'm3', 'm^3'],
  [[3, 0, 0], 'L', 'L'],
  [[0, 1, 0], 's', 's'],
  [[0, 1, 0], 'h', 'hour'],
  [[3, -1, 0], 'm3/h', 'm^3/hour'],
  [[3, -1, 0], 'L/s', 'L/s'],
  [[-1, -2, 1], 'Pa', 'Pa'],
  [[-1, -2, 1], 'kPa', 'kPa'],
];

interface Cell {
  readonly name: string;
  readonly dim: Dim;
  readonly value: number;
  readonly ours: string;
  readonly theirs: string;
}

function cellsFrom(chance: Chance): Cell[] {
  return UNITS.flatMap(([dim, ours, theirs], u) =>
    [0, 1].map((k) => ({
      name: `cell_${u}_${k}`,
      dim,
      value: Number((0.5 + chance() * 9).toFixed(3)),
      ours,
      theirs,
    })),
  );
}

const same = (a: Dim, b: Dim): boolean => a.every((x, i) => x === b[i]);
const minus = (a: Dim, b: Dim): Dim => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a: Dim, b: Dim): Dim => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

/** A formula of the wanted dimension. `above` keeps it above zero, for roots, divisors and logarithms. */
function formula(chance: Chance, cells: readonly Cell[], dim: Dim, depth: number, above: boolean): string {
  const next = (d: Dim, a = above): string => formula(chance, cells, d, depth - 1, a);
  if (depth <= 0) return leaf(chance, cells, dim);
  switch (Math.floor(chance() * 11)) {
    case 0:
    case 1:
      return `(${next(dim)} + ${next(dim)})`;
    case 2:
      return above ? next(dim) : `(${next(dim)} - ${next(dim)})`;
    case 3: {
      const d = pick(chance, DIMENSIONS);
      return `${next(d)} * ${next(minus(dim, d))}`;
    }
    case 4: {
      const d = pick(chance, DIMENSIONS);
      return `${next(plus(dim, d))} / (${next(d, true)})`;
    }
    case 5:
      return above ? next(dim) : `-(${next(dim)})`;
    case 6: {
      const d = pick(chance, DIMENSIONS);
      const side = (): string => next(d, true);
      return `(${side()} ${pick(chance, ['<', '<=', '>', '>='])} ${side()} ? ${next(dim)} : ${next(dim)})`;
    }
    case 7:
      return `abs(${next(dim)})`;
    case 8:
      return `${pick(chance, ['min', 'max'])}(${next(dim)}, ${next(dim)})`;
    case 9: {
      const twice: Dim = [dim[0] * 2, dim[1] * 2, dim[2] * 2];
      return `sqrt(${next(twice, true)})`;
    }
    default:
      if (same(dim, PLAIN))
        return above
          ? `exp(${leaf(chance, cells, PLAIN)} / 10)`
          : `${pick(chance, ['sin', 'cos', 'log', 'log10'])}(${next(PLAIN, true)})`;
      return dim.every((x) => x % 2 === 0)
        ? `(${next([dim[0] / 2, dim[1] / 2, dim[2] / 2])}) ^ 2`
        : leaf(chance, cells, dim);
  }
}

function leaf(chance: Chance, cells: readonly Cell[], dim: Dim): string {
  const fitting = cells.filter((c) => same(c.dim, dim));
  if (fitting.length > 0) return pick(chance, fitting).name;
  const powers = (['(1.25 m)', '(2.5 s)', '(0.75 kg)'] as const).map((base, i) => `${base} ^ (${dim[i]!})`);
  return `(${powers.join(' * ')})`;
}

function theirs(text: string, scope: Record<string, unknown>): { si: number; unit: boolean } | undefined {
  const result = math.evaluate(text, scope) as number | Unit;
  if (typeof result === 'number') return { si: result, unit: false };
  const { value } = result as unknown as { value: number | null };
  return value === null ? undefined : { si: value, unit: true };
}

/**
 * The same with every minus a plus (conditions have none): how large the numbers are whose difference the result
 * may be, since rounding is relative to those.
 */
function size(text: string, scope: Record<string, unknown>): number {
  const found = theirs(text.replaceAll(' - ', ' + '), scope);
  return Math.abs(found?.si ?? 0);
}

describe('D2: random formulas equal mathjs evaluated with Units', () => {
  test.each([1, 2, 3, 4])('seed %i', (seed) => {
    const chance = chanceFrom(seed * 7919);
    const cells = cellsFrom(chance);
    const scope = Object.fromEntries(
      cells.map((c) => [c.name, c.theirs === '' ? c.value : math.unit(c.value, c.theirs)]),
    );
    const engine = new Engine(new FunctionLibrary([]));
    for (const c of cells)
      engine.defineCell({ name: c.name, type: 'number', text: String(c.value), unit: c.ours });
    const texts = Array.from({ length: 150 }, () =>
      formula(chance, cells, pick(chance, DIMENSIONS), 4, false),
    );
    texts.forEach((text, i) => engine.defineCell({ name: `result_${i}`, type: 'number', text }));
    engine.recalculate();
    let compared = 0;
    texts.forEach((text, i) => {
      const state = engine.read(`result_${i}`);
      expect(state.state, `${text}\n${JSON.stringify(state)}`).toBe('value');
      if (state.state !== 'value') return;
      const expected = theirs(text, scope);
      if (!expected) return;
      compared++;
      const plain = state.type.kind === 'quantity' && state.type.dimension === 0;
      // mathjs keeps a unit without dimension after m / m; ours is a plain number then.
      if (!plain) expect(expected.unit, text).toBe(true);
      const scale = Math.max(Math.abs(expected.si), size(text, scope));
      expect(Math.abs((state.value as number) - expected.si), `${text} = ${expected.si}`).toBeLessThanOrEqual(
        1e-12 * scale,
      );
    });
    expect(compared).toBeGreaterThan(140);
  });
});
