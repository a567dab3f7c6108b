import { expect, test } from 'vitest';
import { gridCommand, type Key } from '../../../src/face/worksheet/grid-keys.ts';

function press(keys: string): ReturnType<typeof gridCommand> {
  const parts = keys.split('+');
  const key = parts.at(-1) ?? '';
  const held = new Set(parts.slice(0, -1));
  const event: Key = {
    key: key === 'Plus' ? '+' : key,
    ctrlKey: held.has('Control'),
    metaKey: held.has('Meta'),
    shiftKey: held.has('Shift'),
    altKey: held.has('Alt'),
  };
  return gridCommand(event);
}

// WAI-ARIA Authoring Practices Guide, grid pattern, keyboard interaction for data grids.
test('arrows move one cell, with Shift they extend the selection', () => {
  expect(press('ArrowRight')).toEqual({ kind: 'move', rows: 0, columns: 1, extend: false });
  expect(press('ArrowLeft')).toEqual({ kind: 'move', rows: 0, columns: -1, extend: false });
  expect(press('ArrowDown')).toEqual({ kind: 'move', rows: 1, columns: 0, extend: false });
  expect(press('Shift+ArrowUp')).toEqual({ kind: 'move', rows: -1, columns: 0, extend: true });
});

test('Home and End go to the ends of the row, with Control to the ends of the table', () => {
  expect(press('Home')).toEqual({ kind: 'jump', column: 'first', extend: false });
  expect(press('End')).toEqual({ kind: 'jump', column: 'last', extend: false });
  expect(press('Control+Home')).toEqual({ kind: 'jump', row: 'first', column: 'first', extend: false });
  expect(press('Control+End')).toEqual({ kind: 'jump', row: 'last', column: 'last', extend: false });
  expect(press('Control+Shift+End')).toEqual({ kind: 'jump', row: 'last', column: 'last', extend: true });
});

test('PageUp and PageDown move by a page', () => {
  expect(press('PageDown')).toEqual({ kind: 'page', direction: 1, extend: false });
  expect(press('Shift+PageUp')).toEqual({ kind: 'page', direction: -1, extend: true });
});

test('Enter and F2 edit, a character begins an edit with itself, Delete clears', () => {
  expect(press('Enter')).toEqual({ kind: 'edit' });
  expect(press('F2')).toEqual({ kind: 'edit' });
  expect(press('-')).toEqual({ kind: 'type', text: '-' });
  expect(press('Shift+Plus')).toEqual({ kind: 'type', text: '+' });
  expect(press('½')).toEqual({ kind: 'type', text: '½' });
  expect(press('Delete')).toEqual({ kind: 'rows', id: 'clear' });
});

test('rows come and go by key', () => {
  expect(press('Control+Enter')).toEqual({ kind: 'rows', id: 'below' });
  expect(press('Control+Shift+Enter')).toEqual({ kind: 'rows', id: 'above' });
  expect(press('Meta+Delete')).toEqual({ kind: 'rows', id: 'remove' });
  expect(press('Control+d')).toEqual({ kind: 'rows', id: 'fill down' });
  expect(press('Control+Shift+D')).toEqual({ kind: 'rows', id: 'duplicate' });
  expect(press('Alt+ArrowUp')).toEqual({ kind: 'rows', id: 'up' });
  expect(press('Alt+ArrowDown')).toEqual({ kind: 'rows', id: 'down' });
});

test('Space selects: with Shift the row, with Control the column; Control and A all', () => {
  expect(press('Shift+ ')).toEqual({ kind: 'select', what: 'row' });
  expect(press('Control+ ')).toEqual({ kind: 'select', what: 'column' });
  expect(press('Control+a')).toEqual({ kind: 'select', what: 'all' });
  expect(press('Escape')).toEqual({ kind: 'deselect' });
  expect(press('Shift+F10')).toEqual({ kind: 'menu' });
  expect(press('ContextMenu')).toEqual({ kind: 'menu' });
});

test('Tab and the browser’s own keys stay with the browser', () => {
  for (const keys of ['Tab', 'F5', 'Control+c', 'Control+v', 'Control+z', 'Alt+ArrowLeft', 'Shift']) {
    expect(press(keys), keys).toBeUndefined();
  }
});
