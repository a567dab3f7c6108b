/** A keystroke in a reading of the demo, without a page: the edit, the fit and everything that rests on it. */
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { Workbook } from '../../src/workbook/index.ts';
import { demo, placesOf, readingsOf } from './demo.ts';
import { otherWork, print, quantile, timed } from './rounds.ts';

const KEYSTROKES = 300;
const FRAME = 16;

export function run(): void {
  const document = demo();
  const workbook = new Workbook(document, new FunctionLibrary(tradeFunctions));
  const { cells, rows } = placesOf(document);
  const { table, column } = readingsOf(document);
  const apply: number[] = [];
  const shown: number[] = [];
  for (let k = 0; k < KEYSTROKES; k++) {
    const row = table.rows[k % table.rows.length]!;
    const text = String(Number(row.entries[column] ?? 40) + (k % 7) / 100 + 0.01);
    if (k % 10 === 0) otherWork();
    const before = fitted(workbook);
    const edited = timed(() => {
      const done = workbook.apply({
        kind: 'set-entries',
        table: table.id,
        entries: [{ row: row.id, column, text }],
      });
      if ('problem' in done) throw new Error(done.problem);
    });
    const drawn = timed(() => {
      for (const name of cells) workbook.state(name);
      for (const place of rows) workbook.columnState(place.table, place.column, place.row);
    });
    if (row.entries[table.columns.find((c) => c.name === 'test')!.id] === shownTest(workbook) && k > 45)
      if (fitted(workbook) === before) throw new Error('the fit did not follow the reading');
    if (k >= 50) {
      apply.push(edited);
      shown.push(edited + drawn);
    }
  }
  const line = (name: string, samples: number[]): string[] => {
    const sorted = samples.sort((a, b) => a - b);
    const p95 = quantile(sorted, 0.95);
    if (p95 > FRAME) process.exitCode = 1;
    return [
      name,
      `p50 ${quantile(sorted, 0.5).toFixed(2)}, p95 ${p95.toFixed(2)}`,
      '',
      `p95 under ${FRAME} ms`,
      p95 <= FRAME ? 'yes' : 'NO',
    ];
  };
  print('a keystroke in a reading of the demo', [
    line('edit applied', apply),
    line(`and all ${cells.length + rows.length} values with ± read`, shown),
  ]);
}

function fitted(workbook: Workbook): unknown {
  const state = workbook.state('flow_coefficient');
  return state.state === 'value' ? state.value : undefined;
}

function shownTest(workbook: Workbook): unknown {
  const state = workbook.state('shown_test');
  return state.state === 'value' ? state.value : undefined;
}
