/** Edits in a table of 20,000 rows: everything at once, one column by a scalar, one row. */
import { routesAtHand } from '../../src/engine/calculation/route-code.ts';
import { agree, compare, timed, type Contender } from './rounds.ts';
import {
  COMPUTED,
  entries,
  HandTable,
  OurTable,
  ROWS,
  SpreadsheetTable,
  UnitTable,
  type TableContender,
} from './table-contenders.ts';

export async function run(): Promise<void> {
  await routesAtHand();
  const given = entries();
  const ours = new OurTable(given);
  const rivals: readonly (readonly [string, TableContender])[] = [
    ['HyperFormula', new SpreadsheetTable(given)],
    ['mathjs Units', new UnitTable(given)],
    ['by hand', new HandTable(given)],
  ];
  const all: readonly (readonly [string, TableContender])[] = [['Close-in', ours], ...rivals];
  const looked = Array.from({ length: 200 }, (_, i) => (i * 7919) % ROWS);
  const check = (what: string): void => {
    const values = [...ours.aggregates(), ...ours.rows(looked)];
    for (const [name, rival] of rivals)
      agree(what, values, [...rival.aggregates(), ...rival.rows(looked)], name, (i) =>
        i < COMPUTED.length * 3 ? `aggregate ${i}` : `value ${i - COMPUTED.length * 3} of the rows looked at`,
      );
  };
  check('as opened');

  const contenders = (turn: (by: TableContender, round: number) => unknown): Contender[] =>
    all.map(([name, by]) => ({ name, turn: (round) => turn(by, round) }));
  const byHand = { against: 'by hand', atMost: 4 };
  compare({
    title: `everything: five columns of ${ROWS} rows, 15 aggregates`,
    ours: 'Close-in',
    rounds: 9,
    goals: [byHand],
    contenders: contenders((by, round) => by.setScalar('waste', 1.1 + round / 1000)),
  });
  check('after edits of everything');
  compare({
    title: 'one scalar: one column, three aggregates',
    ours: 'Close-in',
    rounds: 9,
    goals: [byHand],
    contenders: contenders((by, round) => by.setScalar('change_rate', 0.0012 + round / 1e6)),
  });
  check('after edits of one scalar');
  // Twenty in a row for those that take microseconds; one for mathjs, which sums its columns anew.
  compare({
    title: 'one row: five values, 15 aggregates (mean of 20 edits in a row; mathjs one)',
    ours: 'Close-in',
    rounds: 9,
    under: 0.05,
    contenders: all.map(([name, by]) => ({
      name,
      turn: (round) => {
        const edits = name === 'mathjs Units' ? 1 : 20;
        const ms = timed(() => {
          for (let k = 0; k < edits; k++) by.setHeight((k * 997 + 5) % ROWS, 1 + round / 100 + k / 1000);
        });
        return ms / edits;
      },
    })),
  });
  for (const [, by] of all)
    for (let k = 0; k < (by === rivals[1]![1] ? 20 : 1); k++)
      by.setHeight((k * 997 + 5) % ROWS, 1 + 11 / 100 + k / 1000);
  check('after edits of rows');
}
