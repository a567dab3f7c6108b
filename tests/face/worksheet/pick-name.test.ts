import { expect, test } from 'vitest';
import { withName } from '../../../src/face/worksheet/pick-name.ts';

const put = (text: string, empty = false) => withName(text, text.length, 'q50', undefined, empty)?.text;

test.each(['a + ', 'max(', 'max(a, ', '=', 'a < ', 'a ? ', 'a ? b : ', 'not ', 'a and', '2 ft * '])(
  'a name can stand behind “%s”',
  (text) => {
    expect(put(text)).toBe(`${text}q50`);
  },
);

test.each(['1.2', 'a', '1.2 ft', 'max(a)', 'band', ''])('none can stand behind “%s”', (text) => {
  expect(put(text)).toBeUndefined();
});

test('in an empty text only where nothing but a formula can stand', () => {
  expect(put('', true)).toBe('q50');
});

test('the next name takes the place of the one just put in', () => {
  const first = withName('a + ', 4, 'q50', undefined, false);
  expect(first).toEqual({ text: 'a + q50', start: 4, end: 7 });
  expect(withName('a + q50', 7, 'ach50', first, false)?.text).toBe('a + ach50');
});
