import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { textParts } from '../../src/workbook/live-text.ts';
import { readWorkbook, Workbook } from '../../src/workbook/index.ts';

function opened(items: readonly unknown[], note = '') {
  const file = {
    app: 'close-in',
    format: 1,
    sheets: [{ title: 'S', sections: [{ id: 'sec', title: 'P', note, items }] }],
  };
  const read = readWorkbook(JSON.stringify(file));
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  return new Workbook(read.document, new FunctionLibrary([]));
}
const prose = (text: string, id = 'letter') => ({ kind: 'prose', id, text });
const cell = (name: string, text: string, more = {}) => ({ kind: 'cell', name, text, ...more });
const tests = {
  kind: 'table',
  name: 'tests',
  columns: [
    { name: 'stage', type: 'text' },
    { name: 'flow', unit: 'cfm' },
  ],
  rows: [{ stage: 'after sealing', flow: '310' }],
};
const textOf = (workbook: Workbook, id = 'letter') =>
  workbook.document.sheets[0]!.sections[0]!.items.find((item) => item.id === id);

describe('a text is words, and names in braces', () => {
  test.each([
    ['It leaks.', [{ kind: 'words', text: 'It leaks.' }]],
    ['{ach50}', [{ kind: 'name', name: 'ach50', start: 1, end: 6 }]],
    [
      'a { fit.exponent } b',
      [
        { kind: 'words', text: 'a ' },
        { kind: 'name', name: 'fit.exponent', start: 4, end: 16 },
        { kind: 'words', text: ' b' },
      ],
    ],
    ['{{ach50}', [{ kind: 'words', text: '{ach50}' }]],
    ['a } b', [{ kind: 'words', text: 'a } b' }]],
  ])('%s', (text, parts) => {
    expect(textParts(text)).toEqual(parts);
  });

  test.each([
    ['{ach50', /no closing brace/],
    ['{}', /Nothing stands/],
    ['{q50 / volume}', /not the name of a cell/],
    ['{a.b.c}', /not the name of a cell/],
    ['{a\nb}', /no closing brace/],
  ])('%s says what is wrong at its place', (text, message) => {
    const faulty = textParts(text).find((part) => part.kind === 'faulty');
    expect(faulty?.message).toMatch(message);
    expect(faulty?.suggestion).toContain('{{');
    // Nothing of what was typed is lost on the way.
    expect(
      textParts(text)
        .map((part) => (part.kind === 'name' ? `{${part.name}}` : part.text))
        .join(''),
    ).toBe(text);
  });
});

describe('names in texts are followed', () => {
  test('an unknown name is a fault with the name that may be meant', () => {
    const workbook = opened([cell('ach50', '0.5'), prose('It is {ahc50}.')]);
    expect(workbook.faults()).toEqual([
      {
        where: 'letter',
        label: 'text “It is {ahc50}.”',
        message: 'Nothing is named ahc50. Did you mean {ach50}?',
        inText: true,
      },
    ]);
    expect(workbook.textFault('ach50')).toBeUndefined();
    expect(workbook.textFault('ahc50')).toMatchObject({ replacement: 'ach50' });
  });

  test('a table, a column that is not there and a part that is not there are told apart', () => {
    const workbook = opened([tests, cell('ach50', '0.5')]);
    expect(workbook.textFault('tests')?.message).toBe('tests is a table.');
    expect(workbook.textFault('tests.stage')).toBeUndefined();
    expect(workbook.textFault('tests.stag')).toMatchObject({ replacement: 'tests.stage' });
    expect(workbook.textFault('ach50.exponent')?.message).toBe('ach50 has no part named exponent.');
  });

  test('renaming a cell rewrites prose and notes in the same step, and one undo brings all back', () => {
    const workbook = opened(
      [
        cell('ach50', '0.5'),
        cell('other', 'ach50 * 2', { note: 'twice {ach50}' }),
        prose('ach50 is { ach50 }, and {{ach50} stays.'),
        { ...tests, note: 'see {ach50}', rows: [{ $id: 'r1', stage: 'x', $note: 'was {ach50}' }] },
      ],
      'The section reads {ach50}.',
    );
    const before = workbook.document;
    workbook.apply({ kind: 'rename', what: 'cell', id: 'ach50', name: 'changes_50' });
    const text = JSON.stringify(workbook.document);
    expect(textOf(workbook)).toMatchObject({ text: 'ach50 is { changes_50 }, and {{ach50} stays.' });
    for (const part of ['twice {changes_50}', 'see {changes_50}', 'was {changes_50}', 'reads {changes_50}.'])
      expect(text).toContain(part);
    expect(workbook.faults()).toEqual([]);
    workbook.undo();
    expect(workbook.document).toEqual(before);
  });

  test('renaming a column and a table rewrites texts too', () => {
    const workbook = opened([tests, prose('{tests.stage}')]);
    workbook.apply({ kind: 'rename', what: 'column', table: 'tests', id: 'stage', name: 'phase' });
    expect(textOf(workbook)).toMatchObject({ text: '{tests.phase}' });
    workbook.apply({ kind: 'rename', what: 'table', id: 'tests', name: 'runs' });
    expect(textOf(workbook)).toMatchObject({ text: '{runs.phase}' });
  });

  test('a text stands among what reads a cell, and a removed cell leaves a message in it', () => {
    const workbook = opened([cell('ach50', '0.5'), prose('It is {ach50}.')]);
    expect(workbook.textsNaming('ach50').map(({ id, label }) => [id, label])).toEqual([
      ['letter', 'text “It is {ach50}.”'],
    ]);
    expect(workbook.textsNaming('ach5')).toEqual([]);
    workbook.apply({ kind: 'remove-item', item: 'ach50' });
    expect(workbook.faults().map(({ message }) => message)).toEqual([
      'Nothing is named ach50. Type { and choose a name from the list.',
    ]);
    workbook.undo();
    expect(workbook.faults()).toEqual([]);
  });

  test('completion in a text offers cells and columns, no functions and no tables', () => {
    const workbook = opened([tests, cell('tested_on', '1')]);
    const names = (prefix: string) => workbook.complete(prefix, { text: 'letter' }).map(({ name }) => name);
    expect(names('te')).toEqual(['tested_on']);
    expect(names('tests.')).toEqual(['tests.flow', 'tests.stage']);
    expect(names('su')).toEqual([]);
  });
});
