import { describe, expect, test } from 'vitest';
import { KEY_GROUPS } from '../../../src/face/reference/keys.ts';
import { gridCommand } from '../../../src/face/worksheet/grid-keys.ts';
import { ROW_COMMANDS } from '../../../src/face/worksheet/row-commands.ts';

const NAMES: Readonly<Record<string, string>> = {
  '↑': 'ArrowUp',
  '↓': 'ArrowDown',
  '←': 'ArrowLeft',
  '→': 'ArrowRight',
  Space: ' ',
  'Page Up': 'PageUp',
  'Page Down': 'PageDown',
};

/** Those that the browser's clipboard or an open editor answers. */
const ELSEWHERE = new Set(['Ctrl C', 'Ctrl X', 'Ctrl V', 'Tab']);

function pressed(written: string) {
  const held = /^(?:(?:Ctrl|Shift|Alt) )*/u.exec(written)?.[0] ?? '';
  const name = written.slice(held.length);
  const key = NAMES[name] ?? (name.length === 1 ? name.toLowerCase() : name);
  return {
    key,
    ctrlKey: held.includes('Ctrl'),
    shiftKey: held.includes('Shift'),
    altKey: held.includes('Alt'),
    metaKey: false,
  };
}

const table = KEY_GROUPS.find(({ where }) => where === 'In a table')?.keys ?? [];

describe('the list of keys', () => {
  test.each(table.flatMap(([keys]) => keys.filter((written) => !ELSEWHERE.has(written))))(
    'a table answers %s',
    (written) => {
      expect(gridCommand(pressed(written))).toBeDefined();
    },
  );

  test('names every command of rows that has a key, in the words of the menu', () => {
    for (const { keys, words } of ROW_COMMANDS)
      if (keys !== '') expect(table).toContainEqual([[keys], words(1)]);
  });

  test('says nothing twice in one place', () => {
    for (const { where, keys } of KEY_GROUPS) {
      const said = keys.map(([, does]) => does);
      expect(new Set(said).size, where).toBe(said.length);
    }
  });
});
