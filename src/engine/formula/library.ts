/**
 * Functions are declared, not wired: name, signature, summary, source, limits and a runnable example stand in
 * one object. The checker, the help and the tests read the same object.
 */

/** What one value of a signature is. Quantities are named by a unit, which fixes the dimension. */
export type ValueType =
  /** `unit: ''` is a plain number; `unit: 'degC'` is a temperature reading, which reaches `compute` in kelvin. */
  | { readonly kind: 'quantity'; readonly unit: string }
  /** Any quantity; equal letters must have equal dimensions. */
  | { readonly kind: 'generic'; readonly letter: string }
  | { readonly kind: 'text' }
  | { readonly kind: 'logical' };

export interface Parameter {
  readonly name: string;
  readonly type: ValueType;
  /** True: the argument is a column (or a filtered column); `compute` receives an array, blanks left out. */
  readonly column?: boolean;
  /** Columns of one call stand side by side in one table, those that name a `table` here in one table of their own. */
  readonly table?: string;
  readonly summary: string;
}

export interface Field {
  readonly type: ValueType;
  readonly summary: string;
}

export type ResultType =
  ValueType | { readonly kind: 'record'; readonly fields: Readonly<Record<string, Field>> };

/** A user's mistake inside a calculation: a value, never thrown. */
export interface Fault {
  readonly fault: string;
  /** What to do instead, in the user's words. */
  readonly suggestion?: string;
}

export function fault(message: string, suggestion?: string): Fault {
  return suggestion === undefined ? { fault: message } : { fault: message, suggestion };
}

export function isFault(value: unknown): value is Fault {
  return typeof value === 'object' && value !== null && 'fault' in value;
}

/** Functions take their own parameters; what they get was checked against their signature. */
export function invoke<R>(f: (...values: never[]) => R, values: readonly Argument[]): R {
  return (f as unknown as (...given: readonly Argument[]) => R)(...values);
}

export type Scalar = number | string | boolean;
export type Argument = Scalar | readonly number[] | readonly string[];
/** NaN says "unavailable" (for instance the interval of a fit through two points). */
export type Result = Scalar | Readonly<Record<string, Scalar>> | Fault;

export interface FunctionDefinition {
  readonly name: string;
  readonly summary: string;
  /** Under which heading it stands in the list of functions. */
  readonly topic?: string;
  /** Standard, handbook or data set with edition and clause; "common practice, no source" or "from memory" where so. */
  readonly source: string;
  /** Where the function may be used, and what it refuses. */
  readonly limits: string;
  readonly parameters: readonly Parameter[];
  readonly result: ResultType;
  /** True: the result names what is found among rows; where it is empty, there is none. */
  readonly gathers?: boolean;
  /** Why there is no result although every argument has a value, where the function can tell; else it is not known yet. */
  readonly unavailable?: string;
  /** A formula without names of cells, and its result in SI (a field's name for a record), checked by a test. */
  readonly example: {
    readonly formula?: string;
    readonly arguments?: readonly Argument[];
    readonly result: Scalar | Readonly<Record<string, Scalar>>;
  };
  readonly compute: (...values: never[]) => Result;
  /**
   * True: `compute` is a quick answer. The full one takes seconds: whoever runs the engine asks `Engine.unfinished`
   * what is wanted, has it worked out elsewhere (in a worker), and hands it in. No ± goes through it.
   */
  readonly deferred?: boolean;
  /**
   * Exact derivatives of the results for these arguments. Without it, or for results that it leaves out, the engine
   * takes central differences and marks the budget so.
   */
  readonly partials?: (...values: never[]) => Partials;
  /** For a fit: what the scatter of its data about the fitted curve does to its results. */
  readonly scatter?: (...values: never[]) => Scatter | undefined;
}

/** Field of the result (`result` where there is but one) to the derivative by each parameter, in SI; of a column parameter, by each of its rows. */
export type Partials = Readonly<Record<string, readonly (number | readonly number[])[]>>;

/**
 * A covariance of results as its factor: for each of several independent standard deviates, how far it moves each
 * field. Fields left out do not move.
 */
export interface Scatter {
  readonly degreesOfFreedom: number;
  readonly components: readonly Readonly<Record<string, number>>[];
}

/**
 * Freezes a definition, so that nothing at run time can change what a formula means. No function answers with an
 * infinity: where its arithmetic leaves the range of doubles, that is a fault.
 */
export function defineFunction<const D extends FunctionDefinition>(definition: D): D {
  const { name, compute } = definition;
  const bounded = (...values: never[]): Result => {
    const result = compute(...values);
    return isInfinite(result) ? beyondDoubles(name) : result;
  };
  return Object.freeze({ ...definition, compute: bounded });
}

function isInfinite(result: Result): boolean {
  if (typeof result === 'number') return Math.abs(result) === Infinity;
  return (
    typeof result === 'object' &&
    Object.values(result).some((value) => value === Infinity || value === -Infinity)
  );
}

function beyondDoubles(name: string): Fault {
  return fault(
    `The result of ${name} is larger than any number here.`,
    'Look for a value it is given that is far too large or too small.',
  );
}

export interface Answer {
  readonly result: Result;
  /** False: better than the quick answer, not yet the full one. */
  readonly full: boolean;
}

/** Answers that are kept. */
const MOST = 256;

/**
 * Answers of deferred functions by what was asked. Functions are pure, so an answer holds for ever; what was not asked
 * for longest is dropped first.
 */
export class Answers {
  readonly #known = new Map<string, Answer>();

  get(key: string): Answer | undefined {
    const answer = this.#known.get(key);
    if (answer) {
      this.#known.delete(key);
      this.#known.set(key, answer);
    }
    return answer;
  }

  set(key: string, answer: Answer): void {
    this.#known.delete(key);
    this.#known.set(key, answer);
    if (this.#known.size <= MOST) return;
    const [oldest] = this.#known.keys();
    if (oldest !== undefined) this.#known.delete(oldest);
  }
}

export class FunctionLibrary {
  /** What deferred functions were found to give; known to every engine that shares this library. */
  readonly answers = new Answers();
  readonly #functions: ReadonlyMap<string, FunctionDefinition>;

  constructor(definitions: Iterable<FunctionDefinition>) {
    const functions = new Map<string, FunctionDefinition>();
    for (const definition of definitions) {
      if (functions.has(definition.name)) throw new Error(`function ${definition.name} is declared twice`);
      functions.set(definition.name, definition);
    }
    this.#functions = functions;
  }

  get(name: string): FunctionDefinition | undefined {
    return this.#functions.get(name);
  }

  names(): string[] {
    return [...this.#functions.keys()];
  }

  all(): FunctionDefinition[] {
    return [...this.#functions.values()];
  }
}

export function answerKey(name: string, values: readonly Argument[]): string {
  return `${name}${JSON.stringify(values)}`;
}

/** The best answer known so far, the quick one at first. */
export function bestAnswer(
  answers: Answers,
  definition: FunctionDefinition,
  values: readonly Argument[],
): Result {
  const key = answerKey(definition.name, values);
  const known = answers.get(key);
  if (known) return known.result;
  const result = invoke(definition.compute, values);
  // A mistake has no better answer.
  answers.set(key, { result, full: isFault(result) });
  return result;
}
