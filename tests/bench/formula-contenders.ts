/** The same book in our engine, in a spreadsheet engine, in mathjs with units, and in loops written by hand. */
import { HyperFormula, type SimpleCellAddress } from 'hyperformula';
import { all, create, type EvalFunction, type MathJsInstance, type Unit } from 'mathjs';
import { Engine, FunctionLibrary } from '../../src/engine/index.ts';
import { SHAPES, textOf, type Formula, type FormulaBook } from './formula-book.ts';

export interface FormulaContender {
  set(place: number, value: number): void;
  /** Value of every formula, SI. */
  values(): Float64Array;
}

export class OurFormulas implements FormulaContender {
  readonly engine = new Engine(new FunctionLibrary([]));
  readonly #book: FormulaBook;

  constructor(book: FormulaBook, texts: readonly string[]) {
    this.#book = book;
    const { engine } = this;
    for (const { name, value, unit } of book.inputs)
      engine.defineCell({ name, type: 'number', text: String(value), unit });
    book.formulas.forEach((f, i) =>
      engine.defineCell({ name: f.name, type: 'number', text: texts[i]!, unit: 'm' }),
    );
    engine.recalculate();
  }

  set(place: number, value: number): void {
    const { name, unit } = this.#book.inputs[place]!;
    this.engine.defineCell({ name, type: 'number', text: String(value), unit });
    this.engine.recalculate();
  }

  /** The same, and asks which cells changed. */
  setAndList(place: number, value: number): number {
    const { name, unit } = this.#book.inputs[place]!;
    this.engine.defineCell({ name, type: 'number', text: String(value), unit });
    return this.engine.recalculate().names.size;
  }

  read(name: string): number {
    const state = this.engine.read(name);
    if (state.state !== 'value' || typeof state.value !== 'number')
      throw new Error(`${name} is ${state.state}`);
    return state.value;
  }

  values(): Float64Array {
    return Float64Array.from(this.#book.formulas, (f) => this.read(f.name));
  }
}

/** Formula texts for our engine and for mathjs, which agree on this much of their grammar. */
export function namedTexts(book: FormulaBook): string[] {
  return book.formulas.map((f) => textOf(f, (place) => book.names[place]!));
}

/** Inputs stand in column A, formulas fifty to a column from B on. */
export function spreadsheetTexts(book: FormulaBook): string[] {
  return book.formulas.map((f) => {
    const text = textOf(f, (place) => addressText(book, place)).replace(/sqrt/g, 'SQRT');
    const choice = /^(.*) \? (.*) : (.*)$/.exec(text);
    return choice ? `=IF(${choice[1]!}, ${choice[2]!}, ${choice[3]!})` : `=${text}`;
  });
}

function address(book: FormulaBook, place: number): SimpleCellAddress {
  const n = place - book.inputs.length;
  return n < 0 ? { sheet: 0, row: place, col: 0 } : { sheet: 0, row: n % 50, col: 1 + Math.floor(n / 50) };
}

function addressText(book: FormulaBook, place: number): string {
  const { row, col } = address(book, place);
  let letters = '';
  for (let c = col + 1; c > 0; c = Math.floor((c - 1) / 26))
    letters = String.fromCharCode(65 + ((c - 1) % 26)) + letters;
  return `${letters}${row + 1}`;
}

export class SpreadsheetFormulas implements FormulaContender {
  readonly #sheet: HyperFormula;
  readonly #book: FormulaBook;

  constructor(book: FormulaBook, texts: readonly string[]) {
    this.#book = book;
    const rows: (string | number | null)[][] = Array.from(
      { length: Math.max(50, book.inputs.length) },
      () => [],
    );
    book.inputs.forEach((input, i) => (rows[i]![0] = input.value));
    texts.forEach((text, i) => (rows[i % 50]![1 + Math.floor(i / 50)] = text));
    for (const row of rows) row[0] ??= null;
    this.#sheet = HyperFormula.buildFromArray(rows, { licenseKey: 'gpl-v3' });
  }

  set(place: number, value: number): void {
    this.#sheet.setCellContents(address(this.#book, place), value);
  }

  values(): Float64Array {
    const { inputs, formulas } = this.#book;
    return Float64Array.from(formulas, (_, i) => {
      const value = this.#sheet.getCellValue(address(this.#book, inputs.length + i));
      if (typeof value !== 'number') throw new Error(`a spreadsheet cell holds ${JSON.stringify(value)}`);
      return value;
    });
  }

  destroy(): void {
    this.#sheet.destroy();
  }
}

/** Compiled expressions over units. Every result is brought to SI: left alone, units pile up along a chain. */
export class UnitFormulas implements FormulaContender {
  static readonly math: MathJsInstance = create(all!, {});
  readonly #book: FormulaBook;
  readonly #compiled: readonly EvalFunction[];
  readonly #scope = new Map<string, Unit | number>();

  constructor(book: FormulaBook, texts: readonly string[]) {
    this.#book = book;
    const { math } = UnitFormulas;
    this.#compiled = texts.map((text) => math.compile(text));
    book.inputs.forEach((_, place) => this.#put(place, book.inputs[place]!.value));
    this.all();
  }

  #put(place: number, value: number): void {
    const { name, unit } = this.#book.inputs[place]!;
    this.#scope.set(name, unit === '' ? value : UnitFormulas.math.unit(value, unit));
  }

  #one(i: number): void {
    const result = this.#compiled[i]!.evaluate(this.#scope) as Unit;
    this.#scope.set(this.#book.formulas[i]!.name, result.toSI());
  }

  all(): void {
    for (let i = 0; i < this.#compiled.length; i++) this.#one(i);
  }

  /** Input and one formula only: what somebody who knows its readers would run. */
  setFor(place: number, value: number, formula: number): void {
    this.#put(place, value);
    this.#one(formula);
  }

  set(place: number, value: number): void {
    this.#put(place, value);
    this.all();
  }

  values(): Float64Array {
    return Float64Array.from(this.#book.formulas, (f) => (this.#scope.get(f.name) as Unit).toNumber('m'));
  }
}

/** Plain loops over arrays, as somebody would write them who has no formulas to read, check or keep. */
export class HandFormulas implements FormulaContender {
  readonly #shape: Uint8Array;
  readonly #operands: Int32Array;
  readonly #values: Float64Array;
  readonly #first: number;

  constructor(book: FormulaBook) {
    this.#first = book.inputs.length;
    this.#values = new Float64Array(book.names.length);
    this.#values.set(book.inputs.map((input) => input.value));
    this.#shape = Uint8Array.from(book.formulas, (f) => f.shape);
    this.#operands = Int32Array.from(book.formulas.flatMap((f: Formula) => [...f.operands]));
    this.all();
  }

  one(i: number): void {
    const v = this.#values;
    const o = this.#operands;
    const at = i * 6;
    const x = v[o[at]!]!;
    const a = v[o[at + 1]!]!;
    const b = v[o[at + 2]!]!;
    const g = v[o[at + 3]!]!;
    const r = v[o[at + 4]!]!;
    const s = v[o[at + 5]!]!;
    v[this.#first + i] = byShape(this.#shape[i]!, x, a, b, g, r, s);
  }

  all(): void {
    for (let i = 0; i < this.#shape.length; i++) this.one(i);
  }

  setFor(place: number, value: number, formula: number): void {
    this.#values[place] = value;
    this.one(formula);
  }

  set(place: number, value: number): void {
    this.#values[place] = value;
    this.all();
  }

  values(): Float64Array {
    return this.#values.slice(this.#first);
  }
}

function byShape(shape: number, x: number, a: number, b: number, g: number, r: number, s: number): number {
  switch (shape) {
    case 0:
      return (x + g) / 2;
    case 1:
      return x * r + g * s;
    case 2:
      return Math.sqrt(x * g);
    case 3:
      return Math.sqrt(x * x + a * a) * r;
    case 4:
      return x - (x - a) / 4;
    case 5:
      return x > g ? x - (x - g) / 2 : x + (a - x) / 4;
    case 6:
      return ((x * g) / (x + g)) * 2;
    case 7:
      return (x * x) / (x + a) + b * r;
    case 8:
      return x * r + (a + b + g) * s;
    case 9:
      return x > a ? Math.sqrt(x * a) : (x + a + b) / 3;
    default:
      throw new Error(`no shape ${shape} of ${SHAPES.length}`);
  }
}
