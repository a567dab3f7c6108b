import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inspectJson, lineAndCharacter } from '../../../src/workbook/file/json.ts';

function accepts(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

/** JSON text with a few characters put in, taken out or changed. */
const mangled = fc
  .tuple(
    fc.oneof(
      fc.json(),
      fc.jsonValue().map((value) => JSON.stringify(value, null, 2)),
    ),
    fc.array(
      fc.record({
        at: fc.nat(200),
        cut: fc.nat(2),
        put: fc.constantFrom(
          '',
          '"',
          '\\',
          '{',
          '}',
          '[',
          ']',
          ',',
          ':',
          '0',
          '-',
          '.',
          'e',
          't',
          '\n',
          '\u0001',
          '\\u12',
          ' ',
        ),
      }),
      { maxLength: 3 },
    ),
  )
  .map(([text, changes]) =>
    changes.reduce((current, { at, cut, put }) => {
      const place = at % (current.length + 1);
      return current.slice(0, place) + put + current.slice(place + cut);
    }, text),
  );

describe('looking at JSON before parsing it', () => {
  test('agrees with JSON.parse on what is JSON', () => {
    let refused = 0;
    fc.assert(
      fc.property(mangled, (text) => {
        const problem = inspectJson(text, 1000);
        if (problem?.code === 'duplicate-key') return;
        if (problem) refused++;
        expect(problem === undefined).toBe(accepts(text));
      }),
      { numRuns: 5000 },
    );
    expect(refused).toBeGreaterThan(500);
  });

  test.each([
    ['', 0, 'nothing', 'a value: text in double quotes, a number, true, false, null, { or ['],
    ['{"a": 1,}', 8, '“}”', 'a key in double quotes'],
    ["{'a': 1}", 1, "“'a': 1}”", 'a key in double quotes'],
    ['[1 2]', 3, '“2]”', 'a comma or ]'],
    ['{"a" 1}', 5, '“1}”', 'a colon'],
    ['{"a": "b', 8, 'the end of the file', 'the rest of a text'],
    ['{"a', 3, 'the end of the file', 'the rest of a key'],
    ['["a\tb"]', 3, '“\tb"]”', 'the rest of a text'],
    ['[01]', 2, '“1]”', 'a comma or ]'],
    ['{} {}', 3, '“{}”', 'the end of the file'],
  ])('%j', (text, at, found, expected) => {
    expect(inspectJson(text, 10)).toEqual({ code: 'not-json', at, found, expected });
  });

  test.each([
    '{"a": 1, "b": 2, "a": 3}',
    '{"a": 1, "\\u0061": 3}',
    '[{"x": {"a": [], "a": 1}}]',
    '{"__proto__": 1, "__proto__": 2}',
  ])('finds the key that stands twice in %s', (text) => {
    expect(inspectJson(text, 10)?.code).toBe('duplicate-key');
  });

  test('the same key in another object is no duplicate', () => {
    expect(inspectJson('{"a": {"a": 1}, "b": [{"a": 1}, {"a": 2}]}', 10)).toBeUndefined();
  });

  test('nesting is counted, however deep, without running out of stack', () => {
    expect(inspectJson('[[[]]]', 3)).toBeUndefined();
    expect(inspectJson('[[[[]]]]', 3)).toMatchObject({ code: 'too-deep', at: 3 });
    expect(inspectJson('['.repeat(2_000_000), Number.POSITIVE_INFINITY)?.code).toBe('not-json');
  });

  test('a place is told as line and character', () => {
    expect(lineAndCharacter('ab\ncd\n\nef', 8)).toBe('line 4, character 2');
    expect(lineAndCharacter('ab', 0)).toBe('line 1, character 1');
  });
});
