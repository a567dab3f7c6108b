import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { headlineOf } from '../../src/face/headline.ts';
import type { Session } from '../../src/face/session.svelte.ts';
import type { Cell } from '../../src/workbook/document.ts';
import { Workbook } from '../../src/workbook/workbook.ts';

const cell = (name: string, text: string, more: Partial<Cell> = {}): Cell => ({
  kind: 'cell',
  id: name,
  name,
  label: '',
  type: 'number',
  text,
  unit: '1/h',
  note: '',
  ...more,
});

function wordWith(second: string, result = '1.0'): string | undefined {
  const items = [
    cell('result', result),
    cell('first', '1.2'),
    cell('second', second),
    cell('left', 'first - result'),
    cell('together', '= result <= second ? "met" : "disagree"', { type: 'text', unit: '', settled: ['met'] }),
  ];
  const sections = [{ id: 's', title: '', note: '', items }];
  const workbook = new Workbook(
    { title: 'Test', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] },
    new FunctionLibrary([]),
  );
  const session = {
    system: 'us',
    titleBlock: { result: 'result', target: 'first', margin: 'left', says: 'targets: {together}' },
    workbook,
    standing: (name: string) => ({ item: items.find((each) => each.name === name) }),
    state: workbook.state.bind(workbook),
    label: (name: string) => name,
    sampled: () => undefined,
    version: () => 0,
    column: () => undefined,
  } as unknown as Session;
  return headlineOf(session)?.margin.word;
}

test('one target met is not said to be met while another cannot be told', () => {
  expect(wordWith('1.1')).toBe('met');
  expect(wordWith('0.9')).toBe('targets: disagree');
  expect(wordWith('1.1 Pa')).toBe('not all known');
  expect(wordWith('1.1 Pa', '1.3')).toBe('not met');
  // No second target was asked for.
  expect(wordWith('')).toBe('met');
});
