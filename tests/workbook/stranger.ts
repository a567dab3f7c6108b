/** What a stranger could send: formulas and files by chance, most of them nearly sound. Equal seeds, equal texts. */
import { FunctionLibrary, BUILTINS } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { readWorkbook, Workbook, writeWorkbook, type WorkbookDocument } from '../../src/workbook/index.ts';
import { chanceFrom, pick, type Chance } from '../engine/calculation/random-formula.ts';

const library = new FunctionLibrary(tradeFunctions);

const PIECES: readonly string[] = [
  ...BUILTINS.keys(),
  ...tradeFunctions.map(({ name }) => name),
  ...'__proto__ constructor prototype toString hasOwnProperty valueOf eval Function globalThis this import'.split(
    ' ',
  ),
  ...'a b c d t t.x t.y rec.field sum mean lookup where otherwise uncertainty'.split(' '),
  ...'+ - * / ^ ** % ! = == != < > <= >= && || and or not ? : , ; . ( ) [ ] { } => := -> & | ~ @ # $ \\ `'.split(
    ' ',
  ),
  ...'0 1 -1 9 1e308 1e-308 1e999 0.1 9^9^9^9 1/0 0/0 5! 1:2 [1,2] {a:1} "x" "" \'y\' "__proto__"'.split(' '),
  ...'ft in Pa cfm degF degC m3/h lb $ % kg ft2'.split(' '),
  ...[
    '5 ft',
    '12\' 4 1/2"',
    '20.0 ± 0.5 Pa',
    '5 ± 2 %',
    '20.0(5)',
    '½',
    '²',
    '−',
    '×',
    'Δ',
    '\u202e',
    '\u200b',
    '\ufeff',
  ],
  ...[' ', '  ', '\n', '\t', '\u00a0', '\0', '🙂', '\ud800', 'é', 'е'],
];

/** Formulas known to be sound, to be changed a little. */
const SOUND: readonly string[] = [
  'a + b * 2 - (c / 4) ^ 2',
  'a > b ? c : d',
  'sum(t.x) / mean(t.x) + max(a, b, 3)',
  'sum(where(t.x, t.y > 2)) + lookup(t.x, t.y, 3)',
  'sqrt(abs(a)) + round(b, 2) + uncertainty(c)',
  'otherwise(a, 5) and not (b == 3) or c < 2',
  '(20.0 ± 0.5 Pa) * (3 ft2) / (1 lb)',
];

export function strangeFormula(chance: Chance): string {
  const kind = chance();
  if (kind < 0.04) return nested(chance);
  if (kind < 0.5) {
    const count = 1 + Math.floor(chance() * 14);
    return Array.from({ length: count }, () => pick(chance, PIECES)).join(chance() < 0.5 ? ' ' : '');
  }
  let text = pick(chance, SOUND);
  const changes = 1 + Math.floor(chance() * 4);
  for (let change = 0; change < changes; change++) {
    const at = Math.floor(chance() * (text.length + 1));
    const cut = Math.floor(chance() * 4);
    text = text.slice(0, at) + (chance() < 0.6 ? pick(chance, PIECES) : '') + text.slice(at + cut);
  }
  return text;
}

function nested(chance: Chance): string {
  const [open, close] = pick(chance, [
    ['(', ')'],
    ['-', ''],
    ['not ', ''],
    ['sqrt(', ')'],
    ['1^', ''],
    ['a ? ', ' : b'],
    ['a+', ''],
    ['max(a,', ')'],
    ['2 ^ -', ''],
    ['(a < ', ')'],
  ] as const);
  const depth = Math.floor(chance() * (chance() < 0.2 ? 6_000 : 260));
  return open.repeat(depth) + pick(chance, ['a', '1', '', '5 ft']) + close.repeat(depth);
}

const cell = (name: string, text: string, unit = '') =>
  `{"kind": "cell", "id": "${name}", "name": "${name}", "text": "${text}"${unit === '' ? '' : `, "unit": "${unit}"`}}`;

/** A small workbook whose cells wait for formulas. */
export const GROUND = `{"app": "close-in", "format": 1, "title": "Ground", "sheets": [{"sections": [{"items": [
  ${cell('a', '3')}, ${cell('b', '4 ± 0.1')}, ${cell('c', 'a + b')}, ${cell('d', 'c * 2')}, ${cell('victim', '1')},
  ${cell('reader', 'victim')},
  {"kind": "table", "name": "t", "columns": [{"name": "x"}, {"name": "y"}, {"name": "z", "formula": "x"}],
   "rows": [{"x": "1", "y": "2"}, {"x": "3 ± 1", "y": "3"}, {"y": "4"}]}]}]}]}`;

export function openText(text: string): WorkbookDocument {
  const opened = readWorkbook(text);
  if (!('document' in opened)) throw new Error(`${opened.where}: ${opened.found}`);
  return opened.document;
}

export function workbookOf(document: WorkbookDocument): Workbook {
  return new Workbook(document, library);
}

const STATES = new Set(['value', 'blank', 'invalid', 'fault', 'waiting', 'pending']);

export interface Outcome {
  /** How often a formula had a value, was refused, and so on. */
  readonly states: Map<string, number>;
  /** Milliseconds of the processor, for all, and for the one that took longest. */
  total: number;
  slowest: number;
  slowestText: string;
}

/** Types formulas by chance into a cell and a column, looks at every state and undoes; throws what is wrong. */
export function typeStrangeFormulas(seed: number, count: number): Outcome {
  const chance = chanceFrom(seed);
  const workbook = workbookOf(openText(GROUND));
  const outcome: Outcome = { states: new Map(), total: 0, slowest: 0, slowestText: '' };
  for (let n = 0; n < count; n++) {
    const text = strangeFormula(chance);
    const inColumn = n % 4 === 3;
    timed(outcome, text, () => {
      workbook.check(text, inColumn ? { table: 't', column: 'z' } : { cell: 'victim' });
      workbook.complete(text.slice(0, 20), { cell: 'victim' });
      const done = workbook.apply(
        inColumn
          ? { kind: 'set-column', table: 't', column: 'z', patch: { formula: text } }
          : { kind: 'set-cell', cell: 'victim', patch: { text } },
      );
      if ('problem' in done) {
        count1(outcome, 'refused');
        return;
      }
      const states = inColumn
        ? [0, 1, 2].map((row) => workbook.columnState('t', 'z', row))
        : [workbook.state('victim'), workbook.state('reader')];
      for (const state of states) {
        if (!STATES.has(state.state)) throw new Error(`no state: ${state.state}`);
        if (state.state === 'value' && typeof state.value === 'number' && !Number.isFinite(state.value))
          throw new Error(`a value that is no number: ${state.value}`);
      }
      count1(outcome, states[0]?.state ?? '');
      workbook.faults();
      if (n % 10 === 0) workbook.budget('reader');
      if (n % 50 === 0) workbook.undo();
    });
  }
  return outcome;
}

/** Opens the files, calculates what opens, writes it again. */
export function openStrangeFiles(seed: number, count: number, sources: readonly string[]): Outcome {
  const chance = chanceFrom(seed);
  const outcome: Outcome = { states: new Map(), total: 0, slowest: 0, slowestText: '' };
  for (let n = 0; n < count; n++) {
    const text = mutated(chance, pick(chance, sources));
    timed(outcome, text, () => {
      const opened = readWorkbook(text);
      if (!('document' in opened)) {
        count1(outcome, opened.code);
        return;
      }
      count1(outcome, 'opened');
      workbookOf(opened.document).faults();
      const again = readWorkbook(writeWorkbook(opened.document));
      if (!('document' in again)) throw new Error('what opened cannot be written and opened again');
    });
  }
  return outcome;
}

const PUT = [
  ...[
    'null',
    '[]',
    '{}',
    '-1',
    '1e999',
    '""',
    '"__proto__"',
    '"constructor"',
    '"toString"',
    'true',
    '"',
    ',',
    '}',
    ']',
  ],
  ...[
    '{"__proto__": {"polluted": true}}',
    '{"constructor": {"prototype": {"polluted": true}}}',
    '"a":',
    '\\u0000',
  ],
  ...['"=1+1"', '"9^9^9^9"', '"a+a"', '\ud800', '\u202e'],
];

function mutated(chance: Chance, source: string): string {
  let text = source;
  const changes = 1 + Math.floor(chance() * 3);
  for (let change = 0; change < changes; change++) {
    const way = chance();
    const at = Math.floor(chance() * text.length);
    if (way < 0.15) text = text.slice(0, at) + pick(chance, PUT) + text.slice(at);
    else if (way < 0.25) text = text.slice(0, at) + text.slice(at + 1 + Math.floor(chance() * 4));
    else if (way < 0.32)
      text =
        text.slice(0, at) +
        String.fromCharCode(text.charCodeAt(at) ^ (1 << Math.floor(chance() * 7))) +
        text.slice(at + 1);
    else {
      // A whole value or key in the place of another: still JSON most of the time.
      const texts = [...text.matchAll(/"(?:[^"\\]|\\.)*"/g)];
      const one = pick(chance, texts);
      const other =
        way < 0.6
          ? JSON.stringify(strangeFormula(chance))
          : way < 0.8
            ? pick(chance, PUT)
            : pick(chance, texts)[0];
      text = text.slice(0, one.index) + other + text.slice(one.index + one[0].length);
    }
  }
  return text;
}

function timed(outcome: Outcome, text: string, run: () => void): void {
  const start = process.cpuUsage();
  try {
    run();
  } catch (problem) {
    throw new Error(`with ${JSON.stringify(text.slice(0, 2_000))}`, { cause: problem });
  }
  const { user, system } = process.cpuUsage(start);
  const took = (user + system) / 1000;
  outcome.total += took;
  if (took <= outcome.slowest) return;
  outcome.slowest = took;
  outcome.slowestText = text.slice(0, 200);
}

function count1({ states }: Outcome, what: string): void {
  states.set(what, (states.get(what) ?? 0) + 1);
}

/** Every property of the objects that all code shares: equal before and after means that nothing was planted. */
export function sharedProperties(): string {
  const shared = [Object, Array, Function, String, Number, Map, Set, Promise, RegExp, Error];
  return JSON.stringify(
    shared.map((each) => [
      Reflect.ownKeys(each).map(String),
      Reflect.ownKeys(each.prototype as object).map(String),
    ]),
  );
}
