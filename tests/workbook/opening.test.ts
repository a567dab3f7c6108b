/** A workbook that opens in stages shows at every stage what one that was opened at once shows. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import type { Edit, WorkbookDocument } from '../../src/workbook/index.ts';
import { readWorkbook } from '../../src/workbook/file/read.ts';
import { itemsOf, tablesOf } from '../../src/workbook/locate.ts';
import { Workbook, type ChangeSet } from '../../src/workbook/workbook.ts';
import { anyDocument } from './arbitrary-document.ts';
import { anyWishes, editFor } from './arbitrary-edit.ts';
import { statesOf } from './states.ts';

const TEMPLATES = new URL('../../templates/', import.meta.url);
const files = readdirSync(TEMPLATES).filter((file) => file.endsWith('.json'));

function textOf(file: string): string {
  return readFileSync(new URL(file, TEMPLATES), 'utf8');
}

function documentOf(file: string): WorkbookDocument {
  const opened = readWorkbook(textOf(file));
  if ('code' in opened) throw new Error(opened.found);
  return opened.document;
}

function atOnce(document: WorkbookDocument): Workbook {
  return new Workbook(document, new FunctionLibrary(tradeFunctions));
}

function inStages(document: WorkbookDocument): Workbook {
  return new Workbook(document, new FunctionLibrary(tradeFunctions), true);
}

/** Until all is there; how many stages that took. */
function proceeded(workbook: Workbook): number {
  let stages = 0;
  while (!workbook.proceed()) stages++;
  return stages;
}

function expectSame(workbook: Workbook): void {
  const whole = atOnce(workbook.document);
  expect(statesOf(workbook)).toEqual(statesOf(whole));
  expect(workbook.faults()).toEqual(whole.faults());
}

/** An edit of one row. */
function entry(document: WorkbookDocument, name: string, column: string, row: number, text: string): Edit {
  const table = [...tablesOf(document)].find((each) => each.name === name);
  const to = table?.columns.find((each) => each.name === column);
  const at = table?.rows[row];
  if (!table || !to || !at) throw new Error(`no row ${row} in ${name}.${column}`);
  return { kind: 'set-entries', table: table.id, entries: [{ row: at.id, column: to.id, text }] };
}

describe.each(files)('%s', (file) => {
  const document = documentOf(file);
  const whole = statesOf(atOnce(document));

  test('the first worksheet and the title block are as in the whole, and ask for nothing else', () => {
    const workbook = inStages(document);
    const items = document.sheets[0]?.sections.flatMap((section) => section.items) ?? [];
    for (const [name, states] of statesOf(workbook, items)) expect(states, name).toEqual(whole.get(name));
    const { says: _says, ...roles } = document.titleBlock ?? {};
    for (const name of Object.values(roles)) expect([workbook.state(name)], name).toEqual(whole.get(name));
    expect(proceeded(workbook)).toBe(proceeded(inStages(document)));
  });

  test('so is all of it in the end, of which the listeners hear once', () => {
    const workbook = inStages(document);
    const heard: ChangeSet[] = [];
    workbook.subscribe((changes) => heard.push(changes));
    const isSmall = workbook.isWhole;
    proceeded(workbook);
    expect(workbook.isWhole).toBe(true);
    expect(workbook.canUndo).toBe(false);
    expect(heard).toHaveLength(isSmall ? 0 : 1);
    expectSame(workbook);
  });

  test('whoever asks for the last things first gets them', () => {
    const workbook = inStages(document);
    const backwards = new Map([...itemsOf(document)].reverse().map((item) => [item.id, item]));
    expect(statesOf(workbook, backwards.values())).toEqual(whole);
  });

  test('it has no name that only a foreign file may have, for which nobody looks in what comes with the program', () => {
    expect(atOnce(document).reservedNames()).toEqual([]);
  });
});

describe('the demo, while it opens', () => {
  const document = documentOf('juniper-hollow.json');

  test('has stages', () => {
    expect(proceeded(inStages(document))).toBeGreaterThan(3);
  });

  test('answers a reading without the rest, which then knows of it', () => {
    const workbook = inStages(document);
    const before = workbook.state('ach50');
    // The first row of the test that is shown.
    const typed = entry(document, 'readings', 'house_pressure', 18, '-40.5');
    expect(workbook.apply(typed)).not.toHaveProperty('problem');
    expect(workbook.state('ach50')).not.toEqual(before);
    expect(workbook.isWhole).toBe(false);
    expect(workbook.undo()).toBeDefined();
    expect(workbook.state('ach50')).toEqual(before);
    expect(workbook.redo()).toBeDefined();
    expect(proceeded(workbook)).toBeGreaterThan(3);
    expectSame(workbook);
  });

  test('takes an entry of a column that is not there yet', () => {
    const workbook = inStages(document);
    for (const edit of [
      entry(document, 'rooms', 'crown', 0, ''),
      entry(document, 'envelope_surfaces', 'assembly', 0, ''),
    ])
      expect(workbook.apply(edit)).not.toHaveProperty('problem');
    expect(proceeded(workbook)).toBeGreaterThan(3);
    expectSame(workbook);
  });

  test('takes any other edit with all of it there', () => {
    const workbook = inStages(document);
    const [sheet] = document.sheets;
    workbook.apply({ kind: 'set-sheet', sheet: sheet?.id ?? '', patch: { title: 'Another title' } });
    expect(workbook.dependents('building_volume').length).toBeGreaterThan(5);
    expect(workbook.proceed()).toBe(true);
    expectSame(workbook);
  });
});

describe('any workbook, edited between the stages', () => {
  test('shows what a fresh one shows', { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(anyDocument, anyWishes, fc.array(fc.nat(3)), (start, wishes, pauses) => {
        const workbook = inStages(start);
        wishes.forEach((wish, at) => {
          for (let n = 0; n < (pauses[at] ?? 0); n++) workbook.proceed();
          workbook.apply(editFor(workbook.document, wish));
        });
        expectSame(workbook);
        proceeded(workbook);
        expectSame(workbook);
        while (workbook.canUndo) workbook.undo();
        expect(statesOf(workbook)).toEqual(statesOf(atOnce(start)));
      }),
      { numRuns: 100 },
    );
  });
});
