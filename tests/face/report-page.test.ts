import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { fingerprint, pageRule, quoted } from '../../src/face/print/page.ts';

test('a title cannot end the string of a page’s running head', () => {
  expect(quoted('a "b" \\ c')).toBe(String.raw`"a \"b\" \\ c"`);
  expect(quoted('one\ntwo\u0000three')).toBe('"one two three"');
  const rule = pageRule('A4', { job: '"; } body { display: none', date: 'today', file: 'x' });
  expect(rule).toContain(String.raw`content: "\"; } body { display: none";`);
  expect(rule).toContain('size: A4');
});

test('the fingerprint of a file is the head of its SHA-256', async () => {
  // FIPS 180-4, its example "abc": ba7816bf 8f01cfea …
  expect(await fingerprint('abc')).toBe('ba7816bf8f01cfea');
  const text = '{"title": "Größe"}';
  expect(await fingerprint(text)).toBe(createHash('sha256').update(text).digest('hex').slice(0, 16));
});
