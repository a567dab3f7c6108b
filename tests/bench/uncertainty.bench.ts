/** The ± of what is shown, after one edit: in a book of 10,000 formulas with 50 uncertain inputs, and in the demo. */
import { routesAtHand } from '../../src/engine/calculation/route-code.ts';
import { Engine, FunctionLibrary, type CellState } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { feed } from '../../src/workbook/feed.ts';
import { itemsOf } from '../../src/workbook/index.ts';
import { demo, placesOf, readingsOf } from './demo.ts';
import { HandFormulas, namedTexts } from './formula-contenders.ts';
import { formulaBook } from './formula-book.ts';
import { compare, otherWork, reportAlone, timed } from './rounds.ts';

const FEET = 0.3048;

export async function run(): Promise<void> {
  await routesAtHand();
  manyFormulas();
  demoHouse();
}

function manyFormulas(): void {
  const book = formulaBook();
  const texts = namedTexts(book);
  const engine = new Engine(new FunctionLibrary([]));
  const feet = (value: number): string => `${Math.round((value / FEET) * 1e6) / 1e6} ± 0.1 ft`;
  for (const { name, value, unit } of book.inputs)
    engine.defineCell({ name, type: 'number', text: unit === '' ? String(value) : feet(value), unit });
  book.formulas.forEach((f, i) =>
    engine.defineCell({ name: f.name, type: 'number', text: texts[i]!, unit: 'm' }),
  );
  engine.recalculate();
  const names = book.formulas.map((f) => f.name);
  const visible = names.filter((_, i) => i % 500 === 499);
  check(engine, names.at(-1)!);

  let edit = 0;
  const change = (): void => {
    engine.defineCell({ name: 'g', type: 'number', text: feet(3.5 + 0.1 * Math.sin(++edit)), unit: 'm' });
    engine.recalculate();
  };
  /** One kind of turn after the other, as a page shows the same from one edit to the next. */
  const rounds = (shown: readonly string[]): number[] => {
    const list: number[] = [];
    for (let round = 0; round < 41; round++) {
      otherWork();
      const ms = timed(() => {
        change();
        for (const name of shown) plusMinus(engine.read(name), name);
      });
      if (round >= 10) list.push(ms);
    }
    return list;
  };
  const alone = rounds([]);
  const all = rounds(names);
  const shown = rounds(visible);
  reportAlone('10,000 formulas, 50 uncertain inputs, an edit that reaches all', [
    { name: 'edit, nothing read', ms: alone },
    { name: 'edit, ± of every cell', ms: all, under: 10 },
    { name: 'edit, ± of 20 visible cells', ms: shown, under: 2 },
  ]);
}

function plusMinus(state: CellState, name: string): number {
  if (state.state !== 'value' || state.plusMinus === undefined) throw new Error(`${name} has no ±`);
  return state.plusMinus;
}

/** Against the root of the squares of fifty differences, one for each input. */
function check(engine: Engine, name: string): void {
  const book = formulaBook();
  const value = (place: number, by: number): number => {
    const hand = new HandFormulas(book);
    hand.set(place, book.inputs[place]!.value + by);
    return hand.values().at(-1)!;
  };
  const step = 1e-5;
  let square = 0;
  book.inputs.forEach((input, place) => {
    if (input.unit === 'm')
      square += (((value(place, step) - value(place, -step)) / (2 * step)) * 0.1 * FEET) ** 2;
  });
  const known = plusMinus(engine.read(name), name);
  if (Math.abs(known - Math.sqrt(square)) > 1e-5 * known)
    throw new Error(`± of ${name} is ${known}, by differences ${Math.sqrt(square)}`);
}

function demoHouse(): void {
  const document = demo();
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  for (const kind of ['table', 'cell'] as const)
    for (const item of itemsOf(document)) if (item.kind === kind) feed(engine, item);
  engine.recalculate();
  const { cells, rows } = placesOf(document);
  const { table, column } = readingsOf(document);
  const typed = table.rows.map((row) => Number(row.entries[column]));
  let edit = 0;
  const change = (): void => {
    edit++;
    typed.forEach((value, row) => {
      if (Number.isFinite(value))
        engine.setEntry('readings', 'fan_pressure', row, String(value + (edit % 50) / 1e4));
    });
    engine.recalculate();
  };
  const read = (): number => {
    let count = 0;
    const look = (state: CellState): void => {
      if (state.state === 'value' && state.plusMinus !== undefined) count++;
    };
    for (const name of cells) look(engine.read(name));
    for (const { table: t, column: c, row } of rows) look(engine.readRow(t, c, row));
    return count;
  };
  const uncertain = read();
  if (uncertain < 100) throw new Error(`only ${uncertain} values of the demo have a ±`);
  compare({
    title: `the demo, every reading changed: ${cells.length + rows.length} values, ${uncertain} with ±`,
    ours: 'with ± of every value',
    rounds: 31,
    warmUp: 10,
    goals: [{ against: 'recalculated only', atMost: 5 }],
    contenders: [
      {
        name: 'with ± of every value',
        turn: () => {
          change();
          read();
        },
      },
      { name: 'recalculated only', turn: change },
    ],
  });
}
