import { expect, test } from 'vitest';
import { callAt } from '../../../src/face/worksheet/call-at.ts';

/** The caret stands where the bar is. */
function at(marked: string) {
  return callAt(marked.replace('|', ''), marked.indexOf('|'));
}

test.each([
  ['max(|', 'max', 0],
  ['max(a, |', 'max', 1],
  ['max(a, b|, c)', 'max', 1],
  ['max(min(a, b), |', 'max', 1],
  ['max(min(a, |b))', 'min', 1],
  ['max((a + b|))', 'max', 0],
  ['lookup(t.a, t.b, "x, (y")|', undefined, undefined],
  ['lookup(t.a, t.b, "x, |', 'lookup', 2],
  ['max(3", |', 'max', 1],
  ['(a + |b)', undefined, undefined],
  ['max(a) + |', undefined, undefined],
  ['|max(a)', undefined, undefined],
] as const)('%s', (marked, name, argument) => {
  expect(at(marked)).toEqual(name === undefined ? undefined : { name, argument });
});
