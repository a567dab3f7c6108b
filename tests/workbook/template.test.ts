import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  askedOf,
  asTemplate,
  columnTick,
  hasInputs,
  itemsOf,
  newJob,
  readWorkbook,
  templateVersion,
  writeWorkbook,
  type Cell,
  type Table,
  type WorkbookDocument,
} from '../../src/workbook/index.ts';
import { anyDocument } from './arbitrary-document.ts';

const cell = (name: string, text: string, more: Partial<Cell> = {}): Cell => ({
  kind: 'cell',
  id: name,
  name,
  label: name,
  type: 'number',
  text,
  unit: '',
  note: '',
  ...more,
});

const rooms: Table = {
  kind: 'table',
  id: 'rooms',
  name: 'rooms',
  label: 'Rooms',
  note: '',
  input: true,
  columns: [{ id: 'room', name: 'room', label: 'Room', type: 'text', unit: '', note: '' }],
  rows: [{ id: 'r1', entries: { room: 'kitchen' }, note: 'seen' }],
};
const checks: Table = {
  ...rooms,
  id: 'checks',
  name: 'checks',
  label: 'Checks',
  input: false,
  columns: [
    { id: 'step', name: 'step', label: 'Step', type: 'text', unit: '', note: '' },
    { id: 'done', name: 'done', label: 'Done', type: 'text', unit: '', input: true, note: '' },
  ],
  rows: [{ id: 'r1', entries: { step: 'close the flue', done: 'yes' }, note: 'asked twice' }],
};
const template: WorkbookDocument = {
  title: 'Air test',
  about: 'For tests',
  units: 'us',
  scenarios: [{ id: 's', name: 'smaller', note: '', overrides: [{ cell: 'volume', text: '5 ft3' }] }],
  compared: ['rate'],
  sheets: [
    {
      id: 'sheet',
      title: 'Air test',
      note: '',
      sections: [
        {
          id: 'facts',
          title: 'Facts',
          note: '',
          items: [
            cell('volume', '20,000 ft3', { input: true, note: 'from the drawings' }),
            cell('exponent', '0.65'),
            cell('rate', 'volume / 2'),
            cell('shown', 'kitchen', { type: 'choice', choices: 'rooms.room' }),
            rooms,
            checks,
          ],
        },
      ],
    },
  ],
};
const origin = { id: 'air-test', title: 'Air test' };
const item = (document: WorkbookDocument, id: string) =>
  [...itemsOf(document)].find((each) => each.id === id);

describe('a new job', () => {
  const job = newJob(template, origin);

  test('has nothing of the old one: marked cells, tables and columns are blank, and so is what was chosen of them', () => {
    expect(item(job, 'volume')).toMatchObject({ text: '', input: true, note: 'from the drawings' });
    expect(item(job, 'rooms')).toMatchObject({ rows: [] });
    expect(item(job, 'shown')).toMatchObject({ text: '' });
    expect(item(job, 'checks')).toMatchObject({ rows: [{ id: 'r1', entries: { step: 'close the flue' } }] });
    expect(job.scenarios).toBeUndefined();
    expect(job.about).toBeUndefined();
  });

  test('keeps everything else, and knows its template and its version', () => {
    expect(item(job, 'exponent')).toBe(item(template, 'exponent'));
    expect(item(job, 'rate')).toBe(item(template, 'rate'));
    expect(job.compared).toEqual(['rate']);
    expect(job.template).toEqual({ ...origin, version: templateVersion(template) });
    const opened = readWorkbook(writeWorkbook(job));
    expect('document' in opened && opened.document.template).toEqual(job.template);
  });

  test('asks for what is marked, section by section', () => {
    expect(hasInputs(template)).toBe(true);
    const [section, ...rest] = askedOf(template);
    expect(rest).toEqual([]);
    expect(section?.cells.map(({ name }) => name)).toEqual(['volume']);
    expect(
      section?.tables.map(({ table, columns }) => [table.name, columns.map(({ name }) => name)]),
    ).toEqual([
      ['rooms', []],
      ['checks', ['done']],
    ]);
  });
});

describe('the version of a template', () => {
  test('stays when only its example changes, and changes with a formula', () => {
    const other = (change: (cell: Cell) => Cell): WorkbookDocument => ({
      ...template,
      sheets: template.sheets.map((sheet) => ({
        ...sheet,
        sections: sheet.sections.map((section) => ({
          ...section,
          items: section.items.map((each) => (each.kind === 'cell' ? change(each) : each)),
        })),
      })),
    });
    const example = other((each) => (each.name === 'volume' ? { ...each, text: '9 ft3' } : each));
    const formula = other((each) => (each.name === 'rate' ? { ...each, text: 'volume / 3' } : each));
    expect(templateVersion(example)).toBe(templateVersion(template));
    expect(templateVersion(formula)).not.toBe(templateVersion(template));
  });

  test('any document’s job has the version of its template, and a job of that job the same', () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        const job = newJob(document, origin);
        expect(job.template?.version).toBe(templateVersion(document));
        expect(templateVersion(job)).toBe(templateVersion(document));
        expect(newJob(job, origin)).toEqual(job);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a job saved as a template', () => {
  test('marks what is ticked, empties it, and leaves out what the person wants gone', () => {
    const made = asTemplate(newJob(template, origin), {
      title: 'Ours',
      about: 'With our limits',
      inputs: new Set(['volume', 'exponent', columnTick(checks, checks.columns[1] ?? checks.columns[0]!)]),
      clearNotes: true,
      clearRowNotes: true,
    });
    expect(made).toMatchObject({ title: 'Ours', about: 'With our limits' });
    expect(made.template).toBeUndefined();
    expect(item(made, 'volume')).toMatchObject({ text: '', note: '', input: true });
    expect(item(made, 'exponent')).toMatchObject({ text: '', input: true });
    expect(item(made, 'rate')).toMatchObject({ text: 'volume / 2' });
    expect(item(made, 'rooms')).not.toHaveProperty('input');
    const [row] = (item(made, 'checks') as Table).rows;
    expect(row).toEqual({ id: 'r1', entries: { step: 'close the flue' } });
  });

  test('notes stay where they are not to go', () => {
    const wish = {
      title: 'T',
      about: '',
      inputs: new Set(['volume']),
      clearNotes: false,
      clearRowNotes: false,
    };
    const made = asTemplate(template, wish);
    expect(item(made, 'volume')).toMatchObject({ note: 'from the drawings' });
    expect((item(made, 'checks') as Table).rows[0]?.note).toBe('asked twice');
  });
});
