/**
 * A table of 20,000 rows with five computed columns, and the sum, the mean and the greatest of each, in our engine,
 * in a spreadsheet engine, in mathjs with units, and in loops written by hand.
 */
import { HyperFormula } from 'hyperformula';
import type { EvalFunction, Unit } from 'mathjs';
import { Engine, FunctionLibrary } from '../../src/engine/index.ts';
import { UnitFormulas } from './formula-contenders.ts';
import { seeded } from './formula-book.ts';

export const ROWS = 20_000;
export const ENTERED = ['width', 'height', 'depth'] as const;
export const COMPUTED = [
  { name: 'area', formula: 'width * height * waste', unit: 'm2' },
  { name: 'volume', formula: 'area * depth', unit: 'm3' },
  { name: 'flow', formula: 'volume * change_rate / share', unit: 'm3/s' },
  { name: 'girth', formula: '(width + height) * waste', unit: 'm' },
  { name: 'longest', formula: 'area > limit ? width : girth', unit: 'm' },
] as const;
export const AGGREGATES = ['sum', 'mean', 'max'] as const;
export const SCALARS = {
  waste: { value: 1.1, unit: '' },
  change_rate: { value: 0.0012, unit: '1/s' },
  share: { value: 0.8, unit: '' },
  limit: { value: 3.2, unit: 'm2' },
} as const;
export type ScalarName = keyof typeof SCALARS;
export type Entered = Readonly<Record<(typeof ENTERED)[number], Float64Array>>;

export function entries(): Entered {
  const random = seeded(30_000);
  const column = (low: number, high: number): Float64Array =>
    Float64Array.from({ length: ROWS }, () => Math.round((low + (high - low) * random()) * 1000) / 1000);
  return { width: column(0.5, 2.5), height: column(0.5, 3), depth: column(0.1, 0.5) };
}

export interface TableContender {
  setScalar(name: ScalarName, value: number): void;
  setHeight(row: number, value: number): void;
  /** The aggregates: sum, mean and greatest of each computed column in turn. */
  aggregates(): number[];
  /** Some rows of all computed columns. */
  rows(rows: readonly number[]): number[];
}

export class OurTable implements TableContender {
  readonly #engine = new Engine(new FunctionLibrary([]));

  constructor(given: Entered) {
    const engine = this.#engine;
    engine.defineTable({
      name: 'panels',
      rows: ROWS,
      columns: [
        ...ENTERED.map((name) => ({
          name,
          type: 'number' as const,
          unit: 'm',
          entries: Array.from(given[name], String),
        })),
        ...COMPUTED.map(({ name, formula, unit }) => ({
          name,
          type: 'number' as const,
          unit,
          formula,
          entries: [],
        })),
      ],
    });
    for (const [name, { value, unit }] of Object.entries(SCALARS))
      engine.defineCell({ name, type: 'number', text: String(value), unit });
    for (const { name } of COMPUTED)
      for (const how of AGGREGATES)
        engine.defineCell({ name: `${how}_of_${name}`, type: 'number', text: `${how}(panels.${name})` });
    engine.recalculate();
  }

  setScalar(name: ScalarName, value: number): void {
    this.#engine.defineCell({ name, type: 'number', text: String(value), unit: SCALARS[name].unit });
    this.#engine.recalculate();
  }

  setHeight(row: number, value: number): void {
    this.#engine.setEntry('panels', 'height', row, String(value));
    this.#engine.recalculate();
  }

  aggregates(): number[] {
    return COMPUTED.flatMap(({ name }) =>
      AGGREGATES.map((how) => valueOf(this.#engine.read(`${how}_of_${name}`))),
    );
  }

  rows(rows: readonly number[]): number[] {
    return rows.flatMap((row) =>
      COMPUTED.map(({ name }) => valueOf(this.#engine.readRow('panels', name, row))),
    );
  }
}

function valueOf(state: ReturnType<Engine['read']>): number {
  if (state.state !== 'value' || typeof state.value !== 'number') throw new Error(`a cell is ${state.state}`);
  return state.value;
}

/** Entered columns A to C, computed D to H, scalars J1 to J4, aggregates K1 to K15. */
export class SpreadsheetTable implements TableContender {
  readonly #sheet: HyperFormula;

  constructor(given: Entered) {
    const rows: (string | number | null)[][] = [];
    for (let i = 0; i < ROWS; i++) {
      const n = i + 1;
      rows.push([
        given.width[i]!,
        given.height[i]!,
        given.depth[i]!,
        `=A${n}*B${n}*$J$1`,
        `=D${n}*C${n}`,
        `=E${n}*$J$2/$J$3`,
        `=(A${n}+B${n})*$J$1`,
        `=IF(D${n}>$J$4,A${n},G${n})`,
        null,
      ]);
    }
    Object.values(SCALARS).forEach(({ value }, i) => rows[i]!.push(value));
    const functions = { sum: 'SUM', mean: 'AVERAGE', max: 'MAX' } as const;
    COMPUTED.forEach((_, c) => {
      const letter = 'DEFGH'[c]!;
      AGGREGATES.forEach((how, k) => {
        rows[c * 3 + k]![10] = `=${functions[how]}(${letter}1:${letter}${ROWS})`;
      });
    });
    for (const row of rows) for (let c = 0; c < row.length; c++) row[c] ??= null;
    this.#sheet = HyperFormula.buildFromArray(rows, { licenseKey: 'gpl-v3' });
  }

  setScalar(name: ScalarName, value: number): void {
    this.#sheet.setCellContents({ sheet: 0, row: Object.keys(SCALARS).indexOf(name), col: 9 }, value);
  }

  setHeight(row: number, value: number): void {
    this.#sheet.setCellContents({ sheet: 0, row, col: 1 }, value);
  }

  aggregates(): number[] {
    return Array.from({ length: COMPUTED.length * AGGREGATES.length }, (_, row) => this.#value(row, 10));
  }

  rows(rows: readonly number[]): number[] {
    return rows.flatMap((row) => COMPUTED.map((_, c) => this.#value(row, 3 + c)));
  }

  #value(row: number, col: number): number {
    const value = this.#sheet.getCellValue({ sheet: 0, row, col });
    if (typeof value !== 'number') throw new Error(`a spreadsheet cell holds ${JSON.stringify(value)}`);
    return value;
  }

  destroy(): void {
    this.#sheet.destroy();
  }
}

/** Each row's cells as units, each formula compiled once; only what an edit reaches is worked out again. */
export class UnitTable implements TableContender {
  readonly #columns = new Map<string, Unit[]>();
  readonly #scalars = new Map<string, Unit | number>();
  readonly #compiled: readonly EvalFunction[];
  #aggregates: Unit[] = [];

  constructor(given: Entered) {
    const { math } = UnitFormulas;
    for (const name of ENTERED)
      this.#columns.set(
        name,
        Array.from(given[name], (v) => math.unit(v, 'm')),
      );
    for (const { name } of COMPUTED) this.#columns.set(name, []);
    for (const [name, { value, unit }] of Object.entries(SCALARS))
      this.#scalars.set(name, unit === '' ? value : math.unit(value, unit));
    this.#compiled = COMPUTED.map(({ formula }) => math.compile(formula));
    this.#run([0, 1, 2, 3, 4], 0, ROWS);
  }

  #run(computed: readonly number[], from: number, to: number): void {
    const scope = new Map<string, Unit | number>(this.#scalars);
    for (let row = from; row < to; row++) {
      for (const [name, values] of this.#columns) scope.set(name, values[row]!);
      for (const c of computed) {
        const { name } = COMPUTED[c]!;
        const result = (this.#compiled[c]!.evaluate(scope) as Unit).toSI();
        this.#columns.get(name)![row] = result;
        scope.set(name, result);
      }
    }
    for (const c of computed) {
      const values = this.#columns.get(COMPUTED[c]!.name)!;
      const { math } = UnitFormulas;
      let sum = values[0]!;
      let max = sum;
      for (let row = 1; row < ROWS; row++) {
        const value = values[row]!;
        sum = math.add(sum, value);
        if (math.larger(value, max) === true) max = value;
      }
      this.#aggregates[c * 3] = sum;
      this.#aggregates[c * 3 + 1] = math.divide(sum, ROWS);
      this.#aggregates[c * 3 + 2] = max;
    }
  }

  setScalar(name: ScalarName, value: number): void {
    const { unit } = SCALARS[name];
    this.#scalars.set(name, unit === '' ? value : UnitFormulas.math.unit(value, unit));
    this.#run(name === 'change_rate' ? [2] : [0, 1, 2, 3, 4], 0, ROWS);
  }

  setHeight(row: number, value: number): void {
    this.#columns.get('height')![row] = UnitFormulas.math.unit(value, 'm');
    this.#run([0, 1, 2, 3, 4], row, row + 1);
  }

  aggregates(): number[] {
    return this.#aggregates.map((value) => value.toSI().toJSON().value);
  }

  rows(rows: readonly number[]): number[] {
    return rows.flatMap((row) =>
      COMPUTED.map(({ name }) => this.#columns.get(name)![row]!.toSI().toJSON().value),
    );
  }
}

/** One loop a column over typed arrays, with sum and greatest in the same pass. */
export class HandTable implements TableContender {
  readonly #given: Entered;
  readonly #columns = COMPUTED.map(() => new Float64Array(ROWS));
  readonly #scalars: Record<ScalarName, number>;
  readonly #aggregates = new Float64Array(COMPUTED.length * AGGREGATES.length);

  constructor(given: Entered) {
    this.#given = { width: given.width.slice(), height: given.height.slice(), depth: given.depth.slice() };
    const { waste, change_rate, share, limit } = SCALARS;
    this.#scalars = {
      waste: waste.value,
      change_rate: change_rate.value,
      share: share.value,
      limit: limit.value,
    };
    this.#all();
  }

  #all(): void {
    this.#area();
    this.#volume();
    this.#flow();
    this.#girth();
    this.#longest();
  }

  #keep(c: number, sum: number, max: number): void {
    this.#aggregates[c * 3] = sum;
    this.#aggregates[c * 3 + 1] = sum / ROWS;
    this.#aggregates[c * 3 + 2] = max;
  }

  #area(): void {
    const { width, height } = this.#given;
    const out = this.#columns[0]!;
    const { waste } = this.#scalars;
    let sum = 0;
    let max = -Infinity;
    for (let i = 0; i < ROWS; i++) {
      const v = width[i]! * height[i]! * waste;
      out[i] = v;
      sum += v;
      if (v > max) max = v;
    }
    this.#keep(0, sum, max);
  }

  #volume(): void {
    const area = this.#columns[0]!;
    const { depth } = this.#given;
    const out = this.#columns[1]!;
    let sum = 0;
    let max = -Infinity;
    for (let i = 0; i < ROWS; i++) {
      const v = area[i]! * depth[i]!;
      out[i] = v;
      sum += v;
      if (v > max) max = v;
    }
    this.#keep(1, sum, max);
  }

  #flow(): void {
    const volume = this.#columns[1]!;
    const out = this.#columns[2]!;
    const { change_rate, share } = this.#scalars;
    let sum = 0;
    let max = -Infinity;
    for (let i = 0; i < ROWS; i++) {
      const v = (volume[i]! * change_rate) / share;
      out[i] = v;
      sum += v;
      if (v > max) max = v;
    }
    this.#keep(2, sum, max);
  }

  #girth(): void {
    const { width, height } = this.#given;
    const out = this.#columns[3]!;
    const { waste } = this.#scalars;
    let sum = 0;
    let max = -Infinity;
    for (let i = 0; i < ROWS; i++) {
      const v = (width[i]! + height[i]!) * waste;
      out[i] = v;
      sum += v;
      if (v > max) max = v;
    }
    this.#keep(3, sum, max);
  }

  #longest(): void {
    const { width } = this.#given;
    const [area, , , girth, out] = this.#columns as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const { limit } = this.#scalars;
    let sum = 0;
    let max = -Infinity;
    for (let i = 0; i < ROWS; i++) {
      const v = area[i]! > limit ? width[i]! : girth[i]!;
      out[i] = v;
      sum += v;
      if (v > max) max = v;
    }
    this.#keep(4, sum, max);
  }

  setScalar(name: ScalarName, value: number): void {
    this.#scalars[name] = value;
    if (name === 'change_rate') this.#flow();
    else this.#all();
  }

  setHeight(row: number, value: number): void {
    this.#given.height[row] = value;
    this.#all();
  }

  aggregates(): number[] {
    return [...this.#aggregates];
  }

  rows(rows: readonly number[]): number[] {
    return rows.flatMap((row) => this.#columns.map((column) => column[row]!));
  }
}
