/** One edit in a book of 10,000 named formulas: with the largest fan-out, and with the smallest. */
import { routesAtHand } from '../../src/engine/calculation/route-code.ts';
import {
  HandFormulas,
  namedTexts,
  OurFormulas,
  SpreadsheetFormulas,
  spreadsheetTexts,
  UnitFormulas,
  type FormulaContender,
} from './formula-contenders.ts';
import { formulaBook, readers } from './formula-book.ts';
import { agree, compare, timed } from './rounds.ts';

export async function run(): Promise<void> {
  await routesAtHand();
  const book = formulaBook();
  const texts = namedTexts(book);
  const ours = new OurFormulas(book, texts);
  const spreadsheet = new SpreadsheetFormulas(book, spreadsheetTexts(book));
  const units = new UnitFormulas(book, texts);
  const hand = new HandFormulas(book);
  const rivals: readonly (readonly [string, FormulaContender])[] = [
    ['HyperFormula', spreadsheet],
    ['mathjs Units', units],
    ['by hand', hand],
  ];
  const check = (what: string): void => {
    const values = ours.values();
    for (const [name, rival] of rivals)
      agree(what, values, rival.values(), name, (i) => book.formulas[i]!.name);
  };
  check('as opened');

  const visible = book.formulas.filter((_, i) => i % 500 === 499).map((f) => f.name);
  // Never twice the same value: an edit that changes nothing costs nothing.
  let edit = 0;
  const g = (): number => Math.round((3.5 + 0.1 * Math.sin(++edit)) * 1e9) / 1e9;
  compare({
    title: `one edit, largest fan-out: read by ${readers(book, book.g)} formulas, reaching ${book.formulas.length}`,
    ours: 'Close-in',
    goals: [
      { against: 'HyperFormula', atLeast: 100 },
      { against: 'mathjs Units', atLeast: 300 },
    ],
    contenders: [
      { name: 'Close-in', turn: () => ours.set(book.g, g()) },
      {
        name: 'Close-in, 20 cells read',
        turn: () => {
          ours.set(book.g, g());
          for (const name of visible) ours.read(name);
        },
      },
      { name: 'Close-in, every name listed', turn: () => void ours.setAndList(book.g, g()) },
      { name: 'HyperFormula', turn: () => spreadsheet.set(book.g, g()) },
      { name: 'mathjs Units', turn: () => units.set(book.g, g()) },
      { name: 'by hand', turn: () => hand.set(book.g, g()) },
    ],
  });
  for (const contender of [ours, ...rivals.map(([, rival]) => rival)]) contender.set(book.g, 3.7);
  check('after the widest edits');

  const last = book.formulas.length - 1;
  const edits = 20;
  const tail = (round: number, k: number): number => 0.4 + ((round * edits + k) % 997) / 1e5;
  const many = (edit: (value: number) => void) => (round: number) =>
    timed(() => {
      for (let k = 0; k < edits; k++) edit(tail(round, k));
    }) / edits;
  compare({
    title: 'one edit, smallest fan-out: one formula (mean of 20 edits in a row)',
    ours: 'Close-in',
    contenders: [
      { name: 'Close-in', turn: many((value) => ours.set(book.tail, value)) },
      { name: 'HyperFormula', turn: many((value) => spreadsheet.set(book.tail, value)) },
      { name: 'mathjs Units', turn: many((value) => units.setFor(book.tail, value, last)) },
      { name: 'by hand', turn: many((value) => hand.setFor(book.tail, value, last)) },
    ],
  });
  check('after the narrowest edits');
}
