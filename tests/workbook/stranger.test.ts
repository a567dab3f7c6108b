import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { readWorkbook, writeWorkbook } from '../../src/workbook/index.ts';
import {
  GROUND,
  openStrangeFiles,
  openText,
  sharedProperties,
  typeStrangeFormulas,
  workbookOf,
} from './stranger.ts';

function fileOf(items: string): string {
  return `{"app": "close-in", "format": 1, "title": "From a stranger", "sheets": [{"sections": [{"items": [${items}]}]}]}`;
}

describe('formulas and files by chance', () => {
  test('10,000 formulas: no exception, no hang, nothing planted', { timeout: 300_000 }, () => {
    const before = sharedProperties();
    const { states, total, slowest, slowestText } = typeStrangeFormulas(1, 10_000);
    // None takes as long as all the others together.
    expect(slowest, slowestText).toBeLessThan(total / 2);
    expect(sharedProperties()).toBe(before);
    // Were all refused at the first character, the rooms behind would not have been tried.
    for (const state of ['value', 'invalid', 'fault'])
      expect(states.get(state) ?? 0, state).toBeGreaterThan(50);
  });

  test('1,000 files: no exception, no hang, nothing planted', { timeout: 300_000 }, () => {
    const before = sharedProperties();
    const folder = new URL('../../templates/', import.meta.url);
    const sources = [
      GROUND,
      readFileSync(new URL('./file/frozen/format-1.json', import.meta.url), 'utf8'),
      ...readdirSync(folder)
        .filter((name) => name === 'air-test.json')
        .map((name) => readFileSync(new URL(name, folder), 'utf8')),
    ];
    const { states, total, slowest } = openStrangeFiles(1, 1_000, sources);
    expect(slowest).toBeLessThan(total / 2);
    expect(sharedProperties()).toBe(before);
    expect((Object.prototype as { polluted?: unknown }).polluted).toBeUndefined();
    for (const outcome of ['opened', 'not-json', 'wrong-shape'])
      expect(states.get(outcome) ?? 0, outcome).toBeGreaterThan(20);
  });
});

describe('made to be slow', () => {
  const cell = (name: string, text: string) => `{"kind": "cell", "name": "${name}", "text": "${text}"}`;

  test(
    'a chain of 100,000 cells is calculated, and an edit at its head runs through it',
    { timeout: 120_000 },
    () => {
      const cells = [cell('x0', '1')];
      for (let n = 1; n < 100_000; n++) cells.push(cell(`x${n}`, `x${n - 1} + 1`));
      const workbook = workbookOf(openText(fileOf(cells.join())));
      expect(workbook.state('x99999')).toMatchObject({ state: 'value', value: 100_000 });
      const head = workbook.document.sheets[0]?.sections[0]?.items[0]?.id ?? '';
      workbook.apply({ kind: 'set-cell', cell: head, patch: { text: '2' } });
      expect(workbook.state('x99999')).toMatchObject({ state: 'value', value: 100_001 });
      // A ring through all of them is told, not walked for ever.
      workbook.apply({ kind: 'set-cell', cell: head, patch: { text: 'x99999' } });
      expect(workbook.state('x0').state).not.toBe('value');
    },
  );

  test(
    'cells that each read the one before many times, and one that 20,000 read',
    { timeout: 120_000 },
    () => {
      const doubling = [cell('y0', '1 ± 0.1')];
      for (let n = 1; n < 60; n++)
        doubling.push(
          cell(
            `y${n}`,
            Array(40)
              .fill(`y${n - 1}`)
              .join(' + ') + ' - 39 * y0',
          ),
        );
      const fan = Array.from({ length: 20_000 }, (_, n) => cell(`z${n}`, 'y0 * 2'));
      // Worked out path by path it would never end.
      const workbook = workbookOf(openText(fileOf([...doubling, ...fan].join())));
      expect(workbook.state('z19999')).toMatchObject({ state: 'value', value: 2 });
      expect(['value', 'fault']).toContain(workbook.state('y59').state);
      workbook.budget('y59');
    },
  );

  test('9^9^9^9 and its like are faults at their cell', () => {
    const workbook = workbookOf(
      openText(fileOf([cell('p', '9^9^9^9'), cell('q', '1e300 * 1e300'), cell('r', 'p + 1')].join())),
    );
    expect(workbook.state('p').state).toBe('fault');
    expect(workbook.state('q').state).toBe('fault');
    expect(workbook.state('r').state).toBe('waiting');
  });

  test.each([
    [
      '200,001 cells',
      () => fileOf(Array.from({ length: 200_001 }, (_, n) => cell(`c${n}`, '1')).join()),
      '200,000',
    ],
    [
      '50,001 rows',
      () =>
        fileOf(
          `{"kind": "table", "name": "t", "columns": [{"name": "x"}], "rows": [${Array(50_001).fill('{}').join()}]}`,
        ),
      '50,000',
    ],
    [
      '201 columns',
      () =>
        fileOf(
          `{"kind": "table", "name": "t", "columns": [${Array.from({ length: 201 }, (_, n) => `{"name": "c${n}"}`).join()}]}`,
        ),
      '200',
    ],
    ['a formula of 10,001 characters', () => fileOf(cell('c', '1'.repeat(10_001))), '10,000'],
    [
      'brackets 65 deep',
      () => `{"app": "close-in", "format": 1, "x": ${'['.repeat(65)}${']'.repeat(65)}}`,
      '64',
    ],
  ])('%s are refused, and the limit is named', { timeout: 60_000 }, (_, make, limit) => {
    const result = readWorkbook(make());
    expect(result).not.toHaveProperty('document');
    expect((result as { expected: string }).expected).toContain(limit);
  });
});

describe('code and names', () => {
  test('the table of functions cannot be changed', () => {
    expect(Object.isFrozen(tradeFunctions)).toBe(true);
    for (const definition of tradeFunctions) expect(Object.isFrozen(definition), definition.name).toBe(true);
    const library = new FunctionLibrary(tradeFunctions);
    for (const word of ['__proto__', 'constructor', 'toString', 'eval'])
      expect(library.get(word), word).toBeUndefined();
  });

  test.each([
    'constructor.constructor("return 1")()',
    'eval("1")',
    'Function("return 1")()',
    'globalThis.x',
    'a.constructor',
    't.__proto__',
    'import("x")',
    'f(x) = x',
    'a = 5',
    '{"a": 1}.a',
    '[1,2][1]',
    '"x".constructor',
  ])('%s is refused as a formula', (formula) => {
    const workbook = workbookOf(openText(GROUND));
    workbook.apply({ kind: 'set-cell', cell: 'victim', patch: { text: formula } });
    expect(workbook.state('victim').state).toBe('invalid');
  });

  test.each(['__proto__', 'constructor', 'toString', 'аbc', 'flow\u200b', 'ab\u202ec', 'x y', '1st', 'a-b'])(
    'a cell, table or column of the name %j is refused',
    (name) => {
      const quoted = JSON.stringify(name);
      for (const items of [
        `{"kind": "cell", "name": ${quoted}, "text": "1"}`,
        `{"kind": "table", "name": ${quoted}, "columns": [{"name": "x"}]}`,
        `{"kind": "table", "name": "t", "columns": [{"name": ${quoted}}]}`,
      ])
        expect(readWorkbook(fileOf(items))).toHaveProperty('code', 'bad-name');
    },
  );

  // Words that mean something on a function, a promise or a text, but are no property of every object: fine names,
  // as long as nothing is ever looked up under them in an object that has a history of its own.
  const INNOCENT = ['prototype', 'then', 'toJSON', 'length', 'name', 'caller', 'callee', 'get', 'set'];

  test('names such as prototype are names like any other', async () => {
    const before = sharedProperties();
    const items = INNOCENT.flatMap((name, at) => [
      `{"kind": "cell", "id": "c${at}", "name": "${name}", "text": "${at + 1}"}`,
      `{"kind": "table", "id": "t${at}", "name": "${name}_t", "columns": [{"name": "${name}"}, {"name": "twice", "formula": "2 * ${name}"}], "rows": [{"${name}": "${at + 5}"}]}`,
      `{"kind": "cell", "id": "s${at}", "name": "${name}_sum", "text": "${name} + sum(${name}_t.${name})"}`,
    ]);
    const document = openText(fileOf(items.join()));
    const workbook = workbookOf(document);
    // A workbook is handed on through promises: a name may not make it one.
    expect(await Promise.resolve(document)).toBe(document);
    INNOCENT.forEach((name, at) => {
      expect(workbook.state(`${name}_sum`), name).toMatchObject({ state: 'value', value: 2 * at + 6 });
      expect(workbook.columnState(`${name}_t`, 'twice', 0), name).toMatchObject({ value: 2 * (at + 5) });
      expect(workbook.precedents(`${name}_sum`).sort(), name).toEqual([name, `${name}_t.${name}`].sort());
    });
    workbook.apply({ kind: 'rename', what: 'cell', id: 'c0', name: 'pilot' });
    expect(workbook.state('pilot')).toMatchObject({ value: 1 });
    expect(workbook.state('prototype_sum')).toMatchObject({ value: 6 });
    workbook.undo();
    expect(readWorkbook(writeWorkbook(workbook.document))).toEqual({
      ...readWorkbook(writeWorkbook(document)),
    });
    expect(sharedProperties()).toBe(before);
  });

  test('from no such name is there a way to the objects behind', () => {
    const workbook = workbookOf(
      openText(
        fileOf(
          '{"kind": "cell", "name": "prototype", "text": "1"}, {"kind": "cell", "id": "v", "name": "v", "text": "1"}',
        ),
      ),
    );
    for (const formula of [
      'prototype.constructor',
      'prototype.prototype',
      'prototype.__proto__.polluted',
      'sqrt.prototype',
      'sqrt.prototype.constructor("return 1")',
    ]) {
      workbook.apply({ kind: 'set-cell', cell: 'v', patch: { text: formula } });
      expect(workbook.state('v').state, formula).toBe('invalid');
    }
  });
});
