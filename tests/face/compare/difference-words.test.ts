import { describe, expect, test } from 'vitest';
import { told } from '../../../src/face/compare/difference-words.ts';
import { isJobData } from '../../../src/face/compare/job-data.ts';
import {
  applyEdit,
  itemsOf,
  mergeOf,
  newJob,
  type Edit,
  type WorkbookDocument,
} from '../../../src/workbook/index.ts';
import { Open } from '../../templates/open.ts';

const { document } = new Open('juniper-hollow.json').workbook;
const after = (...edits: Edit[]): WorkbookDocument => {
  const applied = applyEdit(document, { kind: 'batch', label: '', edits });
  if ('problem' in applied) throw new Error(applied.problem);
  return applied.document;
};
const tell = (other: WorkbookDocument) => {
  const merge = mergeOf(undefined, document, other);
  return merge.differences.map((each) => told(each, merge.pair));
};

describe('a difference in words', () => {
  test('a value has its unit on both sides, and the place where it stands', () => {
    expect(tell(after({ kind: 'set-cell', cell: 'target_ach50', patch: { text: '1.0' } }))).toMatchObject([
      {
        group: 'value',
        label: 'First target, at most',
        what: 'value',
        mine: '1.2 1/h',
        theirs: '1.0 1/h',
        where: 'Air test · What is tested',
      },
    ]);
  });

  test('a formula is told from a value', () => {
    expect(
      tell(after({ kind: 'set-cell', cell: 'ach50', patch: { text: 'q50 / building_volume' } })),
    ).toMatchObject([{ group: 'formula', what: 'formula', theirs: 'q50 / building_volume' }]);
  });

  test('an entry is named by its row and column', () => {
    const [table] = [...itemsOf(document)].filter((item) => item.kind === 'table');
    const row = table?.rows[2];
    const edit: Edit = {
      kind: 'set-entries',
      table: 'readings',
      entries: [{ row: row?.id ?? '', column: 'house_pressure', text: '-1' }],
    };
    expect(tell(after(edit))).toMatchObject([
      {
        group: 'value',
        label: expect.stringMatching(/^Readings, row 3 .*, House$/) as string,
        theirs: '-1 Pa',
      },
    ]);
  });

  test('a row of the other side alone has the number that it has there', () => {
    const [table] = [...itemsOf(document)].filter((item) => item.kind === 'table');
    const { length } = table?.rows ?? [];
    const row = { id: 'new-row', entries: { [table?.columns[0]?.id ?? '']: 'membrane up' } };
    const edit: Edit = { kind: 'insert-rows', table: 'readings', at: length, rows: [row] };
    expect(tell(after(edit))).toMatchObject([
      { what: 'only there', label: `Readings, row ${String(length + 1)} (membrane up)` },
    ]);
  });

  test('what is on one side only says so', () => {
    const [sheet] = document.sheets.slice(-1);
    expect(tell(after({ kind: 'remove-sheet', sheet: sheet?.id ?? '' }))).toMatchObject([
      {
        group: 'structure',
        what: 'only here',
        label: `Worksheet ${sheet?.title ?? ''}`,
        theirs: 'not there',
      },
    ]);
  });
});

test('against its own template a job shows none of its own figures, and every change of structure', () => {
  const job = newJob(document, { id: 'juniper-hollow', title: document.title });
  const own = mergeOf(undefined, job, document);
  expect(own.differences.length).toBeGreaterThan(100);
  expect(own.differences.filter((each) => !isJobData(each, own.pair))).toEqual([]);
  const changed = mergeOf(
    undefined,
    job,
    after(
      { kind: 'set-cell', cell: 'ach50', patch: { text: 'q50 / building_volume' } },
      { kind: 'set-cell', cell: 'target_ach50', patch: { text: '7', label: 'Target' } },
    ),
  );
  expect(changed.differences.filter((each) => !isJobData(each, changed.pair)).map(({ id }) => id)).toEqual([
    'cell:target_ach50#label',
    'cell:ach50#text',
  ]);
});
