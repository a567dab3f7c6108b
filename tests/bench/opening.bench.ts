/** Opening the book of 10,000 named formulas and the table of 20,000 rows: cold, each in a thread of its own, and warm. */
import { Worker, isMainThread, parentPort, workerData } from 'node:worker_threads';
import {
  HandFormulas,
  namedTexts,
  OurFormulas,
  SpreadsheetFormulas,
  spreadsheetTexts,
  UnitFormulas,
} from './formula-contenders.ts';
import { formulaBook, type FormulaBook } from './formula-book.ts';
import { compare, otherWork, report, timed, type Plan } from './rounds.ts';
import { entries, OurTable, SpreadsheetTable } from './table-contenders.ts';

const COLD_ROUNDS = 7;

interface Texts {
  readonly book: FormulaBook;
  readonly named: readonly string[];
  readonly spreadsheet: readonly string[];
}

type Opening = (texts: Texts) => void;
const FORMULAS: Readonly<Record<string, Opening>> = {
  'Close-in': ({ book, named }) => new OurFormulas(book, named),
  HyperFormula: ({ book, spreadsheet }) => new SpreadsheetFormulas(book, spreadsheet).destroy(),
  'mathjs Units': ({ book, named }) => new UnitFormulas(book, named),
  'by hand': ({ book }) => new HandFormulas(book),
};

function allTexts(): Texts {
  const book = formulaBook();
  return { book, named: namedTexts(book), spreadsheet: spreadsheetTexts(book) };
}

/** In the thread: one opening by one contender, with nothing warm but the generator of the book. */
function openOnce(contender: string): void {
  const texts = allTexts();
  otherWork();
  parentPort?.postMessage(timed(() => FORMULAS[contender]!(texts)));
}

function cold(contender: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: { opening: contender } });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}

const given = workerData as { readonly opening?: string } | null;
if (!isMainThread && given?.opening !== undefined) openOnce(given.opening);

export async function run(): Promise<void> {
  const plan: Plan = {
    title: 'opening 10,000 formulas, cold: the first thing a thread does',
    ours: 'Close-in',
    goals: [{ against: 'HyperFormula', atLeast: 2 }],
    contenders: [],
  };
  const names = Object.keys(FORMULAS);
  const samples = new Map<string, number[]>(names.map((name) => [name, []]));
  for (let round = 0; round < COLD_ROUNDS; round++)
    for (let k = 0; k < names.length; k++) {
      const name = names[(k + round) % names.length]!;
      samples.get(name)!.push(await cold(name));
    }
  report(plan, samples);

  const texts = allTexts();
  compare({
    ...plan,
    title: 'opening 10,000 formulas, warm',
    rounds: 5,
    warmUp: 2,
    contenders: names.map((name) => ({ name, turn: () => FORMULAS[name]!(texts) })),
  });
  const table = entries();
  compare({
    ...plan,
    title: 'opening a table of 20,000 rows, three columns entered and five computed',
    rounds: 3,
    warmUp: 1,
    contenders: [
      { name: 'Close-in', turn: () => void new OurTable(table) },
      { name: 'HyperFormula', turn: () => new SpreadsheetTable(table).destroy() },
    ],
  });
}
