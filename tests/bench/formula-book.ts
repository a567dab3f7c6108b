/**
 * A book of 10,000 named formulas: 200 chains of 50 in ten shapes, every value a length. `g` is read by some 6,000
 * of them and reaches all; `tail` is read by the very last one only. Free operands reach into earlier chains in a
 * third of the cases. All values stay between those of the inputs, so that no chain runs away.
 */

export const CHAINS = 200;
export const LENGTH = 50;

/** Operands: x is the chain's last value, a and b are free, r and s plain numbers. */
export const SHAPES: readonly string[] = [
  '(x + g) / 2',
  'x * r + g * s',
  'sqrt(x * g)',
  'sqrt(x ^ 2 + a ^ 2) * r',
  'x - (x - a) / 4',
  'x > g ? x - (x - g) / 2 : x + (a - x) / 4',
  'x * g / (x + g) * 2',
  'x ^ 2 / (x + a) + b * r',
  'x * r + (a + b + g) * s',
  'x > a ? sqrt(x * a) : (x + a + b) / 3',
];

/** The plain numbers that each shape keeps its values in bounds with. */
const RATIOS: readonly (readonly [number, number])[] = [
  [0.4, 0.6],
  [0.4, 0.6],
  [0.4, 0.6],
  [0.7, 0.2],
  [0.4, 0.6],
  [0.4, 0.6],
  [0.4, 0.6],
  [0.5, 0.2],
  [0.4, 0.2],
  [0.4, 0.6],
];

export interface Input {
  readonly name: string;
  readonly value: number;
  readonly unit: 'm' | '';
}

/** Operands are places: inputs first, then formulas. */
export interface Formula {
  readonly name: string;
  readonly shape: number;
  readonly operands: readonly [x: number, a: number, b: number, g: number, r: number, s: number];
}

export interface FormulaBook {
  readonly inputs: readonly Input[];
  readonly formulas: readonly Formula[];
  readonly names: readonly string[];
  readonly g: number;
  readonly tail: number;
}

/** Small seeded generator (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** `lengths` is the number of inputs that are lengths, `g` among them. */
export function formulaBook(lengths = 50): FormulaBook {
  const random = seeded(20_000);
  const inputs: Input[] = [{ name: 'g', value: 3.5, unit: 'm' }];
  for (let i = 1; i < lengths; i++)
    inputs.push({ name: `length_${i}`, value: Math.round((1 + 8 * random()) * 1000) / 1000, unit: 'm' });
  const ratioAt = new Map<number, number>();
  for (const value of new Set(RATIOS.flat())) {
    ratioAt.set(value, inputs.length);
    inputs.push({ name: `ratio_${Math.round(value * 10)}`, value, unit: '' });
  }
  const tail = inputs.length;
  inputs.push({ name: 'tail', value: 0.4, unit: '' });
  const first = inputs.length;
  const formulas: Formula[] = [];
  for (let chain = 0; chain < CHAINS; chain++)
    for (let step = 0; step < LENGTH; step++) {
      const free = (): number =>
        chain > 0 && random() < 0.35
          ? first + Math.floor(random() * chain * LENGTH)
          : Math.floor(random() * lengths);
      const isLast = chain === CHAINS - 1 && step === LENGTH - 1;
      const shape = step === 0 ? 0 : isLast ? 1 : Math.floor(random() * SHAPES.length);
      const x = step === 0 ? chain % lengths : first + chain * LENGTH + step - 1;
      const [r, s] = RATIOS[shape]!;
      formulas.push({
        name: `chain_${chain}_step_${step}`,
        shape,
        operands: [x, free(), free(), 0, isLast ? tail : ratioAt.get(r)!, ratioAt.get(s)!],
      });
    }
  return { inputs, formulas, names: [...inputs, ...formulas].map((item) => item.name), g: 0, tail };
}

/** The text of a formula with each operand named by `nameOf`. */
export function textOf(formula: Formula, nameOf: (place: number) => string): string {
  const [x, a, b, g, r, s] = formula.operands;
  const by: Readonly<Record<string, number>> = { x, a, b, g, r, s };
  return SHAPES[formula.shape]!.replace(/\b[xabgrs]\b/g, (letter) => nameOf(by[letter]!));
}

/** How many formulas read an input. */
export function readers(book: FormulaBook, place: number): number {
  const name = book.names[place]!;
  return book.formulas.filter((f) => textOf(f, (p) => ` ${book.names[p]!} `).includes(` ${name} `)).length;
}
