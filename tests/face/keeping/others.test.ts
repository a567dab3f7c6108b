import { expect, test } from 'vitest';
import { otherFrom } from '../../../src/face/keeping/others.ts';

const file = (format: number) =>
  JSON.stringify({ app: 'close-in', format, title: 'Job', units: 'us', sheets: [] });

test('a workbook of this format can be compared with', () => {
  expect(otherFrom('theirs.json', file(1))).toMatchObject({
    title: 'theirs.json',
    document: { title: 'Job' },
  });
});

test('one of a newer format is not compared with or taken from: what is new in it would seem taken out', () => {
  expect(otherFrom('newer.json', file(2))).toEqual({
    problem: expect.stringMatching(
      /^newer\.json was not opened: a newer Close-in saved it.*Load this page again/,
    ) as string,
  });
});
