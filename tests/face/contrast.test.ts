import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

/** Contrast as WCAG 2.2 defines it (success criterion 1.4.3, relative luminance of sRGB). */
function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

function luminance(color: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(color.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

const css = readFileSync(new URL('../../src/face/theme.css', import.meta.url), 'utf8');

function tokens(selector: string): Map<string, string> {
  const start = css.indexOf(`${selector} {`);
  expect(start, selector).toBeGreaterThanOrEqual(0);
  const block = css.slice(start, css.indexOf('}', start));
  return new Map(
    [...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map(([, name = '', value = '']) => [name, value]),
  );
}

const light = tokens(':root');
const dark = tokens(":root[data-theme='dark']");
const print = new Map([...light, ...tokens(':root:root:root')]);

test('black on white and white on black are 21:1', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
});

test('the device’s dark and the chosen dark are one', () => {
  expect(tokens(":root:not([data-theme='light'])")).toEqual(dark);
  expect([...dark.keys()]).toEqual([...light.keys()]);
});

const GROUNDS = ['paper', 'sheet', 'chalk-wash'];
const PAIRS: [text: string, ground: string][] = [
  ...['ink', 'soft', 'chalk', 'ok', 'hold', 'fault'].flatMap((text) =>
    GROUNDS.map((ground): [string, string] => [text, ground]),
  ),
  ['ok', 'ok-wash'],
  ['hold', 'hold-wash'],
  ['fault', 'fault-wash'],
  ['ink', 'fault-wash'],
  ['paper', 'ink'],
  ['sheet', 'chalk'],
];

for (const [name, theme] of Object.entries({ light, dark, print })) {
  test(`every text can be read in ${name}`, () => {
    const weak = PAIRS.map(([text, ground]) => ({
      pair: `${text} on ${ground}`,
      ratio: contrast(theme.get(text) ?? '#000000', theme.get(ground) ?? '#000000'),
    })).filter(({ ratio }) => ratio < 4.5);
    expect(weak).toEqual([]);
  });
}
