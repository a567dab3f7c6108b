/** Makes a result reach a value by changing one typed value between two bounds. Nothing is written. */
import {
  describeType,
  fromSI,
  parseUnit,
  readEntry,
  toSI,
  type CellState,
  type Unit,
} from '../engine/index.ts';
import { brent } from './brent.ts';
import type { Edit } from './edit-kinds.ts';
import { placeNamed } from './place.ts';
import { Workbook } from './workbook.ts';

export interface Question {
  /** The cell whose value is wanted, or the entry of a table: `q50`, `walls.area[2]`. */
  readonly result: string;
  /** Value wanted, as typed: `1.0`, `430 cfm`. A bare number is in the result's unit. */
  readonly target: string;
  /** The typed cell that may change, or the typed entry of a table. */
  readonly input: string;
  /** Bounds of the input, as typed. */
  readonly from: string;
  readonly to: string;
  /** The units that bare numbers mean and the answer is told in, where they are other than the places' own. */
  readonly units?: { readonly result: string; readonly input: string };
}

export interface Solution {
  readonly found: true;
  /** What would be typed into the input. */
  readonly text: string;
  /** Value of the input, SI. */
  readonly input: number;
  readonly before: CellState;
  /** State of the result with that input. */
  readonly after: CellState;
  /** Writes it; one step to undo. */
  readonly edit: Edit;
}

export interface NoSolution {
  readonly found: false;
  readonly problem: string;
  readonly suggestion?: string;
}

export function solve(workbook: Workbook, question: Question): Solution | NoSolution {
  const input = placeNamed(workbook.document, question.input);
  if (!input)
    return no(
      `Nothing is named ${question.input}.`,
      'Choose a cell that is typed, or an entry of a table such as walls.height[2].',
    );
  const before = input.state(workbook);
  if (before.state !== 'value' || !before.typed || before.type.kind !== 'quantity')
    return no(
      `${question.input} is not a typed number.`,
      'Only a typed number can be changed to reach a target.',
    );
  const result = placeNamed(workbook.document, question.result);
  const now = result?.state(workbook);
  if (!result || now?.state !== 'value' || now.type.kind !== 'quantity' || typeof now.value !== 'number')
    return no(`${question.result} has no value now.`, 'Mend it first.');
  const inputUnit = unitOf(question.units?.input ?? input.unit);
  const resultUnit = unitOf(question.units?.result ?? result.unit);
  const target = read(question.target, resultUnit, now, 'target');
  if (typeof target !== 'number') return target;
  const from = read(question.from, inputUnit, before, 'lower bound');
  if (typeof from !== 'number') return from;
  const to = read(question.to, inputUnit, before, 'upper bound');
  if (typeof to !== 'number') return to;
  if (from === to) return no('The two bounds are equal.', 'Give a range to look in.');

  const trial = new Workbook(workbook.document, workbook.library);
  const typed = (x: number, digits?: number): string => typedText(x, inputUnit, digits);
  const spread = spreadOf(input.text, unitOf(input.unit), inputUnit);
  const resultAt = (x: number, digits?: number): number => {
    trial.apply(input.edit(spread(typed(x, digits))));
    const state = result.state(trial);
    return state.state === 'value' && typeof state.value === 'number' ? state.value : NaN;
  };
  const atFrom = resultAt(from);
  const atTo = resultAt(to);
  const show = (si: number): string => shown(si, resultUnit);
  for (const [at, value] of [
    [from, atFrom],
    [to, atTo],
  ] as const)
    if (Number.isNaN(value)) {
      resultAt(at);
      return no(
        `With ${question.input} at ${typed(at)}, ${question.result} has no value: ${why(result.state(trial))}.`,
        'Choose bounds between which it can be calculated.',
      );
    }
  const off = (x: number): number => resultAt(x) - target;
  const ends: Bracket = [
    { x: from, off: atFrom - target },
    { x: to, off: atTo - target },
  ];
  const { bracket, nearest } = crossed(ends) ? { bracket: ends } : withinTurn(off, ends);
  if (!bracket) {
    const turn =
      nearest === undefined
        ? ''
        : `, on the way as near as ${show(nearest.off + target)} at ${typed(nearest.x)},`;
    return no(
      `There is no solution in the range: ${question.result} goes from ${show(atFrom)} to ${show(atTo)}${turn} and does not pass ${show(target)}.`,
      'Widen the range, or change another input.',
    );
  }
  const [low, high] = bracket;
  const root = brent(off, low.x, high.x, low.off, high.off, Math.abs(to - from) * 1e-13);
  if (!root)
    return no(
      `${question.result} has no value somewhere between the bounds.`,
      'Widen the range, or change another input.',
    );
  const missed = Math.abs(off(root.x));
  const scale = Math.max(...ends.map((end) => Math.abs(end.off)));
  if (!(missed <= 1e-6 * scale))
    return no(
      `${question.result} jumps over ${show(target)} near ${question.input} = ${spread(typed(root.x))}: it is never reached.`,
      'Look there for a condition or a rounding.',
    );
  // The roundest that does as well, so that 8 ft is not written as 8.0000000000001 ft.
  const close = Math.max(missed, 1e-9 * Math.min(scale, Math.abs(target) || scale));
  const digits = Array.from({ length: DIGITS - 1 }, (_, k) => k + 1).find((few) => {
    const x = roundedTo(root.x, inputUnit, few);
    return x >= Math.min(from, to) && x <= Math.max(from, to) && Math.abs(resultAt(x, few) - target) <= close;
  });
  if (digits === undefined) resultAt(root.x);
  const text = spread(typed(root.x, digits));
  return {
    found: true,
    text,
    input: digits === undefined ? root.x : roundedTo(root.x, inputUnit, digits),
    before: now,
    after: result.state(trial),
    edit: {
      kind: 'batch',
      label: `solve ${question.result}`,
      edits: [input.edit(text)],
    },
  };
}

/** An input tried, and by how much the result misses the target there. */
interface Tried {
  readonly x: number;
  readonly off: number;
}

type Bracket = readonly [Tried, Tried];

function crossed([a, b]: Bracket): boolean {
  return a.off * b.off <= 0;
}

/** Parts that a range is looked through in where its ends lie on the same side of the target. */
const PARTS = 32;

/** A result may turn around between the bounds: where it first crosses the target, or else where it comes nearest. */
function withinTurn(
  off: (x: number) => number,
  [from, to]: Bracket,
): { readonly bracket?: Bracket; readonly nearest?: Tried } {
  let last = from;
  let nearest: Tried | undefined;
  let least = Math.min(Math.abs(from.off), Math.abs(to.off));
  for (let n = 1; n < PARTS; n++) {
    const x = from.x + ((to.x - from.x) * n) / PARTS;
    const here = { x, off: off(x) };
    if (crossed([last, here])) return { bracket: [last, here] };
    if (Math.abs(here.off) < least) {
      least = Math.abs(here.off);
      nearest = here;
    }
    last = here;
  }
  return crossed([last, to]) ? { bracket: [last, to] } : nearest === undefined ? {} : { nearest };
}

function no(problem: string, suggestion?: string): NoSolution {
  return suggestion === undefined ? { found: false, problem } : { found: false, problem, suggestion };
}

function unitOf(text: string): Unit | undefined {
  if (text === '') return undefined;
  const unit = parseUnit(text);
  return 'problem' in unit ? undefined : unit;
}

/** A typed bound or target in SI. */
function read(text: string, unit: Unit | undefined, like: CellState, what: string): number | NoSolution {
  const entry = readEntry(text, unit);
  if ('blank' in entry) return no(`The ${what} is missing.`, 'Type a value.');
  if ('problem' in entry) return no(`The ${what}: ${entry.problem}`, entry.suggestion);
  const { literal } = entry;
  const dimension = like.state === 'value' && like.type.kind === 'quantity' ? like.type.dimension : undefined;
  if (like.state === 'value' && (literal.unit?.dimension ?? 0) !== dimension)
    return no(`The ${what} ${text} is not ${describeType(like.type)}.`, 'Type it with a fitting unit.');
  return literal.si;
}

const DIGITS = 14;

/** No scientific notation is needed for sizes here. */
function typedText(si: number, unit: Unit | undefined, digits = DIGITS): string {
  const value = Number((unit ? fromSI(si, unit) : si).toPrecision(digits));
  return unit && unit.text !== '' && unit.text !== '1' ? `${value} ${unit.text}` : `${value}`;
}

function roundedTo(si: number, unit: Unit | undefined, digits: number): number {
  const value = Number((unit ? fromSI(si, unit) : si).toPrecision(digits));
  return unit ? toSI(value, unit) : value;
}

/** The ± that was typed stays with the value that takes its place. */
function spreadOf(typed: string, own: Unit | undefined, unit: Unit | undefined): (text: string) => string {
  const entry = readEntry(typed, own);
  const half = 'literal' in entry ? entry.literal.plusMinus : undefined;
  if (half === undefined) return (text) => text;
  const [relative] = unit?.text === '%' ? [] : (/(?:±|\+\/?-)\s*[\d.,]+\s*%\s*$/u.exec(typed) ?? []);
  return (text) => `${text} ${relative?.trim() ?? `± ${typedText(half, unit && { ...unit, offset: 0 })}`}`;
}

function shown(si: number, unit: Unit | undefined): string {
  const value = unit ? fromSI(si, unit) : si;
  return `${Number(value.toPrecision(5))}${unit ? ` ${unit.symbol}` : ''}`;
}

function why(state: CellState): string {
  switch (state.state) {
    case 'fault':
      return state.fault;
    case 'waiting':
      return `it waits for ${state.for}`;
    case 'invalid':
      return state.diagnostic.message;
    default:
      return 'it is blank';
  }
}
